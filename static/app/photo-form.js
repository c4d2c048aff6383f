// photo-form.js: the photos of one record or one item of it, as a page holds them: taken, looked at, marked, taken out again.
import { onChange } from './documents.js';
import { MOST, find, forget, take } from './photos.js';
import { photosView } from './views/photos.js';

const MOST_MARKS = 20;

export class Photos {
  /** `list`: the entries as a record holds them, changed in place. `changed()` keeps them and draws the page; it may return a promise.
   * Whoever makes one closes it. */
  constructor(list, documentId, changed, mayChange = true) {
    Object.assign(this, { list, document: documentId, changed, mayChange, seen: new Map() });
    Object.assign(this, { open: null, tool: null, start: null, removing: false, busy: false, error: '' });
    this.looking = Promise.resolve();
    this.stop = onChange(() => this.look());
    this.look();
  }

  close() {
    this.stop();
    this.closed = true;
    for (const { url } of this.seen.values()) if (url) URL.revokeObjectURL(url);
  }

  get room() { return this.list.length < MOST; }

  get marks() { return this.list[this.open].marks ?? []; }

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

  show = (index) => this.set({ open: index, tool: null, start: null, removing: false, error: '' });

  use = (tool) => this.set({ tool: this.tool === tool ? null : tool, start: null });

  /** A tap on the large picture: the first begins a mark, the second ends it. */
  tap = (event) => {
    if (!this.tool) return;
    const box = event.currentTarget.querySelector('svg').getBoundingClientRect();
    const [x, y] = [(event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height]
      .map((share) => Number(Math.min(1, Math.max(0, share)).toFixed(4)));
    if (!this.start) { this.set({ start: { x, y } }); return; }
    this.list[this.open].marks = [...this.marks, { shape: this.tool, x1: this.start.x, y1: this.start.y, x2: x, y2: y }];
    this.set({ tool: null, start: null });
  };

  undo = () => {
    this.list[this.open].marks = this.marks.slice(0, -1);
    this.set({ tool: null, start: null });
  };

  remove = async () => {
    const [{ sha256 }] = this.list.splice(this.open, 1);
    const { url } = this.seen.get(sha256) ?? {};
    this.seen.delete(sha256);
    await this.show(null);
    if (url) URL.revokeObjectURL(url);
    await forget(sha256);
  };

  view() { return photosView(this); }
}
