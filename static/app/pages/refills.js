// refills.js: which reservoirs to fill now, with how much of what, and until when the others last.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { careOf, carryFor, inPlace } from '../care.js';
import { list } from '../documents.js';
import { cancelHeavy } from '../engine.js';
import { dayOf } from '../records.js';
import { carryView } from '../views/due.js';
import { workSaved } from '../worked.js';

const row = ({ held, refill }, big, small) => html`<li><a href="/app/systems/${held.document}/add/refill"><span><strong>${held.body.name}</strong>${big}<small>${small}</small></span></a></li>`;
const lasts = ({ low_on: low }) => (low ? `Low level on ${dayOf({ madeAt: low })}` : 'Low level in years');

function body(cares, carry, left) {
  const known = cares.filter(({ refill }) => refill?.fill);
  const needed = known.filter(({ refill }) => refill.needed).sort(inPlace);
  const rest = known.filter(({ refill }) => !refill.needed).sort((a, b) => a.refill.days_to_low.value - b.refill.days_to_low.value);
  const unread = cares.filter(({ refill }) => refill && !refill.fill).sort(inPlace);
  return html`
    ${left ? html`<p role="status">Working ${left} systems…</p>` : nothing}
    ${needed.length ? html`<h2>To fill</h2><ul class="rows lines">${needed.map((one) => row(one, `${one.refill.fill.shown} of ${one.refill.lubricant}`, lasts(one.refill)))}</ul>
      ${left ? nothing : html`<h2>To carry</h2>${carryView(carry)}`}
      <p class="notice">Clean around the fill port first. Fill in only what the settings sheet names.</p>` : left ? nothing : html`<p>No reservoir${unread.length ? ' whose level is known' : ''} comes to low level before its next round.</p>`}
    ${unread.length ? html`<h2>No level known</h2><p>Read the level in a round, or note a refill with the level after it.</p><ul class="rows lines">${unread.map((one) => row(one, one.refill.lubricant, ''))}</ul>` : nothing}
    ${rest.length ? html`<h2>Enough for now</h2><ul class="rows lines">${rest.map((one) => row(one, lasts(one.refill), `${one.refill.level.shown} now, read on ${dayOf({ madeAt: one.refill.level_on })}`))}</ul>` : nothing}`;
}

export async function open(_, screen) {
  let closed = false;
  const systems = await list('system');
  const cares = [];
  const show = (carry, left) => !closed && screen.show({ above: 'Today', title: 'Refills', tab: 'Today', body: body(cares, carry, left) });
  const load = async () => {
    for (const held of systems) {
      show([], systems.length - cares.length);
      let last = null;
      await workSaved(held, (worked) => { last = worked; });
      if (closed) return;
      cares.push(await careOf(held, last));
    }
    show(await carryFor(cares), 0);
  };
  load().catch((error) => { if (!error.cancelled) throw error; });
  return () => { closed = true; cancelHeavy(); };
}
