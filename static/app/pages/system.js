// system.js: one system: what is wrong and what to do, the settings, the line, the predicted cycle, then every figure.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { careHere } from '../care-here.js';
import { get, keepDraft, list, newId, onChange, save } from '../documents.js';
import { doingsAt } from '../doings.js';
import { ask, cancelHeavy, units } from '../engine.js';
import { overTime } from '../over-time.js';
import { valueAt, withValue } from '../paths.js';
import { picture } from '../picture.js';
import { fitted } from '../fitted.js';
import { go } from '../go.js';
import { loadUnits } from '../units.js';
import { Scrub } from '../scrub.js';
import { clashView } from '../views/clash.js';
import { figuresOf } from '../views/figure.js';
import { fittedView } from '../views/fitted.js';
import { overTimeView } from '../views/over-time.js';
import { notedView } from '../views/noted.js';
import { papers } from '../views/papers.js';
import { verdict, verdicts } from '../views/verdict.js';
import { withRanges, workSaved } from '../worked.js';

const WIDTH = 328;

class SystemPage {
  constructor(id, screen) { Object.assign(this, { id, screen, figure: figuresOf(() => this.show()), worked: null, listing: null, line: null, trace: null, over: null, fit: null, closed: false, turn: 0 }); }

  async load() {
    const turn = ++this.turn;
    this.held = await get(this.id);
    if (!this.held || this.held.deleted) return this.missing();
    [this.units] = await Promise.all([units(), loadUnits()]);
    [this.runs, this.rounds, this.refills, this.notes, this.listing] = await Promise.all([...['test-run', 'round', 'refill', 'note'].map((kind) => list(kind, this.id)), ask({ do: 'listing', kind: this.held.body.kind })]);
    this.care = await careHere(this.id);
    this.show();
    try {
      await workSaved(this.held, (worked) => (turn === this.turn ? this.take(worked) : null));
      this.care = await careHere(this.id, this.worked?.settings);
      this.over = this.worked?.settings ? await overTime(this.held.body, this, WIDTH) : null;
    } catch (error) { if (!error.cancelled) throw error; }
    if (!this.closed && turn === this.turn) this.show();
    return null;
  }

  async take(worked) {
    if (this.closed) return;
    this.worked = worked;
    this.show();
    if (!worked.settings) return;
    const document = this.held.body;
    const drawn = await ask({ do: 'diagram', document, worked: { points: worked.points }, width: WIDTH });
    this.line = { ...drawn, element: picture(drawn.svg) };
    if (worked.traces) {
      const request = { document, traces: [worked.traces.usual, worked.traces.coldest], width: WIDTH };
      const traced = await ask({ ...request, do: 'trace_picture' });
      this.trace = new Scrub(traced, await ask({ ...request, do: 'along_line', panels: 2 }), () => this.show());
    }
    if (this.closed) return;
    this.show();
    if (!worked.traces) return;
    const whole = await withRanges(this.held, worked);
    if (!this.closed && this.worked === worked) { this.worked = whole; this.show(); }
  }

  missing() {
    this.screen.show({ above: 'Systems', title: 'Not on this phone', tab: 'Systems', body: html`<p>This system is not on this phone. With signal, send and fetch first.</p><p><a class="button main" href="/app/to-send">Fetch</a></p>` });
  }

  askFit = async () => {
    this.fit = 'working';
    this.show();
    this.fit = await fitted(this.held.body, this.runs).catch((error) => { if (!error.cancelled) throw error; return null; });
    if (!this.closed) this.show();
  };

  settings() {
    return html`<h2>Settings for the controller</h2><div class="settings">${this.worked.settings.map((one) => html`
      <div><details><summary class="figure-button"><span class="name">${one.label}</span><span class="value">${one.shown}</span></summary>
        <p class="small">${one.reason}</p></details></div>`)}</div>
      <p><a class="button" href="/app/systems/${this.id}/setting-up">Enter them into the controller</a></p>`;
  }

  groups() {
    const simulated = this.worked.simulated;
    const filled = this.listing.groups.filter(([key]) => Object.keys(this.worked[key] ?? {}).length);
    return filled.map(([key, title, names]) => html`<h2>${title}</h2><div class="figures">${names.map(([name, text]) => {
      const figure = this.worked[key]?.[name];
      return figure || (!simulated && /^(time_|reset_|window|run_time)/.test(name) && name !== 'time') ? this.figure(`${key}.${name}`, text, figure) : nothing;
    })}</div>`);
  }

  blocks() {
    if (!this.worked.blocks) return nothing;
    return html`<h2>Blocks</h2>${this.worked.blocks.map((block) => html`<h3>${block.id}</h3><div class="settings">
      ${this.listing.of_a_block.map(([name, text]) => html`<div>${this.figure(`${block.id}.${name}`, text, block[name])}</div>`)}</div>`)}`;
  }

  points() {
    return html`<h2>Points</h2>${this.worked.points.map((point) => html`<h3>${point.name}</h3><div class="settings">
      ${this.listing.of_a_point.filter(([name]) => point[name]).map(([name, text]) => html`
        <div>${this.figure(`${point.id}.${name}`, text, point[name])}</div>`)}</div>`)}`;
  }

  copy = async () => {
    const id = newId();
    const { measured, baseline_run: baseline, ...body } = structuredClone(this.held.body);
    await keepDraft(`edit:${id}`, { body: { ...body, id, name: `${body.name} (copy)` } });
    await go(`/app/systems/${id}/edit/machine`);
  };

  /** One version of the fields stands; whatever else changed meanwhile stays as it is. */
  settle = async (side) => {
    const { mine, other, fields } = this.held.clash;
    const [stands, gives] = side === 'mine' ? [mine, other] : [other, mine];
    const body = fields.filter((path) => path !== 'deleted')
      .reduce((whole, path) => withValue(whole, path, valueAt(stands.body, path)), this.held.body);
    await save('system', this.id, body, { from: this.held.revision, also: other.revision, deleted: stands.deleted, reason: `clash settled: ${gives.revision} gave way` });
    await this.load();
  };

  show() {
    const { body, waiting, refused, clash } = this.held;
    const done = this.worked?.settings;
    this.screen.show({
      above: [body.site, body.area].filter(Boolean).join(' · '), title: body.name, tab: 'Systems', state: waiting ? 'phone' : 'server',
      body: html`
        ${clash ? clashView(clash, this.settle) : nothing}
        ${refused ? verdict({ severity: 'stop', says: `The server did not accept it: ${refused.says}`, do: 'Change it below; it stays on this phone.' }) : nothing}
        ${this.care}
        ${this.worked ? verdicts(this.worked.findings) : html`<p role="status">Working…</p>`}
        ${this.worked && !this.worked.simulated && done ? html`<p role="status">Simulating the cycle at both temperatures…</p>` : nothing}
        <div class="two"><div>
          ${done ? this.settings() : nothing}
          <h2>To do here</h2><div class="buttons">
            ${doingsAt(this.id).map(([path, words]) => html`<a class="button" href=${path}>${words}</a>`)}<button @click=${this.copy}>Copy it</button></div>
          ${notedView([...this.refills, ...this.notes], this.units)}
          ${papers(this.id, this.runs, this.rounds)}
        </div><div>
          ${this.line ? html`<h2>Along the line</h2>${this.line.element}<p class="small">${this.line.says}</p>` : nothing}
          ${overTimeView(this.over, this.figure)}
          ${done ? fittedView(this.runs, this.fit, this.askFit, this.figure) : nothing}
          ${this.trace ? html`<h2>One cycle, predicted</h2>${this.trace.view()}` : nothing}
        </div></div>
        ${done ? html`${this.groups()}${this.blocks()}${this.points()}` : nothing}
        <p class="small">Results support a competent person's judgement; the equipment maker's limits, local electrical codes and licensed practice come first.</p>`,
    });
  }
}

export async function open({ id }, screen) {
  const page = new SystemPage(id, screen);
  const stop = onChange(async () => {
    const held = await get(id);
    const differs = ['revision', 'waiting', 'refused', 'clash'].some((name) => JSON.stringify(held?.[name]) !== JSON.stringify(page.held?.[name]));
    if (differs && !page.closed) await page.load();
  });
  page.load();
  return () => { page.closed = true; stop(); cancelHeavy(); };
}
