// defects.js: defects of this phone in the order in which to see to them, and the causes that closed ones and closed cases taught.
import { dayHere } from './days.js';
import { list, newest } from './documents.js';
import { ask } from './engine.js';

// more than that a diagnosis does not take
const MOST_TAUGHT = 2000;

/** {open: [{held, severity, sign, due, overdue, days, when, means}], closed: [held], overdue, danger} of a system, or of all. */
export async function defectsOf(system = null) {
  const all = await list('defect', system);
  const closed = all.filter(({ body }) => body.closed).sort((a, b) => Date.parse(b.body.closed.at) - Date.parse(a.body.closed.at));
  if (closed.length === all.length) return { open: [], closed, overdue: 0, danger: 0 }; // the engine need not start for that
  const byId = new Map(all.map((held) => [held.document, held]));
  const defects = all
    .filter(({ body }) => !body.closed)
    .map(({ document, body: { made_at, severity, due } }) => ({ document, made_at, severity, due }));
  const answer = await ask({ do: 'defects', defects, today: dayHere() });
  return { ...answer, closed, open: answer.open.map((row) => ({ ...row, held: byId.get(row.document) })) };
}

/** The four words with what each means and when it would be due: untidy by the next round, where it is known. */
export async function severitiesAt(system) {
  const [checklist, round] = await Promise.all([newest('checklist', system), newest('round', system, ({ body }) => Boolean(body.signed))]);
  const every = checklist?.body.round_every_d;
  const next = every && round ? dayHere(every, Date.parse(round.body.made_at)) : null;
  return (await ask({ do: 'severities', today: dayHere(), next_round: next })).severities;
}

/** Names of people who have or had something to do with defects here, for choosing an owner. */
export async function ownersKnown() {
  return [...new Set((await list('defect')).flatMap(({ body }) => [body.owner, body.made_by]).filter(Boolean))].sort();
}

/** Causes of the closed defects and cases of the plant at this site, as the diagnosis writes them; each trouble counts once. */
export async function causesTaught(site) {
  const [systems, defects, cases] = await Promise.all(['system', 'defect', 'fault-case'].map((kind) => list(kind)));
  const here = new Set(systems.filter(({ body }) => body.site === site).map(({ document }) => document));
  const taught = (all) => all.filter(({ body }) => here.has(body.system) && body.closed && body.cause);
  const counted = new Set(taught(defects).map(({ document }) => document));
  const alone = taught(cases).filter(({ body }) => !counted.has(body.defect));
  return [...taught(defects), ...alone].map(({ body }) => body.cause).slice(-MOST_TAUGHT);
}

/** The name of a cause, without its place, by which the engine lists it. */
export const causeName = (cause) => (['leak=pump', 'leak=pump/B'].includes(cause) ? 'return' : cause.split('=')[0]);

/** {cause: words} of all causes that a system can have. */
export async function causesOf(system) {
  return new Map((await ask({ do: 'causes', document: system })).causes.map(({ cause, name }) => [cause, name]));
}

// where a cause is, by the parts of the line: component of the part at its place, or part of its own
const AT_PLACE = { device: 'device', blocked: 'pipe', switch: 'switch', contact: 'switch', feed_line: 'point' };
const AT_PART = { empty: 'reservoir:pump', pump: 'pump:pump', relief: 'pump:pump', supply: 'pump:pump', vent: 'vent valve:pump',
  setting: 'controller:controller', machine_contact: 'controller:controller' };

/** The part of the line, `component:place`, at which a cause is. */
export function partOfCause(system, cause) {
  const [name, typed] = cause.split('=');
  const place = system.kind === 'dual-line' ? typed?.replace(/\/B$/, '') : typed; // on line B
  if (name === 'leak') {
    const pipe = system.sections.find(({ to }) => to === place);
    return pipe ? `pipe:${pipe.id}` : 'vent valve:pump';
  }
  return AT_PART[name] ?? (AT_PLACE[name] && place ? `${AT_PLACE[name]}:${place}` : 'whole:whole');
}
