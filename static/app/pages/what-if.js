// what-if.js: what one would see if the system had these faults, beside the healthy cycle. Nothing of it is kept anywhere.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { get } from '../documents.js';
import { ask, askHeavy, cancelHeavy } from '../engine.js';
import { go } from '../go.js';
import { Scrub } from '../scrub.js';
import { pick } from '../views/fields.js';
import { figuresOf } from '../views/figure.js';
import { verdict } from '../views/verdict.js';
import { known } from '../worked.js';

const WIDTH = 328;
const WHEN = [['usual', 'Usual temperature'], ['coldest', 'Coldest temperature']];

class WhatIfPage {
  constructor(id, screen) {
    Object.assign(this, {
      id,
      screen,
      figure: figuresOf(() => this.show()),
      rows: null,
      name: '',
      place: '',
      size: '',
      tried: [],
      when: 'usual',
      seen: null,
      scrub: null,
      working: false,
      closed: false,
      turn: 0,
    });
  }

  async load() {
    this.held = await get(this.id);
    if (!this.held || this.held.deleted) return go(`/app/systems/${this.id}`, { replace: true });
    this.show();
    const { findings } = await ask({ do: 'check', document: this.held.body });
    this.stops = findings.filter(({ severity }) => severity === 'stop');
    if (!this.stops.length) {
      this.rows = await ask({ do: 'faults_to_try', document: this.held.body });
      this.choose(this.rows[0].name);
    }
    return this.show();
  }

  get row() { return this.rows.find(({ name }) => name === this.name); }

  choose(name) {
    this.name = name;
    [this.place, this.size] = [this.row.places, this.row.sizes].map((choices) => choices[0]?.[0] ?? '');
  }

  /** The fault that is chosen: as the engine takes it, in words, and why nobody should bring it about. */
  chosen() {
    const { name, says, caution, places, sizes } = this.row;
    const text = (choices, value) => choices.find(([one]) => one === value)?.[1];
    return { typed: `${name}=${[this.place, this.size].filter(Boolean).join(':')}`, caution, says: [says, text(places, this.place), text(sizes, this.size)].filter(Boolean).join('. ') };
  }

  add = () => {
    const fault = this.chosen();
    if (this.tried.some(({ typed }) => typed === fault.typed)) return;
    this.tried.push(fault);
    this.work();
  };

  /** Simulate what is chosen now; an older answer never replaces a newer one. */
  async work() {
    const turn = ++this.turn;
    cancelHeavy();
    Object.assign(this, { seen: null, scrub: null, working: this.tried.length > 0 });
    this.show();
    if (!this.working) return;
    try {
      const document = this.held.body;
      const worked = await known(this.held);
      const seen = await askHeavy({ do: 'what_if', document, worked, faults: this.tried.map(({ typed }) => typed), when: this.when });
      const request = { document, traces: seen.traces, width: WIDTH };
      const scrub = seen.traces ? new Scrub(await ask({ ...request, do: 'compared_picture' }),
        await ask({ ...request, do: 'along_line', panels: 1, names: ['Healthy', 'With the faults'] }), () => this.show()) : null;
      if (turn !== this.turn) return;
      scrub?.choose(1);
      Object.assign(this, { seen, scrub, working: false });
      this.show();
    } catch (error) { if (!error.cancelled) throw error; }
  }

  choosing() {
    const { row } = this;
    const changed = (set) => (value) => { set(value); this.show(); };
    return html`<h2>A fault to try</h2>
      ${pick('fault', 'Fault', this.name, this.rows.map(({ name, says }) => [name, says]), changed((value) => this.choose(value)))}
      ${row.places.length ? pick('place', 'Where', this.place, row.places, changed((value) => { this.place = value; })) : nothing}
      ${row.sizes.length ? pick('size', 'How much', this.size, row.sizes, changed((value) => { this.size = value; })) : nothing}
      <p><button class="main" @click=${this.add}>${this.tried.length ? 'Try it as well' : 'Try it'}</button></p>`;
  }

  chosenFaults() {
    if (!this.tried.length) return nothing;
    return html`<h2>Tried together</h2><ul class="rows">${this.tried.map((fault) => html`<li class="row"><span class="grow">${fault.says}</span>
        <button aria-label="Take away: ${fault.says}" @click=${() => { this.tried = this.tried.filter((one) => one !== fault); this.work(); }}>Take away</button></li>`)}</ul>
      <ul class="caution">${[...new Set(this.tried.map(({ caution }) => caution))].map((text) => html`<li>${text}</li>`)}</ul>
      <div class="buttons" role="group" aria-label="Temperature">${WHEN.map(([when, text]) => html`
        <button aria-pressed=${when === this.when} @click=${() => { this.when = when; this.work(); }}>${text}</button>`)}</div>`;
  }

  result() {
    if (!this.seen) return nothing;
    const shown = (figure) => (figure.value === null ? { ...figure, shown: 'never' } : figure);
    return html`<h2>What you would see</h2>${this.seen.findings.map(verdict)}
      ${(this.seen.build ?? []).map(({ name, healthy, faulted }) => html`<h3>${name}</h3><div class="figures">
        ${this.figure(`healthy.${name}`, 'Healthy', shown(healthy))}${this.figure(`faulted.${name}`, 'With the faults', shown(faulted))}</div>`)}`;
  }

  show() {
    if (this.closed) return;
    const { body, waiting } = this.held;
    this.screen.show({
      above: body.name, title: 'What would I see if…', tab: 'Systems', state: waiting ? 'phone' : 'server',
      body: html`<p class="notice">A simulation: nothing of it is kept or sent. Never bring a fault about on the real line to see what happens.</p>
        ${this.stops?.length ? this.stops.map(verdict) : nothing}
        <div class="two"><div>${this.rows ? html`${this.choosing()}${this.chosenFaults()}` : nothing}
          ${this.working ? html`<p role="status">Simulating the healthy cycle and the one with the faults…</p>` : nothing}${this.result()}</div>
        <div>${this.scrub ? html`<h2>Both cycles</h2>${this.scrub.view()}` : nothing}</div></div>
        <div class="buttons"><a class="button" href="/app/systems/${this.id}/fault-finding">Find a fault</a><a class="button" href="/app/systems/${this.id}">Back to the system</a></div>
        <p class="small">Predicted by the line model. The equipment maker's limits and licensed practice come first.</p>`,
    });
  }
}

export async function open({ id }, screen) {
  const page = new WhatIfPage(id, screen);
  await page.load();
  return () => { page.closed = true; cancelHeavy(); };
}
