// checklist.js: a system's checklist as the plant shaped it: where it is kept, and what of it is due.
import { dayHere } from './days.js';
import { answersStamp, get, keepWorked, lastAnswers, workedOf } from './documents.js';
import { ask, units, versionHere } from './engine.js';
import { known, knownKey } from './worked.js';

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

/** {items, round_every_d} of a held system, shaped by `plan` (its body); with `last` answers also from when each is due. */
export async function askedAt(held, plan, last = null) {
  const worked = await known(held);
  return ask({ do: 'checklist', document: held.body, plan, worked: worked && few(worked, ['build', 'interval', 'reservoir']),
    last: last && Object.fromEntries(Object.entries(last).map(([key, one]) => [key, few(one, LAST)])) });
}

/** Items with `due`: on this day here, by what the engine said of them. */
export function dueToday(items) {
  const today = dayHere();
  return items.map((item) => ({ ...item, due: item.due_from !== null && item.due_from <= today }));
}

/** The items of a held system's round, as `plan` (held) shapes them; worked once for the same system, plan and answers, then kept. */
export async function itemsOfRound(held, plan) {
  const parts = await Promise.all([answersStamp(held.document), knownKey(held), versionHere(), units()]);
  const of = [held.revision, plan?.revision, ...parts].join(' ');
  const kept = await workedOf(`checklist:${held.document}`);
  if (kept?.of === of) return kept.items;
  const { items } = await askedAt(held, plan?.body, await lastAnswers(held.document));
  await keepWorked(`checklist:${held.document}`, { of, items });
  return items;
}
