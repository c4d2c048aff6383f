// system.js: one system: what is wrong and what to do, the settings, what can be done here, the line; a point first where its label was scanned.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { careHere } from '../care-here.js';
import { careOf } from '../care.js';
import { get, keepDraft, list, newId, onChange } from '../documents.js';
import { doingsAt, moreOf } from '../doings.js';
import { ask, cancelHeavy, units } from '../engine.js';
import { addedKinds, loadKinds } from '../form.js';
import { go } from '../go.js';
import { callsOf, overTime } from '../over-time.js';
import { picture } from '../picture.js';
import { pointHere } from '../point-here.js';
import { newestFirst } from '../records.js';
import { settle } from '../settle.js';
import { clashView } from '../views/clash.js';
import { raiseAt } from '../views/defects.js';
import { careLine } from '../views/due.js';
import { recordsView } from '../views/noted.js';
import { pointView } from '../views/point.js';
import { verdict, verdicts } from '../views/verdict.js';
import { workSaved } from '../worked.js';

const WIDTH = 328;
const NOTED = 5;

class SystemPage {
  constructor(id, screen) {
    Object.assign(this, { id, screen, worked: null, care: {}, due: null, line: null, calls: [], closed: false, turn: 0, here: null });
    this.point = new URLSearchParams(location.search).get('point'); // a label's code names it
  }

  async load() {
    const turn = ++this.turn;
    this.held = await get(this.id);
    if (!this.held || this.held.deleted) return this.missing();
    [this.units] = await Promise.all([units(), loadKinds()]);
    this.noted = newestFirst(await Promise.all(addedKinds().map((kind) => list(kind, this.id)))).slice(0, NOTED);
    if (this.point) this.here = await pointHere(this.held, this.point);
    this.show();
    document.getElementById('point')?.focus();
    const seen = this.seeTo();
    try {
      await workSaved(this.held, (worked) => (turn === this.turn ? this.take(worked) : null));
      await seen; // or else it might come last and forget the adjustments
      await this.seeTo(this.worked?.settings);
      if (this.worked?.settings) this.due = await careOf(this.held, this.worked);
      if (turn === this.turn) this.show();
      this.calls = this.worked?.settings ? callsOf(await overTime(this.held)) : [];
    } catch (error) { if (!error.cancelled) throw error; }
    if (turn === this.turn) this.show();
    return null;
  }

  /** What somebody must still see to here, as soon as it is known. */
  async seeTo(settings = null) { this.care = await careHere(this.id, settings); this.show(); }

  async take(worked) {
    this.worked = worked;
    this.show();
    if (!worked.settings) return;
    const drawn = await ask({ do: 'diagram', document: this.held.body, worked: { points: worked.points }, width: WIDTH });
    this.line = { ...drawn, element: picture(drawn.svg) };
    this.show();
  }

  missing() {
    const [says, next] = this.held
      ? [
          'This system was deleted, or it moved to a site where you do not work. What is not sent of it is still on this phone.',
          'What is not sent',
        ]
      : ['This system is not on this phone. With signal, send and fetch first.', 'Fetch'];
    this.screen.show({
      above: 'Systems', title: 'Not on this phone', tab: 'Systems',
      body: html`<p>${says}</p><p><a class="button main" href="/app/to-send">${next}</a></p>` });
  }

  settings() {
    return html`<h2>Settings for the controller</h2><div class="settings">${this.worked.settings.map((one) => html`
      <div><details><summary class="figure-button"><span class="name">${one.label}</span><span class="value">${one.shown}</span></summary>
        <p class="small">${one.reason}</p></details></div>`)}</div>
      <p><a class="button" href="/app/systems/${this.id}/setting-up">Enter them into the controller</a></p>`;
  }

  copy = async () => {
    const id = newId();
    const { measured, baseline_run: baseline, ...body } = structuredClone(this.held.body);
    await keepDraft(`edit:${id}`, { body: { ...body, id, name: `${body.name} (copy)` } });
    await go(`/app/systems/${id}/edit/machine`);
  };

  settle = async (side) => { await settle(this.held, side); await this.load(); };

  /** The point that the address names, as far as it is known by now. */
  pointFirst() {
    const of = (rows, key) => rows?.find((row) => row[key] === this.point);
    return pointView(
      this.point,
      this.here,
      this.worked?.settings && of(this.worked.points, 'id'),
      of(this.due?.fed?.points, 'point'),
      this.units,
    );
  }

  show() {
    if (this.closed) return;
    const { noted } = this;
    const { body, waiting, refused, clash } = this.held;
    const done = this.worked?.settings;
    const wrong = [...this.worked?.findings.filter(({ severity }) => severity !== 'note') ?? [], ...this.calls].map((one) => ({
      ...one, links: html`<a href=${raiseAt(this.id, one.says)}>Raise a defect of it</a>` }));
    const notes = this.worked?.findings.filter(({ severity }) => severity === 'note') ?? [];
    this.screen.show({
      above: [body.site, body.area].filter(Boolean).join(' · '), title: body.name, tab: 'Systems', state: waiting ? 'phone' : 'server',
      body: html`
        ${clash ? clashView(clash, this.settle) : nothing}
        ${refused ? verdict({ severity: 'stop', says: `The server did not accept it: ${refused.says}`,
    do: 'It stays on this phone. Change it below, or send it again from the list of what waits.' }) : nothing}
        ${this.point ? this.pointFirst() : nothing}
        ${this.care.defects}
        ${this.worked ? verdicts(wrong, this.care.open ? 'As it is entered, the line works. See to the rest of this page.' : undefined) : html`<p role="status">Working…</p>`}
        ${this.care.adjusted}
        ${this.worked && !this.worked.simulated && done ? html`<p role="status">Simulating the cycle at both temperatures…</p>` : nothing}
        ${this.due ? careLine(this.due) : nothing}
        <div class="two"><div>
          ${done ? this.settings() : nothing}
          <h2>To do here</h2><div class="buttons">
            ${doingsAt(this.id).map(([path, words]) => html`<a class="button" href=${path}>${words}</a>`)}<button @click=${this.copy}>Copy it</button></div>
          ${notes.length ? html`<details><summary class="figure-button"><span class="name">Good to know</span><span class="value">${notes.length} ${notes.length === 1 ? 'note' : 'notes'}</span></summary>${notes.map(verdict)}</details>` : nothing}
          <h2>More of this system</h2><ul class="rows">${moreOf(this.id).map(([path, words, what]) => html`<li><a href=${path}><span><strong>${words}</strong>${what}</span></a></li>`)}</ul>
        </div><div>
          ${this.line ? html`<h2>Along the line</h2>${this.line.element}<p class="small">${this.line.says}</p>` : nothing}
          ${noted.length ? html`<h2>Noted lately</h2>${recordsView(noted, this.units)}` : nothing}
        </div></div>
        <p class="small">Results support a competent person's judgement; the equipment maker's limits, local electrical codes and licensed practice come first.</p>`,
    });
  }
}

export async function open({ id }, screen) {
  const page = new SystemPage(id, screen);
  const stop = onChange(async () => {
    const held = await get(id);
    const differs = ['revision', 'waiting', 'refused', 'clash'].some(
      (name) => JSON.stringify(held?.[name]) !== JSON.stringify(page.held?.[name]),
    );
    if (differs && !page.closed) await page.load();
  });
  page.load();
  return () => { page.closed = true; stop(); cancelHeavy(); };
}
