// season.js: one system over the year: how cold it may get, settings by season, and the picture from coldest to hottest.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { get } from '../documents.js';
import { askHeavy, cancelHeavy } from '../engine.js';
import { go } from '../go.js';
import { picture } from '../picture.js';
import { figuresOf } from '../views/figure.js';
import { verdict, verdicts } from '../views/verdict.js';
import { workSaved } from '../worked.js';

const WIDTH = 328;
const SETTINGS = [
  ['time_limit', 'Time limit'],
  ['window', 'Monitoring time'],
  ['run_time', 'Run time'],
  ['time_limit_second', 'Time limit, second switch'],
  ['vent', 'Vent'],
];
const LOWEST = [
  ['works_to', 'Works down to'],
  ['reaches', 'With the longest that can be set'],
  ['reset', 'Vents down to'],
  ['pipe', 'The coldest pipe is then at'],
];
const BUILD = {
  'dual-line': 'Build-up, slower line',
  progressive: 'Until the cycle switch signals',
  'time-only': 'Until the last device is fed',
};
const ROW = [
  ['drop', 'Drop at full delivery'],
  ['peak', 'Greatest pressure at the pump'],
  ['rest', 'Stays in the line at rest'],
  ['residual', 'Left after venting'],
  ['reset', 'Until all has reset'],
];
const STOPS = {
  reset: 'does not reset',
  relief: 'relief pressure first',
  time_limit: 'takes longer than can be set',
  idle: 'a device is not reached',
};

class SeasonPage {
  constructor(id, screen) {
    Object.assign(this, { id, screen, figure: figuresOf(() => this.show()), season: null, drawn: null, findings: null, closed: false });
  }

  async load() {
    this.held = await get(this.id);
    if (!this.held || this.held.deleted) return go(`/app/systems/${this.id}`, { replace: true });
    this.show();
    let worked = null;
    await workSaved(this.held, (one) => { worked = one; });
    const document = this.held.body;
    const season = await askHeavy({ do: 'season', document, worked });
    this.findings = season.findings;
    if (season.temperatures) {
      const drawn = await askHeavy({ do: 'season_picture', document, season, width: WIDTH });
      this.drawn = { ...drawn, element: picture(drawn.svg) };
      this.season = season;
    }
    return this.show();
  }

  figures(path, names, holder) {
    return html`<div class="figures">${names.map(([name, text]) => (holder[name] ? this.figure(`${path}.${name}`, text, holder[name]) : nothing))}</div>`;
  }

  answers() {
    const { lowest, sets, change_at: change, temperatures } = this.season;
    const rows = [['build', BUILD[this.held.body.kind] ?? 'Build-up'], ...ROW];
    return html`<div class="two"><div><h2>How cold it may get</h2>${this.figures('lowest', LOWEST, lowest)}
      ${sets.map((one, number) => html`<h2>Settings, ${one.season}</h2>${this.figures(`set${number}`, [['from', 'From'], ['to', 'To'], ...SETTINGS], one)}`)}
      ${change ? html`<h2>Change over</h2><div class="figures">${this.figure('change', 'When mornings pass', change)}</div>` : nothing}
      </div><div><h2>From coldest to hottest</h2>${this.drawn.element}<p class="small">${this.drawn.says}</p></div></div>
      ${temperatures.map((row, number) => html`<h2>At ${row.at.shown}${row.limit ? html`: <span>${STOPS[row.limit]}</span>` : nothing}</h2>
        ${this.figures(`row${number}`, rows, row)}`)}`;
  }

  show() {
    if (this.closed) return;
    const { body, waiting } = this.held;
    this.screen.show({
      above: body.name, title: 'Over the year', tab: 'Systems', state: waiting ? 'phone' : 'server',
      body: html`${this.season ? verdicts(this.findings, 'It works from the coldest to the hottest day with one set of settings.')
        : this.findings ? this.findings.map(verdict)
        : html`<p role="status">Simulating the line from the coldest to the hottest day, and below…</p>`}
        ${this.season ? this.answers() : nothing}
        <div class="buttons"><a class="button" href="/app/systems/${this.id}/design">On the drawing board</a><a class="button" href="/app/systems/${this.id}">Back to the system</a></div>
        <p class="small">Predicted: a cold morning's test run comes first. The equipment maker's limits and licensed practice come before it.</p>`,
    });
  }
}

export async function open({ id }, screen) {
  const page = new SeasonPage(id, screen);
  page.load().catch((error) => { if (!error.cancelled) throw error; });
  return () => { page.closed = true; cancelHeavy(); };
}
