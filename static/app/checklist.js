// checklist.js: a system's checklist as the plant shaped it: where it is kept, and what of it is due.
import { get } from './documents.js';
import { ask } from './engine.js';
import { known } from './worked.js';

/** The id of a system's checklist, the same on every phone: the system's, its first digit turned, marked as made (version 8). */
export function checklistId(system) {
  const id = system.toLowerCase();
  return `${(parseInt(id[0], 16) ^ 8).toString(16)}${id.slice(1, 14)}8${id.slice(15)}`;
}

/** The held checklist of a system, or null where the plant has not shaped it. */
export async function planOf(system) {
  const held = await get(checklistId(system));
  return held && !held.deleted ? held : null;
}

const LAST = ['answer', 'at', 'value', 'low', 'high', 'lowest'];
const few = (thing, names) => Object.fromEntries(names.filter((name) => thing[name] !== undefined).map((name) => [name, thing[name]]));

/** {items, round_every_d} of a held system, shaped by `plan` (its body), due by the `last` answers; without them nothing is marked. */
export async function askedAt(held, plan, last = null, at_c = null) {
  const worked = await known(held);
  return ask({
    do: 'checklist', document: held.body, plan, worked: worked && few(worked, ['build', 'interval', 'reservoir']), at_c,
    ...(last ? { today: new Date().toISOString(), last: Object.fromEntries(Object.entries(last).map(([key, one]) => [key, few(one, LAST)])) } : {}),
  });
}
