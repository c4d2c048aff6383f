// adjustment.js: which setting was changed at the controller, to what and why: a record of its own, held against the settings sheet.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { draft as readDraft, get, list, newId, save, timeHere } from '../documents.js';
import { DraftPage } from '../draft-page.js';
import { ask } from '../engine.js';
import { go } from '../go.js';
import { current } from '../session.js';
import { Unreadable, loadUnits, read } from '../units.js';
import { adjustedView } from '../views/adjusted.js';
import { longText } from '../views/defects.js';
import { workSaved } from '../worked.js';

class NewAdjustment extends DraftPage {
  constructor(id, screen) { super(screen, `add/adjustment:${id}`); Object.assign(this, { id, against: [], settings: null, closed: false }); }

  async load() {
    this.held = await get(this.id);
    if (!this.held) { await go(`/app/systems/${this.id}`, { replace: true }); return false; }
    await loadUnits();
    [this.draft, ...this.earlier] = await Promise.all([readDraft(this.key), list('adjustment', this.id), list('settings-entry', this.id)]);
    this.draft ??= { id: newId(), name: '', to: '', why: '' };
    return true;
  }

  /** The sheet's settings, as far as they are worked so far. */
  async work() {
    try {
      await workSaved(this.held, async (worked) => { this.settings = worked.settings ?? []; await this.compare(); this.show(); });
    } catch (error) { if (!error.cancelled) throw error; }
  }

  setting() { return this.settings?.find(({ name }) => name === this.draft.name); }

  /** What the controller had before, as far as this phone knows: as it was adjusted or entered last, else as on the sheet. */
  before({ name, shown }) {
    const [adjusted, entered] = this.earlier;
    const known = [...adjusted.filter(({ body }) => body.name === name).map(({ body, madeAt }) => [madeAt, body.to]),
      ...entered.flatMap(({ body, madeAt }) => body.entries.filter((one) => one.name === name).map((one) => [madeAt, one.shown]))];
    return known.sort(([one], [other]) => one.localeCompare(other)).at(-1)?.[1] ?? shown;
  }

  /** The unit in which the controller shows a time: what a number alone is in. */
  shownIn({ name, unit }) { return unit === 's' ? this.held.body.controller.shown_in?.[name] ?? 's' : null; }

  /** `to` in the sheet's unit; null where it is a text or nothing that can be read. */
  value(setting) {
    this.error = '';
    if (setting.unit !== 's' && setting.unit !== 'count') return null;
    try { return read(this.draft.to, setting.unit, this.shownIn(setting)); } catch (error) {
      if (!(error instanceof Unreadable)) throw error;
      this.error = this.draft.to.trim() ? error.message : '';
      return null;
    }
  }

  record() {
    const setting = this.setting();
    const value = this.value(setting);
    const { id, name, to, why } = this.draft;
    return {
      format: 'adjustment/1',
      id,
      system: this.id,
      system_revision: this.held.revision,
      made_at: timeHere(),
      made_by: current().name,
      setting: setting.label,
      name,
      from: this.before(setting),
      to: [to.trim(), value !== null && !/[a-z]/i.test(to) ? this.shownIn(setting) : ''].filter(Boolean).join(' '),
      why: why.trim(),
      sheet: setting.shown,
      ...(value === null ? {} : { value, unit: setting.unit }),
    };
  }

  async compare() {
    this.against = [];
    if (!this.setting() || !this.draft.to.trim()) return;
    const record = this.record();
    if (!this.error) this.against = (await ask({ do: 'adjusted', adjustments: [record], settings: this.settings })).adjustments;
  }

  async changed(change) {
    await super.changed(change);
    await this.compare();
    this.show();
  }

  async save() {
    await this.keeping;
    const record = this.record();
    if (this.error) { this.show(); return; }
    await save('adjustment', record.id, record, { dropDraft: this.key });
    await go(`/app/systems/${this.id}`);
  }

  chooseView() {
    if (!this.settings) return html`<p role="status">Working…</p>`;
    return html`<p>Which setting was changed? Beside each stands what the settings sheet says.</p><fieldset class="choices"><legend class="unseen">Setting</legend>
      ${this.settings.map(({ name, label, shown }) => html`<button @click=${() => this.changed(() => { this.draft.name = name; this.draft.to = ''; })}><span><strong>${label}</strong>${shown}</span></button>`)}</fieldset>`;
  }

  /** What can stand there, where the sheet's value is one of a few words. */
  others({ value }) {
    return [
      ['normally open', 'normally closed'],
      ['used', 'not used'],
      ['stop pump', 'warn only'],
      ['steady', 'flashing'],
      ['fitted', 'not fitted'],
    ].find((words) => words.includes(value));
  }

  toView(setting) {
    const words = this.others(setting);
    const { to } = this.draft;
    if (words) {
      return html`<fieldset class="field"><legend>It is now</legend><div class="buttons">${words.map((one) => html`
        <button aria-pressed=${to === one} @click=${() => this.changed(() => { this.draft.to = one; })}>${one}</button>`)}</div></fieldset>`;
    }
    return html`<div class="field ${this.error ? 'wrong' : ''}"><label for="to">It is now</label><p class="help">${setting.unit === 's' ? `Like 25 min, or 1 h 10 min; a number alone is in ${{ s: 'seconds', min: 'minutes', h: 'hours' }[this.shownIn(setting)]}.` : ''}</p>
      <input id="to" autocomplete="off" .value=${to} @input=${(event) => this.changed(() => { this.draft.to = event.target.value; })}>
      ${this.error ? html`<p class="field-error" role="alert">${this.error}</p>` : nothing}</div>`;
  }

  show() {
    if (this.closed) return;
    const setting = this.setting();
    const { to, why } = this.draft;
    this.screen.show({
      above: `${this.held.body.name} · adjustment`, title: setting?.label ?? 'Adjustment', tab: 'Systems', busy: true, state: this.lost || 'draft',
      body: setting ? html`<p>It was <strong>${this.before(setting)}</strong>; the settings sheet says <strong>${setting.shown}</strong>.</p>
          ${this.toView(setting)}${longText('why', 'Why', why, (text) => this.changed(() => { this.draft.why = text; }))}
          ${adjustedView(this.against)}
          <p><button class="quiet" @click=${() => this.changed(() => { this.draft.name = ''; })}>Another setting</button></p>` : this.chooseView(),
      foot: setting ? html`<button class="main" ?disabled=${!to.trim() || !why.trim() || Boolean(this.error)} @click=${() => this.save()}>Keep it</button>` : nothing,
    });
  }
}

export async function open({ id }, screen) {
  const page = new NewAdjustment(id, screen);
  if (!(await page.load())) return null;
  page.show();
  page.work();
  return async () => { page.closed = true; await page.keeping; };
}
