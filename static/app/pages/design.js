// design.js: one system on the drawing board: what would make it work, a plan for new pipe, and how sure the figures are.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { get } from '../documents.js';
import { askHeavy, cancelHeavy } from '../engine.js';
import { go } from '../go.js';
import { figuresOf, rangeText } from '../views/figure.js';
import { verdict } from '../views/verdict.js';
import { workSaved } from '../worked.js';

const CHANGES = [
  ['bores', 'wider pipe'],
  ['grade', 'a softer grease'],
  ['delivery', 'another pump'],
  ['switch', 'the switch elsewhere'],
  ['split', 'a cut in two'],
  ['plan', 'new pipe throughout'],
];
const TITLES = {
  as_is: 'As it is',
  bores: 'Wider pipe',
  grade: 'Softer grease',
  delivery: 'Another pump',
  switch: 'Switch elsewhere',
  split: 'Cut in two',
  plan: 'New pipe throughout',
};
const ROW = [
  ['residual', 'Left after venting'],
  ['reset', 'Until all has reset'],
  ['drop', 'Drop at full delivery'],
  ['peak', 'Greatest pressure at the pump'],
  ['rest', 'Stays in the line at rest'],
  ['volume', 'Volume of the pipe'],
  ['cost', 'Cost of the pipe'],
];
const BUILD = {
  'dual-line': 'Build-up of the slower line',
  progressive: 'Until the cycle switch signals',
  'time-only': 'Until the last device is fed',
};
const RANGES = {
  'build.time_': 'Build-up',
  'line.drop_': 'Drop',
  'line.residual_': 'Left after venting',
  'vent.reset_': 'Until all has reset',
};
const MOST_MOVES = 6;

class DesignPage {
  constructor(id, screen) {
    Object.assign(this, {
      id,
      screen,
      figure: figuresOf(() => this.show()),
      asIs: null,
      rows: [],
      outputs: [],
      ranges: [],
      moves: null,
      notes: [],
      doing: 'the cycle as it is',
      findings: null,
      closed: false,
    });
  }

  async load() {
    this.held = await get(this.id);
    if (!this.held || this.held.deleted) return go(`/app/systems/${this.id}`, { replace: true });
    this.show();
    let worked = null;
    await workSaved(this.held, (one) => { worked = one; });
    const document = this.held.body;
    if (!worked.settings) { this.findings = worked.findings; this.doing = null; return this.show(); }
    for (const [change, words] of CHANGES) {
      if (this.asIs?.works && change !== 'plan') continue;
      this.doing = words;
      this.show();
      const answer = await askHeavy({ do: 'design_help', document, worked, change });
      if (!answer.as_is) { this.findings = answer.findings; this.doing = null; return this.show(); }
      this.asIs = answer.as_is;
      this.rows.push(...answer.changes);
      this.outputs = answer.outputs;
    }
    this.rows.sort((one, other) => other.works - one.works);
    for (const when of ['coldest', 'usual']) {
      this.doing = `how sure the figures are, ${when} day`;
      this.show();
      const answer = await askHeavy({ do: 'sensitivity', document, worked, when });
      this.ranges.push(...answer.ranges);
      this.moves = answer.moves;
      this.notes = answer.findings;
    }
    this.doing = null;
    return this.show();
  }

  get build() { return BUILD[this.held.body.kind] ?? 'Build-up'; }

  row(row) {
    const bores = row.sections.map((one) => `${one.id} ${one.bore.shown}`).join(', ');
    return html`<h2>${TITLES[row.change]}</h2>${verdict({ ...row.about, severity: row.works ? 'good' : 'warn' })}
      <div class="figures">${[['build', `${this.build}, coldest`], ...ROW].map(([name, text]) => (row[name] ? this.figure(`${row.change}.${name}`, text, row[name]) : nothing))}</div>
      ${row.change === 'bores' || row.change === 'plan' ? html`<p class="small">Bores: ${bores}.</p>` : nothing}`;
  }

  wanted() {
    if (!this.outputs.length) return nothing;
    const blocks = this.held.body.kind === 'progressive';
    return html`<h2>What each ${blocks ? 'outlet' : 'device'} should give</h2>
      <p class="small">${blocks ? 'In a cycle of its block, in the event that the needs ask for and with the blocks turning as they do now.' : 'At an outlet, in the longest event allowed.'}</p>
      <div class="figures">${this.outputs.map((one) => this.figure(`output.${one.device}`, `${one.device}${one.fits ? '' : blocks ? ': gives another dose' : ': outside its range'}`, one.output))}</div>`;
  }

  range(row) {
    const [, start, when, side] = /^(.*_)(usual|coldest)(?:_([ab]))?$/.exec(row.of);
    const name = side ? `${RANGES[start]}, line ${side.toUpperCase()}` : start === 'build.time_' ? this.build : RANGES[start];
    return html`<tr><th scope="row">${name}, ${when}</th><td class="number">${row.expected.shown}</td><td class="number">${rangeText(row)}</td></tr>`;
  }

  sureness() {
    if (!this.moves) return nothing;
    return html`<h2>How sure the figures are</h2>${this.notes.map(verdict)}
      ${this.ranges.length ? html`<div class="scroll" tabindex="0" role="group" aria-label="Ranges"><table><thead><tr><th>Predicted</th><th>Expected</th><th>In 80 % of cases</th></tr></thead>
        <tbody>${this.ranges.map((row) => this.range(row))}</tbody></table></div>` : html`<p>Nothing that goes in is an estimate.</p>`}
      <h3>What moves the answer most</h3><div class="scroll" tabindex="0" role="group" aria-label="What moves the answer"><table><thead><tr><th>Entered</th><th>Within</th><th>${this.build}</th><th>${this.held.body.kind === 'progressive' ? 'Drop' : 'Left in the line'}</th></tr></thead>
        <tbody>${this.moves.slice(0, MOST_MOVES).map((one) => html`<tr><th scope="row">${one.label}${one.estimate ? ' (estimate)' : ''}</th>
          <td class="number">± ${one.within.shown}</td><td class="number">${one.build.shown}</td><td class="number">${(one.residual ?? one.drop).shown}</td></tr>`)}</tbody></table></div>
      <p class="small">The uncertainties are from memory: orders of magnitude, none published.</p>`;
  }

  show() {
    if (this.closed) return;
    const { body, waiting } = this.held;
    this.screen.show({
      above: body.name, title: 'On the drawing board', tab: 'Systems', state: waiting ? 'phone' : 'server',
      body: html`${this.findings ? this.findings.map(verdict) : nothing}
        ${this.doing ? html`<p role="status">Simulating: ${this.doing}…</p>` : nothing}
        <div class="two"><div>${this.asIs ? this.row(this.asIs) : nothing}${this.rows.map((row) => this.row(row))}</div>
        <div>${this.wanted()}${this.sureness()}</div></div>
        <div class="buttons"><a class="button" href="/app/systems/${this.id}/season">Over the year</a><a class="button" href="/app/systems/${this.id}">Back to the system</a></div>
        <p class="small">Proposals support a competent person's judgement. Isolate, lock out and release pressure before a line is opened; the equipment maker's limits and licensed practice come first.</p>`,
    });
  }
}

export async function open({ id }, screen) {
  const page = new DesignPage(id, screen);
  page.load().catch((error) => { if (!error.cancelled) throw error; });
  return () => { page.closed = true; cancelHeavy(); };
}
