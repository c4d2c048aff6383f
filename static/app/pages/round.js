// round.js: walking a round along the line: one item in focus, one tap for ok, everything kept at once.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { repeat } from '../../vendor/lit-html/directives/repeat.js';
import { draft as readDraft, get, keepDraft, lastAnswers, newId, save, timeHere } from '../documents.js';
import { ask, units } from '../engine.js';
import { go } from '../go.js';
import { Photos } from '../photo-form.js';
import { current } from '../session.js';
import { loadUnits, preferred, read, toText } from '../units.js';
import { itemView } from '../views/round-item.js';
import { known } from '../worked.js';

class Round {
  constructor(id, screen) { Object.assign(this, { id, screen, error: '', lost: '', taken: {} }); }

  async load() {
    this.held = await get(this.id);
    if (!this.held) { await go(`/app/systems/${this.id}`, { replace: true }); return false; }
    await loadUnits();
    this.units = await units();
    this.draft = await readDraft(`round:${this.id}`);
    if (!this.draft) {
      const worked = await known(this.held);
      const { items } = await ask({ do: 'checklist', document: this.held.body, worked });
      this.draft = { id: newId(), items, answers: {}, typed: {}, why: {}, asking: null, note: '', begun: timeHere() };
    }
    this.before = await lastAnswers(this.id);
    this.focus = this.draft.asking?.index ?? this.nextOpen(0);
    return true;
  }

  keep() {
    return keepDraft(`round:${this.id}`, this.draft).then(() => { this.lost = ''; }, (error) => {
      this.lost = `This phone could not keep the answer: ${error.message}. Note it before you walk on.`;
    });
  }

  nextOpen(from) {
    const { items, answers } = this.draft;
    const order = [...items.keys()];
    return [...order.slice(from), ...order.slice(0, from)].find((index) => !answers[items[index].key]?.answer) ?? null;
  }

  answer = async (index, answer, more = {}) => {
    const { key } = this.draft.items[index];
    const { photos } = this.draft.answers[key] ?? {};
    this.draft.answers[key] = { answer, at: timeHere(), ...more, ...(photos ? { photos } : {}) };
    this.draft.asking = null;
    this.error = '';
    this.focus = this.nextOpen(index + 1);
    await this.keep();
    this.show();
    requestAnimationFrame(() => document.querySelector('.spine > li.now')?.scrollIntoView({ block: 'center' }));
  };

  /** A reading typed: outside its limit it needs a word why, or another measurement. */
  reading = (index) => {
    const item = this.draft.items[index];
    const why = (this.draft.why[item.key] ?? '').trim();
    let value;
    try { value = read(this.draft.typed[item.key] ?? '', item.unit, preferred(item.unit, this.units)); } catch (error) { this.error = error.message; this.show(); return; }
    const outside = (item.low !== null && value < item.low) || (item.high !== null && value > item.high);
    if (outside && !why) { this.ask(index, 'outside'); return; }
    this.answer(index, 'reading', { value, note: outside ? why : '' });
  };

  ask = (index, what) => { this.draft.asking = { index, what }; this.error = ''; this.keep(); this.show(); };

  explain = (index) => {
    const text = this.draft.why[this.draft.items[index].key] ?? '';
    if (!text.trim()) { this.error = 'Say it in a few words.'; this.show(); return; }
    this.answer(index, this.draft.asking.what, { note: text.trim() });
  };

  again = (index) => { this.focus = index; this.draft.asking = null; this.error = ''; this.keep(); this.show(); };

  type = (key, text) => { this.draft.typed[key] = text; this.keep(); };

  because = (key, text) => { this.draft.why[key] = text; this.keep(); };

  /** The photos of an item: its answer carries them, even before it is given. */
  photosOf = (key) => {
    const list = this.draft.answers[key]?.photos ?? this.taken[key]?.list ?? [];
    if (this.taken[key]?.list !== list) {
      this.taken[key]?.close();
      this.taken[key] = new Photos(list, this.draft.id, () => {
        const { photos, ...answer } = this.draft.answers[key] ?? {};
        this.draft.answers[key] = list.length ? { ...answer, photos: list } : answer;
        this.show();
        return this.keep();
      });
    }
    return this.taken[key].view();
  };

  /** The photos of an item's last answer, to look at. */
  photosBefore = (key) => {
    const id = `before:${key}`;
    this.taken[id] ??= new Photos(this.before[key].photos, this.before[key].document, () => this.show(), false);
    return this.taken[id].view();
  };

  close = () => { for (const photos of Object.values(this.taken)) photos.close(); };

  async sign() {
    const made = timeHere();
    const { name } = current();
    const items = this.draft.items.map((item) => ({ id: item.key, where: item.where, ask: item.says, unit: item.unit, low: item.low, high: item.high, ...this.draft.answers[item.key] }));
    await save('round', this.draft.id, { format: 'round/1', id: this.draft.id, system: this.id, system_revision: this.held.revision, made_at: made,
      made_by: name, note: this.draft.note, items, signed: { by: name, at: made } }, { dropDraft: `round:${this.id}` });
    await go(`/app/systems/${this.id}`);
  }

  limits(item) {
    const name = preferred(item.unit, this.units);
    const text = (value) => (value === null ? '' : `${toText(Number(value.toPrecision(4)), item.unit, name)}`);
    return item.low === null && item.high === null ? '' : `expected ${text(item.low)} to ${text(item.high)} ${name}${item.limit ? `, ${item.limit}` : ''}`;
  }

  show() {
    const { items, answers } = this.draft;
    const done = items.filter((item) => answers[item.key]?.answer).length;
    const say = { ...this, limits: this.limits(items[this.focus] ?? { low: null, high: null }), unit: (item) => preferred(item.unit, this.units) };
    this.screen.show({
      above: `${this.held.body.name} · round`, title: `${done} of ${items.length}`, tab: 'Systems', busy: true, state: this.lost || 'draft',
      body: html`<ol class="spine round">${repeat(items, (item) => item.key, (item, index) => itemView(item, index, answers[item.key], index === this.focus, say))}</ol>
        ${done === items.length ? html`<div class="field"><label for="note">Note on the whole round</label><textarea id="note" rows="2" .value=${this.draft.note} @input=${(event) => { this.draft.note = event.target.value; this.keep(); }}></textarea></div>` : nothing}`,
      foot: done === items.length ? html`<button class="main" @click=${() => this.sign()}>Sign off the round</button>` : nothing,
    });
  }
}

export async function open({ id }, screen) {
  const page = new Round(id, screen);
  if (!(await page.load())) return null;
  page.show();
  return page.close;
}
