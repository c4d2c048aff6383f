// over-time.js: one system over time: what its charts call, all that is held on one axis, the charts, consumption, every reading.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { draft as readDraft, dropDraft, get, keepDraft, newId, onChange, save, timeHere } from '../documents.js';
import { ask, cancelHeavy } from '../engine.js';
import { go } from '../go.js';
import { callsOf, overTime } from '../over-time.js';
import { picture } from '../picture.js';
import { current } from '../session.js';
import { figuresOf } from '../views/figure.js';
import { asideView, callView, chartView, happenedView, usedView } from '../views/over-time.js';
import { verdict, verdicts } from '../views/verdict.js';

const WIDTH = 328;
const SPANS = [['3 months', 92], ['1 year', 366], ['All', null]];
const CHARTS = [['build_up', 'Timed cycle since the baseline'], ['residual', 'Pressure left since the baseline']];

class OverTimePage {
  constructor(id, screen) { Object.assign(this, { id, screen, figure: figuresOf(() => this.show()), key: `set-aside:${id}`, days: null, says: 'Looking at the records…', result: null, turn: 0 }); }

  async load() {
    const turn = ++this.turn;
    this.held = await get(this.id);
    if (!this.held || this.held.deleted) return go(`/app/systems/${this.id}`, { replace: true });
    this.aside ??= (await readDraft(this.key)) ?? null;
    this.show();
    const result = await overTime(this.held, (says) => {
      this.says = says;
      this.show();
    }).catch((error) => {
      if (!error.cancelled) throw error;
      return null;
    });
    if (!result || turn !== this.turn || result.stamp === this.result?.stamp) return null;
    this.says = 'Drawing…';
    this.charts = await Promise.all(
      CHARTS.filter(([name]) => result.trend[name]?.points.length > 1).map(async ([name, title]) => [
        name,
        title,
        await this.draw({ do: 'trend_picture', chart: result.trend[name] }),
      ]),
    );
    this.result = result;
    return this.span(this.days);
  }

  async draw(request) {
    const drawn = await ask({ ...request, width: WIDTH });
    return { ...drawn, element: picture(drawn.svg) };
  }

  span = async (days) => {
    this.days = days;
    const { history } = this.result;
    this.drawn = history?.first == null ? null : await this.draw({ do: 'history_picture', history, days });
    this.show();
  };

  // ---- setting a call aside

  begin = (entry) => { this.type('', entry.id); };

  type = (why, finding = this.aside.finding) => { this.aside = { finding, why }; keepDraft(this.key, this.aside); this.show(); };

  drop = async () => { this.aside = null; await dropDraft(this.key); this.show(); };

  keep = async (entry) => {
    const body = {
      format: 'set-aside/1',
      id: newId(),
      system: this.id,
      system_revision: this.held.revision,
      made_at: timeHere(),
      made_by: current().name,
      finding: entry.id,
      says: entry.says,
      of: entry.of,
      why: this.aside.why.trim(),
    };
    this.aside = null;
    await save('set-aside', body.id, body, { dropDraft: this.key });
  };

  body() {
    const { trend } = this.result;
    const calls = callsOf(this.result);
    return html`
      ${calls.map((entry) => callView(entry, this.id, this.aside, this))}
      ${calls.length ? nothing : verdicts([], trend.set_aside.length ? 'Nothing is called that was not set aside.' : 'Nothing drifts.')}
      ${trend.set_aside.map(asideView)}
      <div class="two"><div>${this.drawn ? html`<h2>All that is held</h2>
        <div class="buttons spans" role="group" aria-label="Span">${SPANS.map(([words, days]) => html`<button aria-pressed=${days === this.days} @click=${() => this.span(days)}>${words}</button>`)}</div>
        ${this.drawn.element}<p class="small">${this.drawn.says}</p>${happenedView(this.drawn.rows)}
        ${this.result.history.level ? html`<div class="figures">${this.figure('level', 'Measured over predicted', this.result.history.level)}</div>` : nothing}`
        : html`<p>Nothing to show yet: walk a round and time a cycle, or add a refill.</p>`}</div>
      <div>${this.charts.map(([name, title, drawn]) => chartView(name, title, trend[name], drawn, this.figure))}
        ${trend.consumption?.whole ? usedView(trend.consumption.whole, this.figure) : nothing}
        ${trend.findings.filter(({ severity }) => severity === 'note').map(verdict)}</div></div>`;
  }

  show() {
    this.screen.show({ above: this.held.body.name, title: 'Over time', tab: 'Systems', state: this.held.waiting ? 'phone' : 'server', busy: Boolean(this.aside),
      body: html`${this.result ? this.body() : html`<p role="status">${this.says}</p>`}<p><a class="button" href="/app/systems/${this.id}">Back to the system</a></p>` });
  }
}

export async function open({ id }, screen) {
  const page = new OverTimePage(id, screen);
  const stop = onChange(() => page.load());
  page.load();
  return () => { page.turn = Infinity; stop(); cancelHeavy(); };
}
