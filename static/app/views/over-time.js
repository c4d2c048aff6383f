// over-time.js: the pieces of a system over time: calls and what was set aside, charts with their figures, what happened.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { raiseAt } from './defects.js';
import { verdict } from './verdict.js';

const FIGURES = [
  ['latest', 'Last one, corrected'],
  ['centre', 'Centre'],
  ['lower', 'Lower limit'],
  ['upper', 'Upper limit'],
  ['change', 'Change since the drift began'],
  ['per_week', 'Growth a week'],
  ['meets', 'Until the time limit'],
  ['meets_coldest', 'Until then, when coldest'],
];
const USED = [
  ['used', 'Filled in'],
  ['expected', 'Given by the doses'],
  ['share', 'Filled in over given'],
  ['low', 'At least'],
  ['high', 'At most'],
];

// between limits that lie close, minutes and whole seconds are too coarse
const fine = (one) => (one.unit === 's' ? { ...one, shown: `${Number(one.value.toFixed(1))} s` } : one);

const folded = (title, inner) => html`<details><summary class="figure-button"><span class="name">${title}</span></summary>${inner}</details>`;

/** A call with what can be done about it; `aside`: {finding, why} while a reason is typed. */
export function callView(entry, system, aside, say) {
  const typing = aside?.finding === entry.id;
  return html`${verdict(entry)}<div class="buttons"><a class="button" href="/app/systems/${system}/fault-finding?says=${encodeURIComponent(entry.says)}">Find the fault</a>
    <a class="button" href=${raiseAt(system, entry.says)}>Raise a defect</a>
    ${entry.of && !typing ? html`<button @click=${() => say.begin(entry)}>Set it aside…</button>` : nothing}</div>
    ${typing ? html`<div class="field"><label for="why">Why it needs nothing</label><textarea id="why" rows="2" maxlength="300" .value=${aside.why} @input=${(event) => say.type(event.target.value)}></textarea>
      <div class="buttons"><button class="main" ?disabled=${!aside.why.trim()} @click=${() => say.keep(entry)}>Set it aside</button><button @click=${() => say.drop()}>Leave it open</button></div></div>` : nothing}`;
}

/** What was set aside, folded, with who, when, why, and when it comes back. */
export const asideView = ({ finding, by, at, why, back }) => folded(html`Set aside: ${finding.says}`, html`<p><strong>${why}</strong> ${by}, ${at}. ${back.says}</p>`);

/** A control chart since the baseline; `figure(path, name, figure)` draws one with its working. */
export function chartView(name, title, chart, drawn, figure) {
  return html`<h2>${title}</h2>${drawn.element}<p class="small">${drawn.says}</p>
    <div class="figures">${FIGURES.map(([key, text]) => (chart[key] ? figure(`${name}.${key}`, text, fine(chart[key])) : nothing))}</div>
    ${folded('Every reading', html`<div class="scroll" tabindex="0" role="group" aria-label=${title}><table><thead><tr><th>On</th><th>At</th><th>Measured</th><th>Corrected</th></tr></thead>
      <tbody>${drawn.rows.map(([day, warmth, measured, corrected, outside]) => html`<tr><th scope="row">${day}</th><td class="number">${warmth}</td>
        <td class="number">${measured}</td><td class="number">${corrected}${outside ? html`<br><small>outside</small>` : nothing}</td></tr>`)}</tbody></table></div>`)}`;
}

/** What was filled in against the doses. */
export const usedView = (whole, figure) => html`<h2>Consumption since the first refill</h2>
  <div class="figures">${USED.map(([name, text]) => figure(`consumption.${name}`, text, whole[name]))}</div>`;

/** Everything that happened in the span, newest first. */
export const happenedView = (rows) => folded(`Everything that happened: ${rows.length}`, html`<ul class="rows">${rows.map(([day, says]) => html`
  <li><div class="row"><span>${says}<small>${day}</small></span></div></li>`)}</ul>`);
