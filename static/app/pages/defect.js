// defect.js: one defect: what is known of it, who sees to it by when, photos added since, how it is closed with evidence or opened again.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { closedParts, openedParts, part } from '../closing.js';
import { causeName, causesOf, defectsOf, ownersKnown, severitiesAt } from '../defects.js';
import { draft as readDraft, get, keepDraft, list, newId, onChange, saveAll, timeHere } from '../documents.js';
import { DraftPage } from '../draft-page.js';
import { units } from '../engine.js';
import { go } from '../go.js';
import { PhotoLists } from '../photo-form.js';
import { current } from '../session.js';
import { settle } from '../settle.js';
import { Unreadable, loadUnits, preferred, read, toText } from '../units.js';
import { clashView } from '../views/clash.js';
import { READ, closingView, missingToClose } from '../views/closing.js';
import { dayText, happenedView, longText, ownerAndDay, severityChoice, standingView, stillToSay } from '../views/defects.js';
import { verdict } from '../views/verdict.js';

const FRESH = () => ({
  doing: null, how: '', cause: null, evidence: '', of: 'bar', reading: '', test_run: '', photos: [], word: '', reason: '',
});
// what can be done with it while it is open, closed, or at any time, and its title
const OPEN = { close: 'Close the defect', change: 'Change the defect' };
const CLOSED = { open: 'Open it again' };
const ALWAYS = { add: 'Add photos' };

class DefectPage extends DraftPage {
  constructor({ id, document }, screen) {
    super(screen, `defect:${document}`);
    Object.assign(this, { id, document, photos: new PhotoLists() });
  }

  async load() {
    [this.system, this.held] = await Promise.all([get(this.id), get(this.document)]);
    if (!this.system || this.held?.kind !== 'defect' || this.held.deleted) {
      await go(`/app/systems/${this.id}/defects`, { replace: true });
      return false;
    }
    await loadUnits();
    [this.units, this.words, this.owners, this.names, this.runs, { open: this.open }] = await Promise.all([
      units(), severitiesAt(this.id), ownersKnown(), causesOf(this.system.body), list('test-run', this.id), defectsOf(this.id)]);
    this.standing = this.open.find((row) => row.document === this.document);
    const raised = Date.parse(this.body.made_at);
    this.runs = this.runs.filter(({ body }) => body.signed && Date.parse(body.made_at) > raised).reverse();
    this.walking = await readDraft(`round:${this.id}`);
    this.draft ??= { ...FRESH(), ...await readDraft(this.key) };
    // somebody closed or opened it meanwhile: what was written stays, and is no more to be kept as it is
    if (!(this.draft.doing in this.titles)) this.draft.doing = null;
    return true;
  }

  get body() { return this.held.body; }

  get titles() { return { ...(this.body.closed ? CLOSED : OPEN), ...ALWAYS }; }

  unit(name) { return preferred(name, this.units); }

  nameOf(cause) { return this.names.get(causeName(cause)) ?? cause; }

  /** Photos of the record, to look at. */
  seen(name, photos) { return photos?.length ? this.photos.seen(name, photos, this.document, () => this.show()) : nothing; }

  /** Photos that are taken now, to close it by or to be added. */
  taken() { return this.photos.of('taken', this.draft.photos, this.document, () => this.changed(() => {})).view(); }

  /** One of: change, add, close, open again; nothing of it is lost by going back. */
  doing(what) {
    return this.changed(() => {
      const { severity, owner = '', due = '' } = this.body;
      Object.assign(this.draft, { doing: what }, what === 'change' ? { severity, owner, due } : {});
    });
  }

  /** The body with one more entry of what was changed. */
  with(what, fields, photos = []) {
    const change = { id: newId(), at: timeHere(), by: current().name, what, ...(photos.length ? { photos } : {}) };
    return { ...this.body, ...fields, changes: [...this.body.changes ?? [], change] };
  }

  /** Save it; `left`: what was written for another doing and stays. */
  async keep(parts, left = {}) {
    await this.keeping;
    await saveAll(parts, this.key);
    this.draft = { ...FRESH(), ...left, doing: null };
    if (this.draft.how || this.draft.photos.length) await keepDraft(this.key, this.draft);
    await this.again();
    window.scrollTo(0, 0);
  }

  async again() { if (await this.load()) this.show(); }

  /** What is worse than thought is due earlier. */
  severity(one) {
    const proposed = this.words.find(({ severity }) => severity === one).due;
    return this.changed(() => { Object.assign(this.draft, { severity: one, due: [this.draft.due, proposed].filter(Boolean).sort()[0] }); });
  }

  saveChange() {
    const { severity, owner, due } = this.draft;
    const was = this.body;
    const owners = [was.owner, owner.trim()].map((name) => name || 'nobody');
    const fields = [['consequence', was.severity, severity], ['owner', ...owners], ['due', was.due, due]];
    const said = fields.filter(([, from, to]) => from !== to).map(([name, from, to]) => `${name}: ${from} to ${to}`);
    if (!said.length) return this.doing(null);
    return this.keep([part(this.held, this.with(said.join(', '), { severity, owner: owner.trim(), due }))], this.draft);
  }

  /** Photos that came later, with a word. The reason lets them in even where somebody closes the defect meanwhile. */
  saveAdded() {
    const { word, photos } = this.draft;
    const what = `photos added: ${word.trim()}`;
    return this.keep([part(this.held, this.with(what, {}, photos), what)], { ...this.draft, photos: [], word: '' });
  }

  /** The reading typed, in words with its unit; a sentence in `error` where it is none. */
  reading() {
    const { of, reading } = this.draft;
    try {
      const unit = this.unit(of);
      return `${READ.get(of)} ${toText(read(reading, of, unit), of, unit)} ${unit}`;
    } catch (error) {
      if (!(error instanceof Unreadable)) throw error;
      this.error = error.message;
      return null;
    }
  }

  async saveClosed() {
    const reading = this.draft.evidence === 'reading' ? this.reading() : '';
    if (this.error) this.show(); else await this.keep(await closedParts(this.held, this.draft, reading));
  }

  async saveOpened() {
    const reason = this.draft.reason.trim();
    await this.keep(await openedParts(this.held, this.with(`opened again: ${reason}`, {}), reason));
  }

  facts() {
    const { where, what, owner, due, points = [], cause, from_item: item, photos, closed, changes = [] } = this.body;
    const raised = { at: this.body.made_at ?? this.held.madeAt, by: this.body.made_by, what: 'raised' };
    const named = points.map((id) => this.system.body.points.find((one) => one.id === id)?.name).filter(Boolean);
    const concerns = named.length === this.system.body.points.length ? 'all points' : named.join(', ') || 'no point';
    const rows = [['Owner', owner || 'nobody'], ['Due', due ? dayText(due) : 'no day set'], ['Concerns', concerns],
      ...(cause ? [['Cause', this.nameOf(cause)]] : []), ...(item ? [['Comes from', 'a round']] : [])];
    const happened = [raised, ...changes, ...(closed ? [{ at: closed.at, by: closed.by, what: `closed: ${closed.how}` }] : [])];
    return html`<p><strong>${where}</strong></p><p>${what}</p>${this.seen('raised', photos)}
      <table><tbody>${rows.map(([name, text]) => html`<tr><th scope="row">${name}</th><td>${text}</td></tr>`)}</tbody></table>
      ${happenedView(happened, (one) => this.seen(one.id, one.photos))}`;
  }

  evidence() {
    const { by, at, how, evidence, reading, test_run: run, photos } = this.body.closed;
    const held = this.runs.find(({ document }) => document === run);
    const shown = evidence === 'test run' ? `test run${held ? ` of ${dayText(held.madeAt)}` : ''}` : reading ?? evidence;
    return html`${verdict({ severity: 'good', says: `Closed by ${by}, ${dayText(at)}.`, do: `${how} Evidence: ${shown}.` })}
      ${this.seen('closed', photos)}`;
  }

  changing() {
    const { severity, owner, due } = this.draft;
    const proposed = this.words.find((one) => one.severity === severity).due;
    return html`${severityChoice(this.words, severity, (one) => this.severity(one))}
      ${ownerAndDay({ owner, due }, proposed, this.owners, (name, text) => this.changed(() => { this.draft[name] = text; }))}`;
  }

  /** A text of the draft as it is typed. */
  text(name, label) { return longText(name, label, this.draft[name], (text) => this.changed(() => { this.draft[name] = text; })); }

  overview() {
    const { standing, held: { clash, refused } } = this;
    const button = (doing, words) => html`<button @click=${() => this.doing(doing)}>${words}</button>`;
    const says = `The server did not accept it: ${refused?.says}`;
    const not = { severity: 'stop', says, do: 'Change it; it stays on this phone.' };
    return html`${clash ? clashView(clash, async (side) => { await settle(this.held, side); await this.again(); }) : nothing}
      ${refused ? verdict(not) : nothing}${standing ? standingView(standing) : this.evidence()}
      ${this.facts()}
      <div class="buttons">
        ${standing ? [button('change', 'Owner, day, consequence'), button('add', 'Add photos')] : button('open', 'Open it again')}
        <a class="button" href="/app/systems/${this.id}/test-run">Time a test run</a></div>
      ${this.walking ? html`<p><a class="button main" href="/app/systems/${this.id}/round">Go on with the round</a></p>` : nothing}
      <p><a href="/app/systems/${this.id}/defects">All defects of ${this.system.body.name}</a></p>`;
  }

  content() {
    switch (this.draft.doing) {
      case 'close': return closingView(this);
      case 'change': return this.changing();
      case 'add': return html`${this.taken()}${this.text('word', 'What they show')}`;
      case 'open': return this.text('reason', 'Why it is opened again');
      default: return this.overview();
    }
  }

  foot() {
    const { doing, reason, due, word, photos } = this.draft;
    const [words, missing, save] = {
      change: ['Keep the change', [due ? '' : 'by when'], () => this.saveChange()],
      add: ['Keep the photos', [photos.length ? '' : 'a photo', word.trim() ? '' : 'what they show'], () => this.saveAdded()],
      open: ['Open it again', [reason.trim() ? '' : 'why'], () => this.saveOpened()],
      close: ['Close the defect', missingToClose(this), () => this.saveClosed()],
    }[doing] ?? [];
    if (this.photos.open) return nothing; // the photo needs the room
    if (!words) return this.standing ? html`<button class="main" @click=${() => this.doing('close')}>Close it…</button>` : nothing;
    return html`${stillToSay(missing)}<button class="main" ?disabled=${missing.some(Boolean)} @click=${save}>${words}</button>
      <button class="quiet wide" @click=${() => this.doing(null)}>Back</button>`;
  }

  show() {
    const { doing } = this.draft;
    const title = this.titles[doing] ?? (this.standing ? 'Open defect' : 'Closed defect');
    const state = this.lost || (doing ? 'draft' : this.held.waiting ? 'phone' : 'server');
    this.screen.show({
      above: `${this.system.body.name} · defect`, title, tab: 'Systems', busy: Boolean(doing), state,
      body: this.content(), foot: this.foot(),
    });
  }
}

export async function open(params, screen) {
  const page = new DefectPage(params, screen);
  if (!(await page.load())) return null;
  page.show();
  const stop = onChange(async () => {
    const held = await get(params.document);
    const differs = (name) => JSON.stringify(held?.[name]) !== JSON.stringify(page.held?.[name]);
    if (['revision', 'waiting', 'refused', 'clash'].some(differs)) await page.again();
  });
  return async () => {
    stop();
    page.photos.close();
    await page.keeping;
  };
}
