// due.js: a route for today, what to take along, and one line of what is due at a system.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { dayOf } from '../records.js';

/** What to carry, by lubricant. */
export function carryView(carry) {
  return html`<ul class="rows lines">${carry.map(({ litres, lubricant, systems }) => html`<li><div class="row"><span><strong>${litres.shown}</strong>${lubricant}<small>${systems.join(', ')}</small></span></div></li>`)}</ul>`;
}

/** Today's route: systems in the order of area and name. */
export function dueView({ stops, carry }) {
  return html`${stops.length ? html`<h2>Due today: ${stops.length} ${stops.length === 1 ? 'system' : 'systems'} on the way</h2>
    <ol class="rows lines">${stops.map(({ held, entries }) => html`<li><a href="/app/systems/${held.document}"><span><strong>${held.body.name}</strong>${held.body.area}
      ${entries.map(({ says, also, when }) => html`<small>${[says, ...also].map((one) => one.says).join('; ')}: ${when.says}</small>`)}</span></a></li>`)}</ol>
    ${carry.length ? html`<h3>Take along</h3>${carryView(carry)}` : nothing}` : nothing}
    <p><a class="button" href="/app/refills">Reservoirs and refills</a></p>`;
}

/** "Round due …, reservoir low on …, N points not confirmed fed." */
export function careLine({ due, refill, fed }) {
  const round = due?.find(({ what }) => what === 'round');
  if (!round) return nothing;
  return html`<p>Round ${round.when.says}. ${refill.low_on ? `Reservoir at low level on ${dayOf({ madeAt: refill.low_on })}. ` : ''}${fed.told.says}</p>`;
}
