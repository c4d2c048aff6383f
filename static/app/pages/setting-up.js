// setting-up.js: the settings in the hand's order, each in the unit that the controller shows, ticked when entered.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { draft as readDraft, get, keepDraft, newId, saveAll, timeHere } from '../documents.js';
import { askHeavy } from '../engine.js';
import { go } from '../go.js';
import { current } from '../session.js';
import { verdicts } from '../views/verdict.js';

const UNITS = { s: 1, min: 60, h: 3600 };
const WORDS = { s: 'seconds', min: 'minutes', h: 'hours' };

/** A time in the unit that the controller shows, as a number without a unit. */
function inUnit(seconds, unit) {
  return `${Number((seconds / UNITS[unit]).toFixed(4))} ${unit}`;
}

class SettingUp {
  constructor(id, screen) { Object.assign(this, { id, screen, lost: '' }); }

  async load() {
    this.held = await get(this.id);
    if (!this.held) { await go(`/app/systems/${this.id}`, { replace: true }); return false; }
    this.worked = await askHeavy({ do: 'work', document: this.held.body });
    const { controller } = this.held.body;
    const known = controller.order ?? [];
    const place = (name) => (known.includes(name) ? known.indexOf(name) : known.length);
    this.draft = (await readDraft(`setting-up:${this.id}`)) ?? {
      wording: { ...controller.wording }, shownIn: { ...controller.shown_in }, entered: {},
      order: [...this.worked.settings ?? []].sort((a, b) => place(a.name) - place(b.name)).map((one) => one.name),
    };
    return true;
  }

  keep = () => {
    this.keeping = keepDraft(`setting-up:${this.id}`, this.draft).catch((error) => { this.lost = `This phone could not keep it: ${error.message}`; this.show(); });
    this.show();
  };

  settings() {
    const byName = new Map(this.worked.settings.map((one) => [one.name, one]));
    return [
      ...this.draft.order.filter((name) => byName.has(name)),
      ...[...byName.keys()].filter((name) => !this.draft.order.includes(name)),
    ].map((name) => byName.get(name));
  }

  value(one) {
    const unit = this.draft.shownIn[one.name];
    return one.unit === 's' && one.value !== null && unit ? inUnit(one.value, unit) : one.shown;
  }

  move(name, direction) {
    const order = this.settings().map((one) => one.name);
    const from = order.indexOf(name);
    const to = from + direction;
    if (to < 0 || to >= order.length) return;
    [order[from], order[to]] = [order[to], order[from]];
    this.draft.order = order;
    this.keep();
  }

  row(one) {
    const entered = this.draft.entered[one.name];
    const old = entered && entered.shown !== this.value(one);
    return html`<li class="setting">
      <span class="name">${one.label}</span><span class="value">${this.value(one)}</span>
      <p class="small">${one.reason}</p>
      ${one.unit === 's' ? html`<label class="inline">The controller shows <select @change=${(event) => { this.draft.shownIn[one.name] = event.target.value || undefined; this.keep(); }}>
        <option value="">as here</option>${Object.keys(UNITS).map((unit) => html`<option value=${unit} ?selected=${this.draft.shownIn[one.name] === unit}>${WORDS[unit]}</option>`)}</select></label>` : nothing}
      <label class="inline">Its menu calls it <input .value=${this.draft.wording[one.name] ?? ''} @input=${(event) => { this.draft.wording[one.name] = event.target.value; this.keep(); }}></label>
      <label class="check"><input type="checkbox" .checked=${Boolean(entered) && !old} ?disabled=${one.value === null}
        @change=${(event) => {
          if (event.target.checked) this.draft.entered[one.name] = { shown: this.value(one), at: timeHere() };
          else delete this.draft.entered[one.name];
          this.keep();
        }}>
        ${old ? `Entered as ${entered.shown}: enter it again` : 'Entered'}</label>
      <div class="buttons"><button class="quiet" aria-label="${one.label} up" @click=${() => this.move(one.name, -1)}>Up</button>
        <button class="quiet" aria-label="${one.label} down" @click=${() => this.move(one.name, 1)}>Down</button></div></li>`;
  }

  async sign() {
    await this.keeping;
    const made = timeHere();
    const entries = this.settings()
      .filter((one) => this.draft.entered[one.name])
      .map((one) => ({
        name: one.name,
        shown: this.draft.entered[one.name].shown,
        wording: this.draft.wording[one.name] ?? '',
        at: this.draft.entered[one.name].at,
      }));
    const record = newId();
    const { name } = current();
    const controller = { ...this.held.body.controller, order: this.draft.order,
      wording: Object.fromEntries(Object.entries(this.draft.wording).filter(([, text]) => text)),
      shown_in: Object.fromEntries(Object.entries(this.draft.shownIn).filter(([, unit]) => unit)) };
    await saveAll([
      { kind: 'settings-entry', document: record, body: { format: 'settings-entry/1', id: record, system: this.id, system_revision: this.held.revision,
        made_at: made, made_by: name, entries, signed: { by: name, at: made } } },
      { kind: 'system', document: this.id, body: { ...this.held.body, controller }, options: { from: this.held.revision, reason: 'settings entered' } },
    ], `setting-up:${this.id}`);
    await go(`/app/systems/${this.id}`);
  }

  show() {
    const settings = this.worked.settings ? this.settings() : [];
    const done = settings.filter((one) => this.draft.entered[one.name]).length;
    this.screen.show({
      above: `${this.held.body.name} · settings`, title: `${done} of ${settings.length} entered`, tab: 'Systems', busy: true, state: this.lost || 'draft',
      body: html`${verdicts(this.worked.findings.filter((one) => one.severity !== 'note'), 'Nothing stops these settings.')}
        <p class="caution">The machine may start while you work at the controller. Isolate and lock out before you open a cabinet; the maker's instructions come first.</p>
        <ol class="setting-list">${settings.map((one) => this.row(one))}</ol>`,
      foot: html`<button class="main" ?disabled=${!done || done < settings.filter((one) => one.value !== null).length} @click=${() => this.sign()}>
        ${done < settings.length ? 'Tick each setting, then sign off' : 'All entered: sign off'}</button>`,
    });
  }
}

export async function open({ id }, screen) {
  screen.show({ above: 'Settings', title: 'Working the settings…', tab: 'Systems', body: html`<p role="status">Simulating the cycle.</p>` });
  const page = new SettingUp(id, screen);
  if (!(await page.load())) return null;
  page.show();
  return async () => { await page.keeping; };
}
