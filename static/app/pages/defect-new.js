// defect-new.js: a defect raised: where along the line, what, what follows from it, who sees to it by when. By itself or out of a
// round's item, a fault case or a finding.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { causeName, causesOf, defectsOf, ownersKnown, partOfCause, severitiesAt } from '../defects.js';
import { draft as readDraft, get, newId, saveAll, timeHere } from '../documents.js';
import { DraftPage } from '../draft-page.js';
import { ask, units } from '../engine.js';
import { go } from '../go.js';
import { Photos } from '../photo-form.js';
import { current } from '../session.js';
import { loadUnits, preferred, toText } from '../units.js';
import { defectRow, longText, ownerAndDay, severityChoice, stillToSay } from '../views/defects.js';

const keyOf = ({ component, place }) => `${component}:${place}`;

class NewDefect extends DraftPage {
  constructor(id, screen) { super(screen, `defects/new:${id}:${location.search}`); this.id = id; }

  async load() {
    this.held = await get(this.id);
    if (!this.held) {
      await go(`/app/systems/${this.id}`, { replace: true });
      return false;
    }
    [this.words, this.owners, { parts: this.parts }, { open: this.open }, this.units, this.draft] = await Promise.all([
      severitiesAt(this.id), ownersKnown(), ask({ do: 'parts', document: this.held.body }), defectsOf(this.id), units(),
      readDraft(this.key), loadUnits()]);
    if (this.draft) return true;
    this.draft = { id: newId(), part: '', points: [], what: '', severity: '', owner: current().name, due: '', photos: [] };
    const asked = new URLSearchParams(location.search);
    this.draft.what = asked.get('says') ?? '';
    if (asked.has('item')) await this.fromItem(asked.get('round'), asked.get('item'));
    if (asked.has('case')) await this.fromCase(asked.get('case'));
    return true;
  }

  /** An item of a round, still being walked here or kept as a record. */
  async fromItem(round, key) {
    const [walked, items] = await Promise.all([readDraft(`round:${this.id}`), readDraft(`items:round:${this.id}`)]);
    const here = walked?.id === round ? (walked.items ?? items ?? []).find((one) => one.key === key) : null;
    const item = here ? { ...here, ...walked.answers[key], ask: here.says } : (await get(round))?.body.items.find(({ id }) => id === key);
    if (!item) return;
    const unit = preferred(item.unit, this.units);
    const read = item.answer === 'reading' ? `${toText(item.value, item.unit, unit)} ${unit}` : '';
    const place = item.place ?? key.slice(key.indexOf(':') + 1);
    const part = this.parts.find((one) => one.place === place && (!item.component || one.component === item.component));
    const what = [item.ask, read, item.note].filter(Boolean).join(': ');
    Object.assign(this.draft, { what, photos: structuredClone(item.photos ?? []), from_record: round, from_item: key });
    if (part) this.at(keyOf(part));
  }

  async fromCase(document) {
    const held = await get(document);
    if (!held) return;
    const { cause, symptom } = held.body;
    const name = cause && (await causesOf(this.held.body)).get(causeName(cause));
    Object.assign(this.draft, { what: [name, symptom].filter(Boolean).join(': '), from_record: document, cause });
    if (cause) this.at(partOfCause(this.held.body, cause));
  }

  part() { return this.parts.find((one) => keyOf(one) === this.draft.part); }

  at(key) {
    this.draft.part = key;
    this.draft.points = [...this.part()?.points ?? []];
  }

  proposed() { return this.words.find(({ severity }) => severity === this.draft.severity)?.due ?? ''; }

  record() {
    const { id, points, what, severity, owner, due, photos, cause, from_record, from_item } = this.draft;
    const { component, place, where } = this.part();
    const from = Object.entries({ cause, from_record, from_item }).filter(([, said]) => said);
    return {
      format: 'defect/1', id, system: this.id, system_revision: this.held.revision, made_at: timeHere(), made_by: current().name,
      component, place, where, points, what: what.trim(), severity, owner: owner.trim(), due: due || this.proposed(), photos, changes: [],
      ...Object.fromEntries(from),
    };
  }

  async save() {
    this.photos.close();
    await this.keeping;
    const record = this.record();
    const parts = [{ kind: 'defect', document: record.id, body: record }];
    const found = record.from_record && !record.from_item ? await get(record.from_record) : null;
    if (found?.kind === 'fault-case') {
      parts.push({ kind: found.kind, document: found.document, body: { ...found.body, defect: record.id } });
    }
    await saveAll(parts, this.key);
    await go(`/app/systems/${this.id}/defects/${record.id}`, { replace: true });
  }

  toggle(id) {
    const { points } = this.draft;
    this.changed(() => { this.draft.points = points.includes(id) ? points.filter((one) => one !== id) : [...points, id]; });
  }

  /** What is open there already: nobody need raise it twice. */
  alreadyView() {
    const there = this.open.filter(({ held: { body } }) => keyOf(body) === this.draft.part);
    if (!there.length) return nothing;
    return html`<div class="notice">Already open there: <ul class="rows defects">${there.map((row) => defectRow(row))}</ul></div>`;
  }

  pointsView() {
    const { points } = this.draft;
    const all = this.held.body.points;
    const count = points.length === all.length ? `all ${all.length} points` : `${points.length} of ${all.length} points`;
    return html`<details><summary class="figure-button"><span class="name">Concerns, change it where it concerns others</span>
      <span class="value">${count}</span></summary>${all.map(({ id, name }) => html`<label class="check">
      <input type="checkbox" .checked=${points.includes(id)} @change=${() => this.toggle(id)}> ${name}</label>`)}</details>`;
  }

  /** Where it is, chosen among the parts of the line. */
  whereView(part) {
    return html`<div class="field"><label for="part">Where</label>
      <select id="part" @change=${(event) => this.changed(() => this.at(event.target.value))}>
        <option value="" ?selected=${!part}>choose…</option>
        ${this.parts.map((one) => html`<option value=${keyOf(one)} ?selected=${keyOf(one) === part}>${one.where}</option>`)}</select></div>
      ${part ? html`${this.alreadyView()}${this.pointsView()}` : nothing}`;
  }

  show() {
    const { part, what, severity, owner, due } = this.draft;
    const word = this.words.find((one) => one.severity === severity);
    const missing = [part ? '' : 'where', what.trim() ? '' : 'what is wrong', severity ? '' : 'what follows from it'];
    this.screen.show({
      above: `${this.held.body.name} · defect`, title: 'What is wrong', tab: 'Systems', busy: true, state: this.lost || 'draft',
      body: html`${this.whereView(part)}
        ${longText('what', 'What is wrong', what, (text) => this.changed(() => { this.draft.what = text; }))}
        ${this.photos.view()}
        ${severityChoice(this.words, severity, (one) => this.changed(() => { this.draft.severity = one; }))}
        ${severity === 'danger' ? html`<p class="caution">${word.means.says} ${word.means.do} Then keep the defect.</p>` : nothing}
        ${severity ? ownerAndDay({ owner, due: due || word.due }, word.due, this.owners,
          (name, text) => this.changed(() => { this.draft[name] = text; })) : nothing}`,
      foot: this.photos.entry ? nothing : html`${stillToSay(missing)}
        <button class="main" ?disabled=${missing.some(Boolean)} @click=${() => this.save()}>Keep the defect</button>`,
    });
  }
}

export async function open({ id }, screen) {
  const page = new NewDefect(id, screen);
  if (!(await page.load())) return null;
  page.photos = new Photos(page.draft.photos, page.draft.id, () => page.changed(() => {}));
  page.show();
  return async () => {
    page.photos.close();
    await page.keeping;
  };
}
