// scrub.js: a picture of traces with a slider for the time: a hair line over the traces, below it the pressure along the line at that moment.
import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { live } from '../vendor/lit-html/directives/live.js';
import { picture } from './picture.js';

function shape(into, name, attributes) {
  const made = document.createElementNS('http://www.w3.org/2000/svg', name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  into.append(made);
  return made;
}

/** All moments come once, as a table; moving the slider asks nothing and draws only what moves. */
export class Scrub {
  /** `traced`: a picture of traces; `along`: the engine's `along_line` of the same traces; `draw` draws the page anew. */
  constructor(traced, along, draw) {
    Object.assign(this, {
      along,
      draw,
      which: 0,
      text: traced.says,
      traces: picture(traced.svg),
      line: picture(along.svg),
      words: document.createElement('p'),
    });
    this.hairs = along.panels.map(() => shape(this.traces, 'path', { class: 'hair' }));
    this.curves = along.curves.map(({ dash }) =>
      shape(this.line, 'path', {
        class: dash ? 'trace-b' : 'trace-a',
        fill: 'none',
        'stroke-width': 4,
        ...(dash ? { 'stroke-dasharray': '2 4' } : {}),
      }),
    );
    // one line is named at its far end, the other at the pump, so that the names never meet
    this.names = along.curves.filter(({ name }) => name).map(({ name, columns, dash }) => {
      const label = shape(this.line, 'text', { class: 'trace-label', 'font-size': 13, 'text-anchor': dash ? 'start' : 'end' });
      label.textContent = name;
      return { label, column: dash ? columns[0] : columns.at(-1), beside: dash ? 4 : -12 };
    });
    this.marks = along.things.map(([, symbol]) => (symbol === 'device' ? shape(this.line, 'circle', { r: 6, 'stroke-width': 3 })
      : shape(this.line, 'path', { d: 'M0 -8L8 0L0 8L-8 0Z', 'stroke-width': 3 })));
    // begins where the pressure at the pump is highest
    const pump = along.traces[0].y.map(([first]) => first);
    this.at = pump.indexOf(Math.min(...pump));
    this.place();
  }

  /** Put everything where it is at this moment. */
  place() {
    const { along, at } = this;
    const { hair, y, on, says } = along.traces[this.which];
    const point = (column) => `${along.x[column]} ${y[at][column]}`;
    this.hairs.forEach((one, number) => one.setAttribute('d', `M${hair[at]} ${along.panels[number].join('V')}`));
    this.curves.forEach((curve, number) => curve.setAttribute('d', `M${along.curves[number].columns.map(point).join('L')}`));
    for (const { label, column, beside } of this.names) label.setAttribute('transform', `translate(${along.x[column] + beside} ${y[at][column] - 10})`);
    this.marks.forEach((mark, number) => {
      const [column, symbol, , above] = along.things[number];
      mark.setAttribute('transform', `translate(${along.x[column]} ${y[at][column] - above})`);
      mark.setAttribute('class', on[at][number] === '1' ? `${symbol} moved` : symbol);
    });
    this.words.textContent = says[at];
  }

  move = ({ target }) => {
    this.at = Number(target.value);
    this.place();
    target.setAttribute('aria-valuetext', this.words.textContent);
  };

  choose(which) { this.which = which; this.place(); this.draw(); }

  /** Both pictures with the slider at the thumb. */
  view() {
    const { traces } = this.along;
    return html`<div class="scrub">${this.traces}<p class="small">${this.text}</p>
      <h3>Along the line at one moment</h3>
      ${traces.length > 1 ? html`<div class="buttons" role="group" aria-label="Which trace">${traces.map(({ name }, number) => html`
        <button aria-pressed=${number === this.which} @click=${() => this.choose(number)}>${name}</button>`)}</div>` : nothing}
      ${this.line}<p class="small">${this.along.says}</p>
      <div class="moment">${this.words}<input type="range" aria-label="Moment of the cycle" min="0" max=${traces[0].hair.length - 1} step="1"
        .value=${live(String(this.at))} aria-valuetext=${this.words.textContent} @input=${this.move}></div></div>`;
  }
}
