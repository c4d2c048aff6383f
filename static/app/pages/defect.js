// defect.js: one defect: what is known of it, who sees to it by when, and how it is closed with evidence or opened again with a reason.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { causeName, causesOf, defectsOf, ownersKnown, severitiesAt } from '../defects.js';
import { draft as readDraft, get, list, newId, saveAll, timeHere } from '../documents.js';
import { DraftPage } from '../draft-page.js';
import { units } from '../engine.js';
import { go } from '../go.js';
import { Photos } from '../photo-form.js';
import { current } from '../session.js';
import { settle } from '../settle.js';
import { Unreadable, loadUnits, preferred, read, toText } from '../units.js';
import { clashView } from '../views/clash.js';
import { READ, closingView } from '../views/closing.js';
import { dayText, longText, ownerAndDay, severityChoice } from '../views/defects.js';
import { sign, verdict } from '../views/verdict.js';

const FRESH = () => ({ doing: null, how: '', cause: null, evidence: '', of: 'bar', reading: '', test_run: '', photos: [], reason: '' });

class DefectPage extends DraftPage {
  constructor({ id, document }, screen) { super(screen, `defect:${document}`); Object.assign(this, { id, document }); }

  async load() {
    [this.system, this.held] = await Promise.all([get(this.id), get(this.document)]);
    if (!this.system || this.held?.kind !== 'defect' || this.held.deleted) { await go(`/app/systems/${this.id}/defects`, { replace: true }); return false; }
    await loadUnits();
    [this.units, this.words, this.owners, this.names, this.runs, { open: this.open }] = await Promise.all([
      units(), severitiesAt(this.id), ownersKnown(), causesOf(this.system.body), list('test-run', this.id), defectsOf(this.id)]);
    this.standing = this.open.find((row) => row.document === this.document);
    const raised = Date.parse(this.held.body.made_at);
    this.runs = this.runs.filter(({ body }) => body.signed && Date.parse(body.made_at) > raised).reverse();
    [this.draft, this.walking] = await Promise.all([readDraft(this.key), readDraft(`round:${this.id}`)]);
    this.draft = { ...FRESH(), ...this.draft };
    this.photos();
    return true;
  }

  /** Photos of the defect and of its closing to look at, and those that are to close it. */
  photos() {
    this.leave();
    const seen = (list) => new Photos(list ?? [], this.document, () => this.show(), false);
    this.shown = { raised: seen(this.body.photos), closed: seen(this.body.closed?.photos), closing: new Photos(this.draft.photos, this.document, () => this.changed(() => {})) };
  }

  leave() { for (const photos of Object.values(this.shown ?? {})) photos.close(); }

  get body() { return this.held.body; }

  unit(name) { return preferred(name, this.units); }

  nameOf(cause) { return this.names.get(causeName(cause)) ?? cause; }

  /** One of: change, close, open again; nothing of it is lost by going back. */
  doing(what) {
    return this.changed(() => {
      const { severity, owner = '', due = '' } = this.body;
      Object.assign(this.draft, { doing: what }, what === 'change' ? { severity, owner, due } : {});
    });
  }

  /** The body with one more entry of what was changed. */
  with(what, fields) {
    const changes = [...this.body.changes ?? [], { id: newId(), at: timeHere(), by: current().name, what }];
    return { ...this.body, ...fields, changes };
  }

  async keep(parts) {
    this.leave();
    await this.keeping;
    await saveAll(parts, this.key);
    await this.again();
  }

  async again() {
    await this.load();
    this.show();
    window.scrollTo(0, 0);
  }

  part(body, options = {}) { return { kind: 'defect', document: this.document, body, options: { from: this.held.revision, ...options } }; }

  /** What is worse than thought is due earlier. */
  severity(one) {
    const proposed = this.words.find(({ severity }) => severity === one).due;
    return this.changed(() => { Object.assign(this.draft, { severity: one, due: [this.draft.due, proposed].filter(Boolean).sort()[0] }); });
  }

  saveChange() {
    const { severity, owner, due } = this.draft;
    const was = this.body;
    const said = [['consequence', was.severity, severity], ['owner', was.owner || 'nobody', owner.trim() || 'nobody'], ['due', was.due, due]]
      .filter(([, from, to]) => from !== to).map(([name, from, to]) => `${name}: ${from} to ${to}`);
    if (!said.length) return this.doing(null);
    return this.keep([this.part(this.with(said.join(', '), { severity, owner: owner.trim(), due }))]);
  }

  /** The reading typed, in words with its unit; a sentence in `error` where it is none. */
  reading() {
    const { of, reading } = this.draft;
    try {
      const unit = this.unit(of);
      return `${toText(read(reading, of, unit), of, unit)} ${unit}`;
    } catch (error) {
      if (!(error instanceof Unreadable)) throw error;
      this.error = error.message;
      return null;
    }
  }

  /** Fault cases that this defect came from: closing or opening it decides on them as well. */
  async cases(fits) {
    return (await list('fault-case', this.id)).filter(({ body }) => body.defect === this.document && fits(body));
  }

  async saveClosed() {
    const { how, evidence, test_run: run, photos } = this.draft;
    const reading = evidence === 'reading' ? this.reading() : null;
    if (this.error) { this.show(); return; }
    const by = { by: current().name, at: timeHere(), how: how.trim() };
    const closed = { ...by, evidence, ...(reading ? { reading: `${READ.get(this.draft.of)} ${reading}` } : {}), ...(evidence === 'test run' ? { test_run: run } : {}), ...(evidence === 'photo' ? { photos } : {}) };
    const cause = this.draft.cause ?? this.body.cause;
    const caused = ({ cause: _, ...rest }) => ({ ...rest, ...(cause ? { cause } : {}) });
    const cases = await this.cases((body) => !body.closed); // the case that it came from is closed with it, by the cause that it was in the end
    await this.keep([this.part({ ...caused(this.body), closed }),
      ...cases.map(({ document, body, revision }) => ({ kind: 'fault-case', document, body: { ...caused(body), closed: by }, options: { from: revision } }))]);
  }

  async saveOpened() {
    const reason = this.draft.reason.trim();
    const { closed, ...rest } = this.with(`opened again: ${reason}`, {});
    const cases = await this.cases((body) => body.closed?.at === closed.at);
    const open = ({ document, body: { closed: _, ...body }, revision }) => ({ kind: 'fault-case', document, body, options: { from: revision, reason } });
    await this.keep([this.part(rest, { reason }), ...cases.map(open)]);
  }

  facts() {
    const { where, what, owner, due, points = [], cause, from_item: item, made_by: by, made_at: at, closed, changes = [] } = this.body;
    const named = points.map((id) => this.system.body.points.find((one) => one.id === id)?.name).filter(Boolean);
    const rows = [['Owner', owner || 'nobody'], ['Due', due ? dayText(due) : 'no day set'], ['Concerns', named.length === this.system.body.points.length ? 'all points' : named.join(', ') || 'no point'],
      ...(cause ? [['Cause', this.nameOf(cause)]] : []), ...(item ? [['Comes from', 'a round']] : [])];
    return html`<p><strong>${where}</strong></p><p>${what}</p>${this.shown.raised.view()}
      <table><tbody>${rows.map(([name, text]) => html`<tr><th scope="row">${name}</th><td>${text}</td></tr>`)}</tbody></table>
      <h2>What happened</h2><ul class="rows">${[{ at, by, what: 'raised' }, ...changes, ...(closed ? [{ ...closed, what: `closed: ${closed.how}` }] : [])]
        .sort((a, b) => Date.parse(b.at) - Date.parse(a.at)).map((one) => html`<li><div class="row"><span>${one.what}<small> ${dayText(one.at)}, ${one.by}</small></span></div></li>`)}</ul>`;
  }

  evidence() {
    const { evidence, reading, test_run: run } = this.body.closed;
    const held = this.runs.find(({ document }) => document === run);
    return html`${verdict({ severity: 'good', says: `Closed by ${this.body.closed.by}, ${dayText(this.body.closed.at)}.`,
      do: `${this.body.closed.how} Evidence: ${evidence === 'test run' ? `test run${held ? ` of ${dayText(held.madeAt)}` : ''}` : reading ?? evidence}.` })}${this.shown.closed.view()}`;
  }

  content() {
    const { draft, standing } = this;
    if (draft.doing === 'close') return closingView(this);
    if (draft.doing === 'change') {
      const { severity, owner, due } = draft;
      return html`${severityChoice(this.words, severity, (one) => this.severity(one))}
        ${ownerAndDay({ owner, due }, this.words.find((one) => one.severity === severity).due, this.owners, (name, text) => this.changed(() => { draft[name] = text; }))}`;
    }
    if (draft.doing === 'open') return longText('reason', 'Why it is opened again', draft.reason, (text) => this.changed(() => { draft.reason = text; }));
    const { clash } = this.held;
    return html`${clash ? clashView(clash, async (side) => { await settle(this.held, side); await this.again(); }) : nothing}
      ${this.held.refused ? verdict({ severity: 'stop', says: `The server did not accept it: ${this.held.refused.says}`, do: 'Change it; it stays on this phone.' }) : nothing}
      ${standing ? html`<div class="verdict ${standing.sign}"><h2>${sign(standing.sign)}<span>${standing.severity}: ${standing.when.says}</span></h2><p>${standing.means.says} ${standing.means.do}</p></div>` : this.evidence()}
      ${this.facts()}
      <div class="buttons">${standing ? html`<button @click=${() => this.doing('change')}>Owner, day, consequence</button>` : html`<button @click=${() => this.doing('open')}>Open it again</button>`}
        <a class="button" href="/app/systems/${this.id}/test-run">Time a test run</a></div>
      ${this.walking ? html`<p><a class="button main" href="/app/systems/${this.id}/round">Go on with the round</a></p>` : nothing}
      <p><a href="/app/systems/${this.id}/defects">All defects of ${this.system.body.name}</a></p>`;
  }

  foot() {
    const { doing, reason, due } = this.draft;
    const back = html`<button class="quiet wide" @click=${() => this.doing(null)}>Back</button>`;
    if (doing === 'change') return html`<button class="main" ?disabled=${!due} @click=${() => this.saveChange()}>Keep the change</button>${back}`;
    if (doing === 'open') return html`<button class="main" ?disabled=${!reason.trim()} @click=${() => this.saveOpened()}>Open it again</button>${back}`;
    if (doing === 'close') return html`<button class="main" ?disabled=${!this.complete()} @click=${() => this.saveClosed()}>Close the defect</button>${back}`;
    return this.standing ? html`<button class="main" @click=${() => this.doing('close')}>Close it…</button>` : nothing;
  }

  complete() {
    const { how, evidence, reading, test_run: run, photos } = this.draft;
    return how.trim() && { reading: reading.trim(), 'test run': run, photo: photos.length }[evidence];
  }

  show() {
    const titles = { close: 'Close the defect', change: 'Change the defect', open: 'Open it again' };
    this.screen.show({ above: `${this.system.body.name} · defect`, title: titles[this.draft.doing] ?? (this.standing ? 'Open defect' : 'Closed defect'), tab: 'Systems', busy: Boolean(this.draft.doing),
      state: this.lost || (this.draft.doing ? 'draft' : this.held.waiting ? 'phone' : 'server'), body: this.content(), foot: this.foot() });
  }
}

export async function open(params, screen) {
  const page = new DefectPage(params, screen);
  if (!(await page.load())) return null;
  page.show();
  return async () => { page.leave(); await page.keeping; };
}
