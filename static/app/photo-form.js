// photo-form.js: the photos of one record or one item of it, as a page holds them: taken, looked at, marked, taken out again.
import { onChange } from './documents.js';
import { CHANGES, inTheMiddle, onIt } from './photo-marks.js';
import { MOST, find, forget, take } from './photos.js';
import { photosView } from './views/photos.js';

const MOST_MARKS = 20;
// what is under way on a photo that is looked at: a shape to be drawn, where it begins, the mark that is moved, whether the photo is to go
const NOTHING = { tool: null, start: null, chosen: null, removing: false };

export class Photos {
  /** `list`: the entries as a record holds them, changed in place. `changed()` keeps them and draws the page; it may return a promise.
   * Whoever makes one closes it. */
  constructor(list, documentId, changed, mayChange = true) {
    Object.assign(this, { list, document: documentId, changed, mayChange, ...NOTHING });
    Object.assign(this, { seen: new Map(), open: null, busy: false, error: '' });
    this.looking = Promise.resolve();
    this.stop = onChange(() => this.look());
    this.look();
  }

  close() {
    this.stop();
    this.closed = true;
    for (const { url } of this.seen.values()) if (url) URL.revokeObjectURL(url);
  }

  /** The same photos in the list that the record has now. */
  now(list) {
    if (list !== this.list) {
      this.list = list;
      this.look();
    }
    return this;
  }

  get room() { return this.list.length < MOST; }

  /** The photo that is looked at, by its hash, or undefined. */
  get entry() { return this.list.find(({ sha256 }) => sha256 === this.open); }

  get marks() { return this.entry.marks ?? []; }

  get mayMark() { return this.marks.length < MOST_MARKS; }

  /** Look for what is not seen yet or was not on the server; one look after the other, so that no picture is made twice. */
  look() {
    this.looking = this.looking.then(async () => {
      let news = false;
      for (const { sha256 } of [...this.list]) {
        const before = this.seen.get(sha256);
        if (before?.url && !before.waiting) continue;
        const { picture, ...state } = await find(sha256);
        if (this.closed) return;
        const now = { ...state, url: before?.url ?? (picture && URL.createObjectURL(picture)) };
        news ||= JSON.stringify(before) !== JSON.stringify(now);
        this.seen.set(sha256, now);
      }
      if (news) this.changed();
    });
    return this.looking;
  }

  set(state) {
    Object.assign(this, state);
    return this.changed();
  }

  /** The same for a button that goes with it: the focus moves on to what is there then, so that keys alone are enough. */
  async then({ currentTarget }, state, ...next) {
    const view = currentTarget.closest('.photos');
    await this.set(state);
    next.map((one) => view.querySelector(one)).find(Boolean)?.focus();
  }

  add = async (input) => {
    const [file] = input.files;
    input.value = '';
    if (!file || this.busy) return;
    this.set({ busy: true, error: '' });
    try {
      const entry = await take(file, this.document);
      if (this.list.some(({ sha256 }) => sha256 === entry.sha256)) this.error = 'This photo is here already.'; else this.list.push(entry);
    } catch (error) {
      this.error = error.message;
    }
    await this.set({ busy: false });
    await this.look();
  };

  show = (event, open) => this.then(event, { ...NOTHING, open, error: '' }, '.back', `[data-photo="${this.open}"]`);

  use = (tool) => this.set({ ...NOTHING, tool: this.tool === tool ? null : tool });

  /** A tap on the large picture: the first begins a mark, the second ends it. */
  tap = (event) => {
    if (!this.tool) return;
    const box = event.currentTarget.querySelector('svg').getBoundingClientRect();
    const [x, y] = [onIt((event.clientX - box.left) / box.width), onIt((event.clientY - box.top) / box.height)];
    if (!this.start) this.set({ start: { x, y } });
    else this.drawn({ shape: this.tool, x1: this.start.x, y1: this.start.y, x2: x, y2: y });
  };

  /** A mark is added and can be moved. */
  drawn(mark) {
    this.entry.marks = [...this.marks, mark];
    return this.set({ ...NOTHING, chosen: this.marks.length - 1 });
  }

  middle = (event) => {
    const view = event.currentTarget.closest('.photos');
    return this.drawn(inTheMiddle(this.tool)).then(() => view.querySelector('.moving button').focus());
  };

  choose = (index) => this.set({ ...NOTHING, chosen: this.chosen === index ? null : index });

  /** The chosen mark moved, made larger or turned, as one of CHANGES does it. */
  move = ([, , , change]) => {
    this.entry.marks = this.marks.map((mark, index) => (index === this.chosen ? change(mark, this.entry) : mark));
    return this.changed();
  };

  key = (event) => {
    const change = CHANGES.find(([, , key]) => key === event.key);
    if (!change || event.altKey || event.ctrlKey || event.metaKey) return; // these belong to the browser
    event.preventDefault();
    this.move(change);
  };

  takeAway = (event) => {
    this.entry.marks = this.marks.filter((_, index) => index !== this.chosen);
    return this.then(event, NOTHING, '.marks button', 'button');
  };

  remove = async (event) => {
    const { sha256 } = this.entry;
    const { url } = this.seen.get(sha256) ?? {};
    this.list.splice(this.list.indexOf(this.entry), 1);
    this.seen.delete(sha256);
    await this.then(event, { ...NOTHING, open: null }, 'button');
    if (url) URL.revokeObjectURL(url);
    await forget(sha256);
  };

  view() { return photosView(this); }
}

/** The photos of several things of a page, each under a name for as long as the page is open. */
export class PhotoLists {
  held = new Map();

  /** Those of a list, as new Photos() takes them. */
  of(name, list, ...more) {
    if (!this.held.has(name)) this.held.set(name, new Photos(list, ...more));
    return this.held.get(name).now(list);
  }

  /** The view of those that are only looked at. */
  seen(name, list, documentId, show) { return this.of(name, list, documentId, show, false).view(); }

  /** True while one of them is large. */
  get open() { return [...this.held.values()].some(({ entry }) => entry); }

  close() { for (const photos of this.held.values()) photos.close(); }
}
