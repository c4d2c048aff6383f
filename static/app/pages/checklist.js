// checklist.js: a system's checklist, shaped by the plant: order, wording, how often, limits, photos, items of its own.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { repeat } from '../../vendor/lit-html/directives/repeat.js';
import { askedAt, checklistId, planOf } from '../checklist.js';
import { draft as readDraft, get, keepDraft, newId, onChange, save, timeHere } from '../documents.js';
import { units } from '../engine.js';
import { go } from '../go.js';
import { current } from '../session.js';
import { settle } from '../settle.js';
import { loadUnits, preferred, read } from '../units.js';
import { plannedItem, shapeView } from '../views/checklist-item.js';
import { clashView } from '../views/clash.js';
import { fieldName } from '../views/round-parts.js';
import { verdict } from '../views/verdict.js';

class Checklist {
  constructor(id, screen) {
    Object.assign(this, { id, screen, open: null, errors: {}, lost: '', mayShape: current().role !== 'technician' });
  }

  async load() {
    this.held = await get(this.id);
    if (!this.held) { await go(`/app/systems/${this.id}`, { replace: true }); return false; }
    [this.units, this.plan, this.draft] = await Promise.all([units(), planOf(this.id), readDraft(`checklist:${this.id}`), loadUnits()]);
    // what the make-up gives, and what the plant made of it
    const [made, shaped] = [await askedAt(this.held, null), await askedAt(this.held, this.plan?.body ?? null)];
    this.made = new Map(made.items.map((item) => [item.key, item]));
    this.draft ??= {
      items: shaped.items,
      every: String(shaped.round_every_d),
      by: this.plan?.body.walked_by ?? '',
      from: this.plan?.revision,
    };
    return true;
  }

  keep() {
    return keepDraft(`checklist:${this.id}`, this.draft).then(() => { this.lost = ''; }, () => { this.lost = 'This phone could not keep what was changed. Free some space before you go on.'; });
  }

  changed = () => { this.keep(); this.show(); };

  toggle = (key) => { this.open = this.open === key ? null : key; this.show(); };

  set = (item, changes) => {
    this.draft.items = this.draft.items.map((one) => (one.key === item.key ? { ...one, ...changes } : one));
    this.changed();
  };

  move = (item, by) => {
    const { items } = this.draft;
    const from = items.indexOf(item);
    if (!items[from + by]) return;
    items.splice(from, 1);
    items.splice(from + by, 0, item);
    this.changed();
    requestAnimationFrame(() => document.querySelector('.spine > li.now')?.scrollIntoView({ block: 'center', behavior: 'instant' }));
  };

  add = (item) => {
    const key = `own:${newId().slice(0, 8)}`;
    this.draft.items.splice(this.draft.items.indexOf(item) + 1, 0, {
      key,
      own: true,
      says: '',
      where: item.where,
      component: item.component,
      place: item.place,
      answer: 'ok',
      unit: null,
      low: null,
      high: null,
      every: 'round',
      photo: false,
      left_out: false,
    });
    this.open = key;
    this.changed();
  };

  remove = (item) => { this.draft.items = this.draft.items.filter((one) => one !== item); this.open = null; this.changed(); };

  /** A limit as it is typed: kept as text until it can be read. */
  limit = (item, name, text) => {
    const place = `${item.key} ${name}`;
    delete this.errors[place];
    let value = null;
    try {
      if (text.trim()) value = read(text, item.unit, preferred(item.unit, this.units));
    } catch (error) {
      this.errors[place] = error.message;
    }
    this.set(item, { [name]: value, typed: { ...item.typed, [name]: text } });
  };

  days() {
    const days = Number(this.draft.every.replace(',', '.'));
    return days >= 1 && days <= 366 ? days : null;
  }

  /** What keeps the list from being saved, in one sentence. */
  fault() {
    const { items } = this.draft;
    const nameless = items.find((item) => !item.says.trim());
    const crossed = items.find((item) => item.low !== null && item.high !== null && item.low > item.high);
    if (!this.days()) return 'A round every how many days? Enter 1 to 366.';
    if (nameless) return `${nameless.where}: say what is asked.`;
    if (crossed) return `${crossed.where}, ${crossed.says}: the lower limit is above the upper one.`;
    return Object.keys(this.errors).length ? 'A limit cannot be read.' : '';
  }

  save = async () => {
    const { items, by, from } = this.draft;
    const body = {
      format: 'checklist/1',
      id: checklistId(this.id),
      system: this.id,
      system_revision: this.held.revision,
      made_at: timeHere(),
      made_by: current().name,
      round_every_d: this.days(),
      ...(by.trim() ? { walked_by: by.trim() } : {}),
      ...(this.plan?.body.note ? { note: this.plan.body.note } : {}),
      items: items.map((item) => plannedItem(item, this.made.get(item.key))),
    };
    await save('checklist', body.id, body, { from, dropDraft: `checklist:${this.id}` });
    await go(`/app/systems/${this.id}`);
  };

  frame() {
    const { every, by } = this.draft;
    if (!this.mayShape) return html`<p>A round every ${every} days${by ? `, walked by ${by}` : ''}. Supervisors and administrators change this list.</p>`;
    return html`<div class="field"><label for="every">A round every</label><div class="with-unit"><input id="every" inputmode="decimal" autocomplete="off" .value=${every} @input=${(event) => { this.draft.every = event.target.value; this.changed(); }}><span>days</span></div></div>
      <div class="field"><label for="by">Walked by <small>(may stay empty)</small></label><input id="by" maxlength="300" .value=${by} @input=${(event) => { this.draft.by = event.target.value; this.changed(); }}></div>`;
  }

  show() {
    const { clash, refused, waiting } = this.plan ?? {};
    const { items } = this.draft;
    this.screen.show({
      above: this.held.body.name, title: 'Checklist', tab: 'Systems', busy: true, state: this.lost || (waiting ? 'phone' : this.mayShape ? 'draft' : 'server'),
      body: html`${clash ? clashView(clash, (side) => settle(this.plan, side), (path) => fieldName(items, path)) : nothing}
        ${refused ? verdict({ severity: 'stop', says: `The server did not accept it: ${refused.says}`, do: 'It stays on this phone.' }) : nothing}
        ${this.frame()}<p class="small">${items.filter((item) => !item.left_out).length} items, in the order of the walk. Parts that the system gets later join by themselves where the walk meets them.</p>
        <ol class="spine round">${repeat(items, (item) => item.key, (item) => shapeView(item, this.made.get(item.key), item.key === this.open, this))}</ol>`,
      foot: this.mayShape ? html`${this.fault() ? html`<p class="field-error">${this.fault()}</p>` : nothing}<button class="main" ?disabled=${Boolean(this.fault())} @click=${this.save}>Save the checklist</button>` : nothing,
    });
  }
}

export async function open({ id }, screen) {
  const page = new Checklist(id, screen);
  if (!(await page.load())) return null;
  page.show();
  return onChange(async () => { page.plan = await planOf(id); page.show(); });
}
