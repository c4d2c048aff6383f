// round-photos.js: the photos of a round's items while it is walked. An answer carries them, even before it is given.
import { PhotoLists } from './photo-form.js';

export class RoundPhotos {
  /** `page`: a round with its draft (`id`, `answers` by key), `before` (last answers by key), `show()` and `keep()`. */
  constructor(page) { Object.assign(this, { page, lists: new PhotoLists(), none: {} }); }

  /** Whether an item offers photos: not OK, or photos are there. */
  offered = (answer) => answer?.answer === 'not ok' || Boolean(answer?.photos);

  /** The photos of an item, to be added to. */
  of = (key) => {
    const { draft } = this.page;
    return this.lists.of(key, draft.answers[key]?.photos ?? this.nothing(key), draft.id, () => this.kept(key)).view();
  };

  /** The list of an item without photos: its answer gets it with the first one. */
  nothing(key) {
    if (this.none[key]?.length !== 0) this.none[key] = [];
    return this.none[key];
  }

  kept(key) {
    const { answers } = this.page.draft;
    const { list } = this.lists.held.get(key);
    const { photos, ...answer } = answers[key] ?? {};
    answers[key] = list.length ? { ...answer, photos: list } : answer;
    this.page.show();
    return this.page.keep();
  }

  /** The photos of an item's last answer, to look at. */
  before = (key) => {
    const { photos, document } = this.page.before[key];
    return this.lists.seen(`before ${key}`, photos, document, () => this.page.show());
  };

  close() { this.lists.close(); }
}
