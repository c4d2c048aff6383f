// noted.js: records of a system as a list, newest first, each with who made it when, leading to its page, and its paper.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { dayOf, pageOf, paperOf, saysOf } from '../records.js';

/** A record's paper, or that it must be sent first; nothing where its kind has none. */
export function paperLink(record) {
  if (!paperOf(record)) return nothing;
  return record.waiting ? html`<small>PDF when it is on the server</small>`
    : html`<a class="button quiet" href=${paperOf(record)} target="_blank" rel="noopener" aria-label="PDF of ${dayOf(record)}">PDF</a>`;
}

/** `units`: the reader's; the kinds must be loaded. */
export function recordsView(records, units) {
  return html`<ul class="rows">${records.map((record) => html`<li><div class="row"><a class="grow" href=${pageOf(record)}>
    <span>${saysOf(record, units)}
    <small>${dayOf(record)}, ${record.body.made_by}</small></span></a>${paperLink(record)}</div></li>`)}</ul>`;
}
