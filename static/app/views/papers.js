// papers.js: links to the PDFs, which need signal.
import { html } from '../../vendor/lit-html/lit-html.js';

const day = (record) => new Date(record.madeAt).toLocaleDateString('en-GB', { day: 'numeric', month: 'short', year: 'numeric' });
const link = (path, text, record) => html`<li>${record?.waiting ? html`<span class="row">${text}: when it is on the server</span>`
  : html`<a href=${path} target="_blank" rel="noopener">${text}<small>PDF</small></a>`}</li>`;

const NEWEST = 5;

/** Links to the papers of records, newest first; those beyond the newest behind one tap. */
function links(kind, text, records) {
  const all = [...records].sort((a, b) => b.madeAt.localeCompare(a.madeAt))
    .map((record) => link(`/papers/${kind}/${record.document}.pdf`, `${text}, ${day(record)}`, record));
  return html`${all.slice(0, NEWEST)}${all.length > NEWEST ? html`<li><details><summary class="figure-button"><span class="name">${text}: earlier ones</span></summary><ul class="rows">${all.slice(NEWEST)}</ul></details></li>` : ''}`;
}

/** Settings and season sheet, commissioning records, round reports of a system. */
export function papers(system, runs, rounds) {
  return html`<h2>Papers</h2><p class="small">${navigator.onLine ? '' : 'No signal: papers come from the server.'}</p><ul class="rows">
    ${link(`/papers/settings/${system}.pdf`, 'Settings sheet')}${link(`/papers/season/${system}.pdf`, 'Season sheet')}
    ${links('commissioning', 'Commissioning record', runs)}${links('round', 'Round report', rounds)}</ul>`;
}
