// noted.js: records of a system as a list, newest first, each with who made it when, and its paper.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { dayOf, paperOf, saysOf } from '../records.js';

const paper = (record) => (record.waiting ? html`<small>PDF when it is on the server</small>`
  : html`<a class="button quiet" href=${paperOf(record)} target="_blank" rel="noopener" aria-label="PDF of ${dayOf(record)}">PDF</a>`);

/** `units`: the reader's; the kinds must be loaded. */
export function recordsView(records, units) {
  return html`<ul class="rows">${records.map((record) => html`<li><div class="row"><span>${saysOf(record, units)}
    <small>${dayOf(record)}, ${record.body.made_by}</small></span>${paperOf(record) ? paper(record) : nothing}</div></li>`)}</ul>`;
}
