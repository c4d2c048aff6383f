// fault-finding.js: from a finding or a symptom to the cause: one question at a time, then one check at a time; left and resumed at will, and
// ended as a case of its own: closed with what was done, or made a defect.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { causeName, causesOf, causesTaught } from '../defects.js';
import { draft as readDraft, dropDraft, get, keepDraft, newId, save, timeHere } from '../documents.js';
import { askHeavy, cancelHeavy, units, versionHere } from '../engine.js';
import { go } from '../go.js';
import { nextQuestion, readLately, symptomsOf } from '../questions.js';
import { current } from '../session.js';
import { loadUnits, preferred, read, toText } from '../units.js';
import { cautions } from '../views/cautions.js';
import { checkView, endView, orderView, questionView, symptomView } from '../views/question.js';
import { verdicts } from '../views/verdict.js';
import { workSaved } from '../worked.js';

const AT_ONCE = 4;
const FRESH = () => ({
  id: newId(),
  cautions: false,
  symptom: '',
  first: [],
  readings: {},
  asked: [],
  typed: {},
  dry: [],
  tried: [],
  simulated: {},
  anew: [],
  how: '',
  ended: false,
});

class FaultFinding {
  constructor(id, screen) { Object.assign(this, { id, screen, error: '', lost: '', order: null, working: '', closed: false, turn: 0 }); }

  async load() {
    this.held = await get(this.id);
    if (!this.held) { await go(`/app/systems/${this.id}`, { replace: true }); return false; }
    await loadUnits();
    this.units = await units();
    this.points = this.held.body.points;
    let engine;
    [this.draft, this.lately, this.taught, this.names, engine] = await Promise.all([
      readDraft(`fault:${this.id}`), readLately(this.id, this.held.body), causesTaught(this.held.body.site), causesOf(this.held.body), versionHere()]);
    this.taught = this.taught.filter((cause) => this.names.has(causeName(cause)));
    this.draft = this.draft
      ? { ...FRESH(), ...this.draft }
      : { ...FRESH(), symptom: new URLSearchParams(location.search).get('says') ?? '' };
    this.of = { revision: this.held.revision, engine };
    // what was simulated holds for this revision, and another engine may say it in another way
    if (Object.keys(this.of).some((name) => this.draft[name] !== this.of[name])) Object.assign(this.draft, this.of, { simulated: {} });
    return true;
  }

  unit(name) { return preferred(name, this.units); }

  keep() {
    return keepDraft(`fault:${this.id}`, this.draft).then(() => { this.lost = ''; }, (error) => { this.lost = `This phone could not keep the answer: ${error.message}.`; });
  }

  question() { return nextQuestion(this.draft, this.held.body.kind, this.lately); }

  /** The reading of the last days that answers a question, unless it is to be read again. */
  offered({ name, anew }) { return anew || this.draft.anew.includes(name) ? undefined : this.lately[name]; }

  /** An offered reading in words. */
  words({ name, unit, points }, { value, level, more }) {
    if (points) return this.points.filter(({ id }) => value.includes(id)).map((point) => point.name).join(', ');
    const text = (amount, of) => `${toText(Number(amount.toPrecision(4)), of, this.unit(of))} ${this.unit(of)}`;
    return name === 'low_level' ? `${text(level, 'l')} in it, ${value ? 'at or below' : 'above'} the low level` : `${text(value, unit)}${more ? `, ${Math.round(more.since_h / 24)} days after the one before` : ''}`;
  }

  async askAnew({ name }) {
    this.draft.anew.push(name);
    if (name === 'dry_points') this.draft.dry = [...this.lately.dry_points.value];
    await this.keep();
    this.show();
  }

  async start({ says, sets = {}, first = [] }) {
    if (this.draft.symptom) return; // a second tap before the first question is drawn
    Object.assign(this.draft, {
      symptom: says,
      first,
      readings: { ...this.draft.readings, ...sets },
      asked: [...this.draft.asked, ...Object.keys(sets)],
    });
    await this.keep();
    this.next();
  }

  type(name, text) { this.draft.typed[name] = text; this.keep(); }

  toggle(id) {
    const { dry } = this.draft;
    this.draft.dry = dry.includes(id) ? dry.filter((one) => one !== id) : [...dry, id];
    this.keep();
    this.show();
  }

  reading(question) {
    try {
      this.answer(question, read(this.draft.typed[question.name] ?? '', question.unit, this.unit(question.unit)));
    } catch (error) {
      this.error = error.message;
      this.show();
    }
  }

  async answer({ name, at }, value, more = {}) {
    if (this.draft.asked.includes(name)) return; // a second tap before the next question is drawn
    this.error = '';
    this.draft.asked.push(name);
    if (value !== null) Object.assign(this.draft.readings, { [name]: at ? { [at]: value } : value }, more);
    await this.keep();
    this.next();
  }

  async tried({ cause, name }, answer) {
    if (!this.order) return; // a second tap before the next check is drawn
    this.draft.tried.push({ cause, answer, name, at: timeHere() });
    this.order = null;
    await this.keep();
    this.next();
  }

  again = async () => {
    await dropDraft(`fault:${this.id}`);
    Object.assign(this, { order: null, error: '', draft: { ...FRESH(), cautions: true, ...this.of } });
    this.next();
  };

  async end(ended) { this.draft.ended = ended; await this.keep(); this.next(); }

  because(text) { this.draft.how = text; this.error = ''; this.keep(); }

  record() {
    const { id, symptom, readings, tried } = this.draft;
    const found = this.found();
    return {
      format: 'fault-case/1',
      id,
      system: this.id,
      system_revision: this.held.revision,
      made_at: timeHere(),
      made_by: current().name,
      symptom,
      readings,
      tried,
      ...(found ? { cause: found.cause } : {}),
    };
  }

  async close() {
    const how = this.draft.how.trim();
    if (!how) { this.error = 'Say in a few words what was done.'; this.show(); return; }
    const record = this.record();
    await save('fault-case', record.id, { ...record, closed: { by: record.made_by, at: record.made_at, how } }, { dropDraft: `fault:${this.id}` });
    await go(`/app/systems/${this.id}`);
  }

  async makeDefect() {
    const record = this.record();
    await save('fault-case', record.id, record, { dropDraft: `fault:${this.id}` });
    await go(`/app/systems/${this.id}/defects/new?case=${record.id}`);
  }

  next() {
    this.show();
    const { cautions: begun, symptom, ended } = this.draft;
    if (begun && symptom && !ended && !this.question() && !this.found()) this.find();
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
      const request = {
        document: this.held.body,
        worked: { points, interval, build, vent, reservoir },
        readings,
        tried,
        closed: this.taught,
      };
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
    if (!draft.symptom) return symptomView(symptomsOf(this.held.body.kind), (one) => this.start(one));
    if (this.found() || draft.ended) return endView(this.found(), this);
    const question = this.question();
    if (question) return questionView(question, this);
    if (order?.findings) return verdicts(order.findings);
    if (!order) return html`<p role="status">${this.working}</p>`;
    return html`${checkView(order.causes[0], this, this.working, this.taught.length)}${orderView(order.causes)}`;
  }

  show() {
    if (this.closed) return;
    const { symptom, cautions: begun } = this.draft;
    this.screen.show({ above: `${this.held.body.name} · fault finding`, title: this.found() || this.draft.ended ? 'End of the search' : !symptom || this.question() ? 'What is seen' : 'What to check', tab: 'Systems', busy: true, state: this.lost || 'draft',
      body: html`${this.body()}${begun && symptom ? html`<p class="small">Seen first: ${symptom}</p>` : nothing}${begun && symptom ? html`<p><button class="quiet" @click=${this.again}>Start again</button></p>` : nothing}
        <p class="small">Results support a competent person's judgement; the equipment maker's limits, local electrical codes and licensed practice come first.</p>` });
  }
}

export async function open({ id }, screen) {
  const page = new FaultFinding(id, screen);
  if (!(await page.load())) return null;
  page.next();
  return () => { page.closed = true; cancelHeavy(); };
}
