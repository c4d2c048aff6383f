// figure.js: a figure large, its working one tap away.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';

/** A formula as a reader writes it. */
export function readable(formula) {
  return formula.replaceAll('**', '^').replaceAll('*', '×').replaceAll('>=', '≥').replaceAll('<=', '≤').replaceAll('_', ' ');
}

function input([name, one]) {
  return html`<tr><th scope="row">${name.replaceAll('_', ' ')}</th><td>${one.means}${one.estimate ? ' (estimate)' : ''}</td>
    <td class="number">${one.shown}${one.metric && one.metric !== one.shown ? html`<br><small>${one.metric}</small>` : nothing}</td></tr>`;
}

/** The working of a figure: formula, inputs, source, whether it is an estimate. */
export function working(figure) {
  return html`<div class="working">
    <p class="formula">${readable(figure.formula)}</p>
    <div class="scroll" tabindex="0" role="group" aria-label="What goes in"><table><tbody>${Object.entries(figure.inputs).map(input)}</tbody></table></div>
    <p><small>= ${figure.shown}. ${figure.estimate ? 'An estimate: something that goes in is one. ' : ''}Source: ${figure.source}.</small></p>
    ${figure.residual ? html`<p><small>Checked: ${figure.residual.says}, off by
      ${(100 * figure.residual.value).toExponential(1)} %.</small></p>` : nothing}
  </div>`;
}

/** The range of a prediction, {low, high}, in words; an end that is null never comes. */
export function rangeText({ low, high }) {
  if (high) return `${low?.shown ?? ''} to ${high.shown}`;
  return low ? `from ${low.shown}, or never` : 'hardly ever';
}

/** A button with the figure's name and value; `open` tells whether its working is shown, `toggle` opens and closes it. */
export function figureButton(name, figure, open, toggle) {
  if (!figure) return html`<div class="figure-button"><span class="name">${name}</span><span class="value">…</span></div>`;
  return html`<button class="figure-button" aria-expanded=${open} @click=${toggle}>
    <span class="name">${name}</span><span class="value">${figure.shown}</span>
    ${figure.estimate ? html`<span class="estimate">${figure.range ? `estimate, 80 %: ${figure.range}` : 'estimate'}</span>` : nothing}
  </button>${open ? working(figure) : nothing}`;
}

/** For a page that opens and closes figures: figure(path, name, figure) => HTML; `draw` draws the page anew. */
export function figuresOf(draw) {
  const opened = new Set();
  return (path, name, figure) => figureButton(name, figure, opened.has(path), () => {
    if (!opened.delete(path)) opened.add(path);
    draw();
  });
}
