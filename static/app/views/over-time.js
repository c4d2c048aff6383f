// over-time.js: the section of a system's page on what its rounds say: findings, chart, figures, every reading.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { verdict } from './verdict.js';

const FIGURES = [['latest', 'Last build-up, corrected'], ['centre', 'Centre'], ['lower', 'Lower limit'], ['upper', 'Upper limit'],
  ['change', 'Change since it drifts'], ['per_week', 'Growth a week'], ['meets', 'Until the time limit'], ['meets_coldest', 'Until then, when coldest']];

const USED = [['used', 'Filled in'], ['expected', 'Given by the doses'], ['share', 'Filled in over given'], ['low', 'At least'], ['high', 'At most']];

/** `over`: what over-time.js gives, null where there is nothing; `figure(path, name, figure)` draws one with its working. */
export function overTimeView(over, figure) {
  if (!over) return nothing;
  const { trend, drawn } = over;
  return html`<h2>Over time</h2>${trend.findings.map(verdict)}${drawn ? chart(trend, drawn, figure) : nothing}${trend.consumption?.whole ? html`
    <h3>Consumption since the first refill</h3><div class="figures">${USED.map(([name, text]) => figure(`consumption.${name}`, text, trend.consumption.whole[name]))}</div>` : nothing}`;
}

function chart(trend, drawn, figure) {
  return html`${drawn.element}<p class="small">${drawn.says}</p>
    <div class="figures">${FIGURES.map(([name, text]) => (trend.build_up[name] ? figure(`trend.${name}`, text, trend.build_up[name]) : nothing))}</div>
    <details><summary class="figure-button"><span class="name">Every reading</span></summary><div class="scroll"><table><thead><tr><th>On</th><th>At</th><th>Measured</th><th>Corrected</th></tr></thead>
      <tbody>${drawn.rows.map(([day, warmth, measured, corrected, outside]) => html`<tr><th scope="row">${day}</th><td class="number">${warmth}</td>
        <td class="number">${measured}</td><td class="number">${corrected}${outside ? html`<br><small>outside</small>` : nothing}</td></tr>`)}</tbody></table></div></details>`;
}
