// worked.js: worked results of saved systems, kept per revision and engine so that pages show at once.
import { keepWorked, workedOf } from './documents.js';
import { ask, askHeavy, engineVersion, units } from './engine.js';

const key = async (held) => `${held.revision}:${await units()}:${await engineVersion()}`;

/** The kept result of a saved system, simulated; undefined where there is none yet. */
export async function known(held) {
  return workedOf(await key(held));
}

/** The result at once without the simulation, then with it: calls `show(worked)` once or twice. */
export async function workSaved(held, show) {
  const kept = await known(held);
  if (kept) return show(kept);
  show(await ask({ do: 'work', document: held.body, simulate: false }));
  const whole = await askHeavy({ do: 'work', document: held.body, keep_traces: true });
  await keepWorked(await key(held), whole);
  return show(whole);
}
