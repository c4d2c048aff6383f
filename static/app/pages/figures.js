// figures.js: the predicted cycle moment by moment, what test runs say of the line, and every figure of a system with its working.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { get, list } from '../documents.js';
import { ask, cancelHeavy } from '../engine.js';
import { fitted } from '../fitted.js';
import { go } from '../go.js';
import { Scrub } from '../scrub.js';
import { figuresOf } from '../views/figure.js';
import { fittedView } from '../views/fitted.js';
import { withRanges, workSaved } from '../worked.js';

const WIDTH = 328;
// what only a simulation gives: its place is kept while it runs
const SIMULATED = /^(time_|reset_|window|run_time)/;

class FiguresPage {
  constructor(id, screen) {
    Object.assign(this, {
      id,
      screen,
      figure: figuresOf(() => this.show()),
      worked: null,
      listing: null,
      trace: null,
      ranging: false,
      fit: null,
      closed: false,
    });
  }

  async load() {
    this.held = await get(this.id);
    if (!this.held || this.held.deleted) return go(`/app/systems/${this.id}`, { replace: true });
    [this.runs, this.listing] = await Promise.all([list('test-run', this.id), ask({ do: 'listing', kind: this.held.body.kind })]);
    await workSaved(this.held, (worked) => { this.worked = worked; this.show(); });
    if (!this.worked.traces) return null;
    const request = { document: this.held.body, traces: [this.worked.traces.usual, this.worked.traces.coldest], width: WIDTH };
    const traced = await ask({ ...request, do: 'trace_picture' });
    this.trace = new Scrub(traced, await ask({ ...request, do: 'along_line', panels: 2 }), () => this.show());
    this.ranging = true;
    this.show();
    this.worked = await withRanges(this.held, this.worked);
    this.ranging = false;
    return this.show();
  }

  askFit = async () => {
    this.fit = 'working';
    this.show();
    this.fit = await fitted(this.held.body, this.runs).catch((error) => { if (!error.cancelled) throw error; return null; });
    this.show();
  };

  groups() {
    const { simulated } = this.worked;
    const filled = this.listing.groups.filter(([key]) => Object.keys(this.worked[key] ?? {}).length);
    return filled.map(([key, title, names]) => html`<h2>${title}</h2><div class="figures">${names.map(([name, text]) => {
      const figure = this.worked[key]?.[name];
      return figure || (!simulated && SIMULATED.test(name)) ? this.figure(`${key}.${name}`, text, figure) : nothing;
    })}</div>`);
  }

  /** Figures of every part of one kind, by the engine's list of their names. */
  parts(title, parts, names) {
    if (!parts?.length) return nothing;
    return html`<h2>${title}</h2>${parts.map((part) => html`<h3>${part.name ?? part.id}</h3><div class="settings">
      ${names.filter(([name]) => part[name]).map(([name, text]) => html`<div>${this.figure(`${part.id}.${name}`, text, part[name])}</div>`)}</div>`)}`;
  }

  body() {
    const { worked, listing } = this;
    if (!worked) return html`<p role="status">Working…</p>`;
    if (!worked.settings) return html`<p>There are no figures yet: the system says what is missing.</p>`;
    return html`${worked.simulated ? nothing : html`<p role="status">Simulating the cycle at both temperatures…</p>`}
      ${this.ranging ? html`<p role="status">Working out how sure the predictions are…</p>` : nothing}
      <div class="two"><div>${this.trace ? html`<h2>One cycle, predicted</h2>${this.trace.view()}` : nothing}</div>
        <div>${fittedView(this.runs, this.fit, this.askFit, this.figure)}</div></div>
      ${this.groups()}${this.parts('Blocks', worked.blocks, listing.of_a_block)}${this.parts('Points', worked.points, listing.of_a_point)}`;
  }

  show() {
    if (this.closed) return;
    this.screen.show({ above: this.held.body.name, title: 'Every figure', tab: 'Systems', state: this.held.waiting ? 'phone' : 'server',
      body: html`${this.body()}<p><a class="button" href="/app/systems/${this.id}">Back to the system</a></p>` });
  }
}

export async function open({ id }, screen) {
  const page = new FiguresPage(id, screen);
  page.load().catch((error) => { if (!error.cancelled) throw error; });
  return () => { page.closed = true; cancelHeavy(); };
}
