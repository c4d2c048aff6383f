// worked.js: worked results of saved systems, kept per revision and engine so that pages show at once.
import { isWorked, keepWorked, workedOf } from './documents.js';
import { ask, askHeavy, engineVersion, units, versionHere } from './engine.js';
import { rangeText } from './views/figure.js';
import { prepare } from './walk.js';

const key = async (held, version) => `${held.revision}:${await units()}:${await version}`;

/** The kept result of a saved system, simulated; undefined where there is none yet. */
export async function known(held) {
  return workedOf(await key(held, versionHere()));
}

/** The key of the kept result, or nothing where there is none: what rests on it is as old as this. */
export async function knownKey(held) {
  const name = await key(held, versionHere());
  return (await isWorked(name)) ? name : '';
}

/** The outline {body, units, outline} when this system was last edited; undefined where another engine worked it. */
export async function lastOutline(id) {
  const [kept, version] = await Promise.all([workedOf(`outline:${id}`), versionHere()]);
  return kept?.version === version ? kept : undefined;
}

/** Keep the outline of a body, in the place of the system's last one. */
export async function keepOutline(id, body, readerUnits, outline) {
  await keepWorked(`outline:${id}`, { body, units: readerUnits, outline, version: await engineVersion() });
}

/** The result at once without the simulation, then with it: calls `show(worked)` once or twice. */
export async function workSaved(held, show) {
  const kept = await known(held);
  if (kept) return show(kept);
  show(await ask({ do: 'work', document: held.body, simulate: false }));
  const whole = await askHeavy({ do: 'work', document: held.body, keep_traces: true });
  await keepWorked(await key(held, engineVersion()), whole);
  await keepFirstOutline(held);
  return show(whole);
}

/** The outline of a saved system as its form will open with it, so that the first figure stands there at once. */
async function keepFirstOutline({ document: id, body: saved }) {
  const [body, readerUnits] = [structuredClone(saved), await units()];
  prepare(body);
  const outline = await ask({ do: 'outline', document: body, units: readerUnits, detail: false });
  if (outline.interval) await keepOutline(id, JSON.stringify(body), readerUnits, outline);
}

/** {change_at, sets}: a saved system's settings by season, worked once from its simulated result and then kept. */
export async function seasonOf(held, worked) {
  const place = `season:${await key(held, engineVersion())}`;
  const kept = await workedOf(place);
  if (kept) return kept;
  const found = await askHeavy({ do: 'season_sets', document: held.body, worked, detail: false });
  await keepWorked(place, found);
  return found;
}

/** The simulated result with the range beside each prediction that rests on an estimate: worked once, then kept with it. */
export async function withRanges(held, worked) {
  if (worked.ranged) return worked;
  const { ranges = [] } = await askHeavy({ do: 'sensitivity', document: held.body, worked });
  for (const row of ranges) {
    const [section, name] = row.of.split('.');
    worked[section][name].range = rangeText(row);
  }
  const whole = { ...worked, ranged: true };
  await keepWorked(await key(held, engineVersion()), whole);
  return whole;
}
