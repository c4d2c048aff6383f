// round-photos.js: the photos of a round's items while it is walked. An answer carries them, even before it is given.
import { Photos } from './photo-form.js';

export class RoundPhotos {
  /** `page`: a round with its draft (`id`, `answers` by key), `before` (last answers by key), `show()` and `keep()`. */
  constructor(page) { Object.assign(this, { page, held: {}, past: {} }); }

  /** Whether an item offers photos: not OK, or photos are there. */
  offered = (answer) => answer?.answer === 'not ok' || Boolean(answer?.photos);

  /** The photos of an item, to be added to. */
  of = (key) => {
    const { draft } = this.page;
    const list = draft.answers[key]?.photos ?? this.held[key]?.list ?? [];
    if (this.held[key]?.list !== list) {
      this.held[key]?.close();
      this.held[key] = new Photos(list, draft.id, () => this.kept(key, list));
    }
    return this.held[key].view();
  };

  kept(key, list) {
    const { draft } = this.page;
    const { photos, ...answer } = draft.answers[key] ?? {};
    draft.answers[key] = list.length ? { ...answer, photos: list } : answer;
    this.page.show();
    return this.page.keep();
  }

  /** The photos of an item's last answer, to look at. */
  before = (key) => {
    const { photos, document } = this.page.before[key];
    this.past[key] ??= new Photos(photos, document, () => this.page.show(), false);
    return this.past[key].view();
  };

  close() {
    for (const photos of [...Object.values(this.held), ...Object.values(this.past)]) photos.close();
  }
}
