// over-time.js: what the records of a system say over time, worked by the engine and kept until a record or the engine changes.
import { keepWorked, list, workedOf } from './documents.js';
import { askHeavy, engineVersion, units, versionHere } from './engine.js';

const KINDS = ['test-run', 'round', 'refill', 'defect', 'fault-case', 'adjustment', 'set-aside'];
// what the charts read of a round: readings of the whole system, and what was not ok
const READ = /:whole$|^vent_falls:/;

function slim(body) {
  const items = body.items.filter(({ id, answer }) => answer === 'not ok' || (answer === 'reading' && READ.test(id)));
  return {
    made_at: body.made_at,
    items: items.map(({ id, answer, value, where, ask, note }) => ({ id, answer, value, where, ask, note })),
  };
}

const stampOf = async (held, lists, version) =>
  [held.revision, await units(), await version, ...lists.flat().map(({ revision }) => revision.slice(0, 8))].join(' ');

/** {trend, history, stamp} of a system, the same stamp for the same records; `say(words)` tells how far it is. The same records give what was kept, at once. */
export async function overTime(held, say = () => {}) {
  const lists = await Promise.all(KINDS.map((kind) => list(kind, held.document)));
  const [key, count] = [`over-time:${held.document}`, lists.flat().length];
  const kept = await workedOf(key);
  if (kept && kept.stamp === await stampOf(held, lists, versionHere())) return kept;
  say(`Working through ${count} records: this takes some seconds, once.`);
  const records = Object.fromEntries(
    KINDS.map((kind, place) => [kind, lists[place].map(({ body }) => (kind === 'round' ? slim(body) : body))]),
  );
  const worked = await askHeavy({ do: 'over_time', document: held.body, records });
  const result = { ...worked, stamp: await stampOf(held, lists, engineVersion()) };
  await keepWorked(key, result);
  return result;
}

/** What a chart calls and nobody has set aside, the notes left out. */
export const callsOf = (result) => result.trend.findings.filter(({ severity }) => severity !== 'note');
