// fault-finding.js: from what is seen to the cause: one question at a time, then one check at a time; left and resumed at will.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { draft as readDraft, dropDraft, get, keepDraft } from '../documents.js';
import { askHeavy, cancelHeavy, units } from '../engine.js';
import { go } from '../go.js';
import { loadUnits, preferred, read } from '../units.js';
import { cautions } from '../views/cautions.js';
import { checkView, orderView, questionView } from '../views/question.js';
import { verdict, verdicts } from '../views/verdict.js';
import { workSaved } from '../worked.js';

const AT_ONCE = 4;
const QUESTIONS = [
  { name: 'ran_into_limit', ask: 'Did the controller say that the time limit passed?', help: 'Its fault memory, or the alarm.' },
  { name: 'tripped_at_once', ask: 'Does a switch read as tripped the moment the pump starts?', help: 'The indication at the controller.' },
  { name: 'low_level', ask: 'Is the reservoir at its low level?', help: 'Look, do not trust the lamp alone.' },
  { name: 'build_s', ask: 'How long from pump on until the switch trips?', help: 'By stopwatch.', unit: 's', unless: (readings) => readings.ran_into_limit || readings.tripped_at_once },
  { name: 'pressure_bar', ask: 'Highest pressure at the pump', help: 'When the pump stops.', unit: 'bar', at: 'pump' },
  { name: 'residual_bar', ask: 'Pressure at the pump when the pause begins', help: 'After the vent.', unit: 'bar', at: 'pump', kinds: ['single-line', 'dual-line', 'time-only'] },
  { name: 'dry_points', ask: 'Which points stay dry?', help: 'By their indicator, or no fresh film at the seal.', points: true },
  { name: 'at_c', ask: 'Temperature at the line', help: 'Not read: the usual one is taken.', unit: '°C' },
];
const FRESH = () => ({ cautions: false, readings: {}, asked: [], typed: {}, dry: [], tried: [], simulated: {} });

class FaultFinding {
  constructor(id, screen) { Object.assign(this, { id, screen, error: '', lost: '', order: null, working: '', closed: false, turn: 0 }); }

  async load() {
    this.held = await get(this.id);
    if (!this.held) { await go(`/app/systems/${this.id}`, { replace: true }); return false; }
    await loadUnits();
    this.units = await units();
    this.points = this.held.body.points;
    const kept = await readDraft(`fault:${this.id}`);
    this.draft = kept ?? FRESH();
    if (this.draft.revision !== this.held.revision) Object.assign(this.draft, { simulated: {}, revision: this.held.revision });
    return true;
  }

  unit(name) { return preferred(name, this.units); }

  keep() {
    return keepDraft(`fault:${this.id}`, this.draft).then(() => { this.lost = ''; }, (error) => { this.lost = `This phone could not keep the answer: ${error.message}.`; });
  }

  question() {
    const { asked, readings } = this.draft;
    return QUESTIONS.find((one) => !asked.includes(one.name) && !one.unless?.(readings) && (one.kinds ?? [this.held.body.kind]).includes(this.held.body.kind));
  }

  type(name, text) { this.draft.typed[name] = text; this.keep(); }

  toggle(id) {
    const { dry } = this.draft;
    this.draft.dry = dry.includes(id) ? dry.filter((one) => one !== id) : [...dry, id];
    this.keep();
    this.show();
  }

  reading(question) {
    try { this.answer(question, read(this.draft.typed[question.name] ?? '', question.unit, this.unit(question.unit))); } catch (error) { this.error = error.message; this.show(); }
  }

  async answer({ name, at }, value) {
    if (this.draft.asked.includes(name)) return; // a second tap before the next question is drawn
    this.error = '';
    this.draft.asked.push(name);
    if (value !== null) this.draft.readings[name] = at ? { [at]: value } : value;
    await this.keep();
    this.next();
  }

  async tried({ cause }, answer) {
    if (!this.order) return; // a second tap before the next check is drawn
    this.draft.tried.push({ cause, answer });
    this.order = null;
    await this.keep();
    this.next();
  }

  again = async () => {
    await dropDraft(`fault:${this.id}`);
    Object.assign(this, { order: null, draft: { ...FRESH(), cautions: true, revision: this.held.revision } });
    this.next();
  };

  next() {
    this.show();
    if (this.draft.cautions && !this.question() && !this.found()) this.find();
  }

  found() { return this.draft.tried.find(({ answer }) => answer === 'found'); }

  /** The first order at once, then what the simulation says of the likeliest, one by one. */
  async find() {
    const turn = ++this.turn;
    const { simulated, readings, tried } = this.draft;
    this.working = 'Comparing with the simulation…';
    try {
      if (!this.worked) await workSaved(this.held, (worked) => { this.worked = worked; });
      const { points, interval, build, vent, reservoir } = this.worked;
      const request = { document: this.held.body, worked: { points, interval, build, vent, reservoir }, readings, tried };
      for (let open = true; open && turn === this.turn && !this.closed;) {
        this.order = await askHeavy({ do: 'diagnose', ...request, simulated });
        if (this.order.findings) break;
        simulated.healthy = this.order.healthy;
        const keys = this.order.next.slice(0, AT_ONCE);
        open = keys.length > 0;
        for (const [number, key] of keys.entries()) {
          this.working = `Simulating what each cause would show: ${number + 1} of ${keys.length}…`;
          this.show();
          simulated[key] = await askHeavy({ do: 'predict', ...request, key });
        }
      }
    } catch (error) { if (!error.cancelled) throw error; return; }
    if (turn !== this.turn || this.closed) return;
    this.working = '';
    await this.keep();
    this.show();
  }

  body() {
    const { draft, order } = this;
    if (!draft.cautions) {
      return html`<h2>Before you start</h2>${cautions()}<p><button class="main" @click=${() => { draft.cautions = true; this.keep(); this.next(); }}>I have read this</button></p>`;
    }
    const question = this.question();
    if (question) return questionView(question, this);
    if (this.found()) return html`${verdict({ severity: 'good', says: 'The cause is found.', do: 'Put it right, then time a cycle again.' })}<p><a class="button" href="/app/systems/${this.id}/test-run">Time a test run</a></p>`;
    if (order?.findings) return verdicts(order.findings);
    if (!order) return html`<p role="status">${this.working}</p>`;
    return html`${checkView(order.causes[0], this, this.working)}${orderView(order.causes)}`;
  }

  show() {
    if (this.closed) return;
    const { asked, tried, cautions: begun } = this.draft;
    this.screen.show({ above: `${this.held.body.name} · fault finding`, title: this.question() ? 'What is seen' : 'What to check', tab: 'Systems', busy: true, state: this.lost || 'draft',
      body: html`${this.body()}${begun && asked.length + tried.length ? html`<p><button class="quiet" @click=${this.again}>Start again</button></p>` : nothing}
        <p class="small">Results support a competent person's judgement; the equipment maker's limits, local electrical codes and licensed practice come first.</p>` });
  }
}

export async function open({ id }, screen) {
  const page = new FaultFinding(id, screen);
  if (!(await page.load())) return null;
  page.next();
  return () => { page.closed = true; cancelHeavy(); };
}
