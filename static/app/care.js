// care.js: what the engine says is due at the systems of this phone, from what lies on it: last answers and newest records only.
import { byClockHere, timeHere } from './days.js';
import { lastAnswers, list, newest } from './documents.js';
import { ask } from './engine.js';
import { current } from './session.js';
import { seasonOf } from './worked.js';

const FEW = 8;
const signed = ({ body }) => Boolean(body.signed);
const TIMES = ['made_at', 'at', 'since', 'ok_at'];
/** A record or an answer with its times by this phone's clock. */
const here = (thing) =>
  thing && { ...thing, ...Object.fromEntries(TIMES.filter((name) => thing[name]).map((name) => [name, byClockHere(thing[name])])) };
const bodies = (found) => found.map(({ body }) => here(body));
const answersHere = (answers) =>
  Object.fromEntries(Object.entries(answers).map(([key, one]) => [key, { ...here(one), lowest: here(one.lowest) }]));

/** {fed, refill, due} of a saved system at this moment, with what its simulation said. */
export async function careOf(held, worked) {
  const id = held.document;
  const [answers, round, run, entry, checklist, refills, adjustments, defects] = await Promise.all([
    lastAnswers(id),
    ...['round', 'test-run', 'settings-entry'].map((kind) => newest(kind, id, signed)),
    newest('checklist', id),
    ...['refill', 'adjustment', 'defect'].map((kind) => list(kind, id)),
  ]);
  const { reservoir, build, findings } = worked;
  const known = {
    answers: answersHere(answers),
    runs: run ? [here(run.body)] : [],
    round_at: here(round?.body)?.made_at,
    run_at: here(run?.body)?.made_at,
    system_at: byClockHere(held.madeAt),
    settings_entry: entry?.body,
    checklist: checklist?.body,
    refills: bodies(refills.slice(-FEW)),
    adjustments: bodies(adjustments.slice(-FEW)),
    defects: bodies(defects).filter((one) => !one.closed),
    worked: { reservoir, build, findings },
    season: answers['line_temperature:whole'] && worked.traces ? await seasonOf(held, worked) : null,
  };
  const found = await ask({ do: 'care', document: held.body, now: timeHere(), known, detail: false });
  return { held, ...found };
}

const mine = ({ who }) => !who.trim() || who.trim().toLowerCase() === current().name.trim().toLowerCase();

/** Systems in the order of area and name with what the person here is to do at them by today: [{held, refill, entries}]. */
export function routeOf(cares) {
  return cares.map((one) => ({ ...one, entries: (one.due ?? []).filter((entry) => entry.days <= 0 && mine(entry)) }))
    .filter(({ entries }) => entries.length).sort(inPlace);
}

/** By area, then by name. */
export function inPlace({ held: { body: a } }, { held: { body: b } }) {
  return (a.area ?? '').localeCompare(b.area ?? '') || a.name.localeCompare(b.name);
}

/** What to take along for the refills that these systems need: [{lubricant, litres, systems}]. */
export async function carryFor(cares) {
  const rows = cares.filter(({ refill }) => refill).map(({ held, refill }) => ({ name: held.body.name, refill }));
  return (await ask({ do: 'carry', rows, detail: false })).carry;
}
