// papers.js: links to the PDFs, which need signal.
import { html } from '/static/vendor/lit-html/lit-html.js';

const day = (record) => new Date(record.madeAt).toLocaleDateString('en-GB', { day: 'numeric', month: 'short', year: 'numeric' });
const link = (path, text, record) => html`<li>${record?.waiting ? html`<span class="row">${text}: when it is on the server</span>`
  : html`<a href=${path} target="_blank" rel="noopener">${text}<small>PDF</small></a>`}</li>`;

/** Settings sheet, commissioning records, round reports of a system. */
export function papers(system, runs, rounds) {
  return html`<h2>Papers</h2><p class="small">${navigator.onLine ? '' : 'No signal: papers come from the server.'}</p><ul class="rows">
    ${link(`/papers/settings/${system}.pdf`, 'Settings sheet')}
    ${runs.map((record) => link(`/papers/commissioning/${record.document}.pdf`, `Commissioning record, ${day(record)}`, record))}
    ${rounds.map((record) => link(`/papers/round/${record.document}.pdf`, `Round report, ${day(record)}`, record))}</ul>`;
}
