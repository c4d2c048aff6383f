// draft-page.js: a page with a draft: every change is kept before it is shown, and a phone that cannot keep it says so.
import { keepDraft } from './documents.js';

export class DraftPage {
  constructor(screen, key) { Object.assign(this, { screen, key, lost: '', error: '' }); }

  /** Change the draft: kept and shown, in this order. */
  async changed(change) {
    change();
    this.error = '';
    this.keeping = keepDraft(this.key, this.draft).then(
      () => {
        this.lost = '';
      },
      () => {
        this.lost = 'This phone could not keep what was entered. Free some space before you go on.';
      },
    );
    await this.keeping;
    this.show();
  }
}
