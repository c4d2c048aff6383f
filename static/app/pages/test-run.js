// test-run.js: a guided, timed test run. Every tap is on disk before the page goes on; the stopwatch outlives the browser.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { draft as readDraft, get, keepDraft, newId, saveAll, timeHere } from '../documents.js';
import { ask, askHeavy, units } from '../engine.js';
import { loadUnits, preferred, read, toText } from '../units.js';
import { go } from '../go.js';
import { measuredOf, nextMark, timedOf, timesOf } from '../marks.js';
import { current } from '../session.js';
import * as stopwatch from '../stopwatch.js';
import { cautions } from '../views/cautions.js';
import { figureButton } from '../views/figure.js';
import { runningView, runsTable, seenView } from '../views/run.js';
import { verdicts } from '../views/verdict.js';

// what is typed, by its place in the record
const ENTERED = { at_c: 'temperature', delivery_cm3_min: 'delivery', 'held.bar': 'held', 'residual_bar[0].bar': 'residual' };

class TestRun {
  constructor(id, screen) { Object.assign(this, { id, screen, judged: null, opened: new Set(), turn: 0, lost: '', errors: {} }); }

  async load() {
    this.held = await get(this.id);
    if (!this.held) { await go(`/app/systems/${this.id}`, { replace: true }); return false; }
    await loadUnits();
    this.units = await units();
    this.timed = timedOf(this.held.body);
    this.blind = this.held.body.kind === 'time-only';
    this.draft = (await readDraft(`test-run:${this.id}`)) ?? { id: newId(), cautions: null, running: null, runs: [], typed: {}, note: '', seen: {} };
    this.judge().then(() => this.show());
    return true;
  }

  keep() {
    return keepDraft(`test-run:${this.id}`, this.draft).then(() => { this.lost = ''; }, (error) => {
      this.lost = `This phone could not keep it: ${error.message}. Write the time down.`;
    });
  }

  /** Something changed: keep it, then show it, then judge it anew. */
  change = async (judge = false) => {
    await this.keep();
    this.show();
    if (judge) { await this.judge(); this.show(); }
  };

  number(name, unit) {
    const text = this.draft.typed[name] ?? '';
    delete this.errors[name];
    if (!text.trim()) return undefined;
    try { return read(text, unit, preferred(unit, this.units)); } catch (error) { this.errors[name] = error.message; return undefined; }
  }

  record() {
    const residual = this.number('residual', 'bar');
    const worst = this.held.body.devices.at(-1).at;
    const [at, caught, held] = [this.number('temperature', '°C'), this.number('delivery', 'cm³/min'), this.number('held', 'bar')];
    return { format: 'test-run/1', id: this.draft.id, system: this.id, system_revision: this.held.revision, made_by: current().name,
      ...(at === undefined ? {} : { at_c: at }), cautions_read_at: this.draft.cautions, runs: this.draft.runs, note: this.draft.note,
      ...(this.blind ? { seen: Object.entries(this.draft.seen ?? {}).map(([point, fed]) => ({ point, fed })) } : {}),
      ...(caught === undefined ? {} : { delivery_cm3_min: caught }), ...(held === undefined ? {} : { held: { after_s: 60, bar: held } }),
      residual_bar: residual === undefined ? [] : [{ at: this.draft.typed.place ?? worst, bar: residual }] };
  }

  async judge() {
    const turn = ++this.turn;
    const record = this.record();
    const { findings } = await ask({ do: 'check', document: { ...record, made_at: timeHere() } });
    const wrong = findings.filter(({ where }) => where in ENTERED);
    for (const { where, says, do: what } of wrong) this.errors[ENTERED[where]] ??= `${says} ${what}`;
    if (wrong.length || turn !== this.turn) return;
    const answer = await askHeavy({ do: 'verdict', document: this.held.body, record }).catch((error) => {
      if (!error.cancelled) throw error;
    });
    if (turn === this.turn && answer) this.judged = answer;
  }

  start = async () => {
    this.draft.running = { ...stopwatch.begin(), startedAt: timeHere() };
    await this.change();
    this.tick();
  };

  mark = async (name) => {
    const run = this.draft.running;
    stopwatch.mark(run, name);
    if (nextMark(run, this.timed)) return this.change();
    this.draft.runs.push({
      id: newId(),
      started_at: run.startedAt,
      ...timesOf(this.held.body, run.marks),
      counts: true,
      resumed: stopwatch.resumed(run),
    });
    this.draft.running = null;
    this.stopTicking?.();
    return this.change(true);
  };

  stop = async () => { this.draft.running = null; this.stopTicking?.(); await this.change(); };

  toggle = async (index) => { const run = this.draft.runs[index]; run.counts = run.counts === false; await this.change(true); };

  tick() {
    this.stopTicking?.();
    this.stopTicking = stopwatch.ticking(() => this.show());
  }

  async sign() {
    const made = timeHere();
    const { name } = current();
    const record = { ...this.record(), made_at: made, signed: { by: name, at: made } };
    const counted = record.runs.filter((run) => run.counts !== false);
    const measured = { ...measuredOf(counted), residual_bar: record.residual_bar,
      ...(record.at_c === undefined ? {} : { at_c: record.at_c }) };
    await this.keep();
    await saveAll([
      { kind: 'test-run', document: record.id, body: record },
      { kind: 'system', document: this.id, body: { ...this.held.body, measured, baseline_run: record.id }, options: { from: this.held.revision, reason: 'baseline from a test run' } },
    ], `test-run:${this.id}`);
    await go(`/app/systems/${this.id}`);
  }

  expected() {
    const found = this.timed.expects.map((words, half) => [words, ...['low', 'high'].map((end) => this.judged?.[`predicted_${end}${half ? '_b' : ''}`])]);
    const told = found.filter(([, low]) => low).map(([words, low, high]) => `${low.shown} to ${high.shown} ${words}`);
    return told.length ? `Expect ${told.join(', ')}.` : '';
  }

  input(name, label, unit, help) {
    const error = this.errors[name];
    return html`<div class="field ${error ? 'wrong' : ''}"><label for=${name}>${label}</label><p class="help">${help}</p>
      <div class="with-unit"><input id=${name} autocomplete="off" .value=${this.draft.typed[name] ?? ''} @input=${(event) => {
        this.draft.typed[name] = event.target.value;
        this.change(true);
      }}><span>${preferred(unit, this.units)}</span></div>
      ${error ? html`<p class="field-error">${error}</p>` : nothing}</div>`;
  }

  body() {
    const { running, runs } = this.draft;
    if (!this.draft.cautions) {
      return html`<h2>Before you start</h2>${cautions()}<p><button class="main" @click=${() => { this.draft.cautions = timeHere(); this.change(); }}>I have read this</button></p>`;
    }
    if (running) {
      return html`${runningView(stopwatch.elapsed(running), running, this.timed, { onMark: this.mark, onStop: this.stop, resumed: stopwatch.resumed(running), expected: this.expected() })}
        ${runsTable(runs, this.timed, this.toggle)}`;
    }
    const { usual_c: usual } = this.held.body.ambient;
    return html`
      ${this.input('temperature', 'Temperature at the line', '°C', `Usual here: ${toText(usual, '°C', preferred('°C', this.units))} ${preferred('°C', this.units)}`)}
      <p class="expected">${this.expected()}</p>
      <p><button class="main huge" @click=${this.start}>Pump starts now</button></p>
      ${runsTable(runs, this.timed, this.toggle)}
      ${this.blind ? seenView(this.held.body.points, this.draft.seen ??= {}, (point, fed) => { this.draft.seen[point] = fed; this.change(true); }) : nothing}
      ${runs.length ? html`${verdicts(this.judged?.findings ?? [], 'As predicted.')}<div class="figures">${[['median', 'Median'], ['spread', 'Spread'], ['median_b', 'Median, line B'], ['spread_b', 'Spread, line B'], ['time_limit', this.timed.limit]].map(([name, text]) => (this.judged?.[name]
        ? figureButton(text, this.judged[name], this.opened.has(name), () => { if (!this.opened.delete(name)) this.opened.add(name); this.show(); }) : nothing))}</div>
        ${this.held.body.kind === 'progressive' ? nothing : this.input('residual', 'Pressure left in the line after venting', 'bar', 'May stay empty. At the far end, a minute after the vent opened')}
        ${this.input('delivery', 'What the pump gives in one minute', 'cm³/min', 'May stay empty. Caught in a cup: isolate and release pressure before you open the line')}
        ${this.held.body.kind === 'single-line' ? this.input('held', 'Pressure one minute after the pump stopped', 'bar', 'May stay empty. On the gauge at the pump, the vent held shut: a leak lets it sag') : nothing}
        <div class="field"><label for="note">Note</label><textarea id="note" rows="2" .value=${this.draft.note} @input=${(event) => { this.draft.note = event.target.value; this.change(); }}></textarea></div>` : nothing}
      <p><button class="quiet" @click=${() => { this.draft.cautions = null; this.change(); }}>Show the cautions again</button></p>`;
  }

  show() {
    const { running, runs } = this.draft;
    const counted = runs.filter((run) => run.counts !== false).length;
    const title = running ? `Run ${runs.length + 1}: ${nextMark(running, this.timed).title}` : 'Test run';
    this.screen.show({
      above: `${this.held.body.name} · timed run`, title, tab: 'Systems', busy: true, state: this.lost || 'draft', body: this.body(),
      foot: running || !counted ? nothing : html`<button class="main" ?disabled=${Object.keys(this.errors).length > 0} @click=${() => this.sign()}>Sign off ${counted} ${counted === 1 ? 'run' : 'runs'} as the baseline</button>`,
    });
  }
}

export async function open({ id }, screen) {
  const page = new TestRun(id, screen);
  if (!(await page.load())) return null;
  page.show();
  if (page.draft.running) page.tick();
  return () => page.stopTicking?.();
}
