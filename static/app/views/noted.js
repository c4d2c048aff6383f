// noted.js: the latest refills and notes of a system, newest first.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { preferred, toText } from '../units.js';

const NEWEST = 5;
const day = (madeAt) => new Date(madeAt).toLocaleDateString('en-GB', { day: 'numeric', month: 'short', year: 'numeric' });

function says({ kind, body }, units) {
  if (kind === 'note') return body.text;
  const unit = preferred('l', units);
  return [`${toText(Number(body.refill_l.toPrecision(4)), 'l', unit)} ${unit} filled in`, body.lubricant, body.batch, body.note].filter(Boolean).join(', ');
}

/** `units`: the reader's; the table of units must be loaded. */
export function notedView(records, units) {
  if (!records.length) return nothing;
  const all = [...records].sort((a, b) => b.madeAt.localeCompare(a.madeAt)).slice(0, NEWEST);
  return html`<h2>Noted</h2><ul class="rows">${all.map((record) => html`<li><div class="row"><span>${says(record, units)}
    <small>${day(record.madeAt)}, ${record.body.made_by}</small></span></div></li>`)}</ul>`;
}
