// questions.js: what fault finding starts from and asks: symptoms, questions, and the latest readings that answer some of them.
import { lastAnswers, list, newest } from './documents.js';

// older readings say what the line was, not what it is
const LATELY_DAYS = 7;
const VENTED = ['single-line', 'dual-line', 'time-only'];
const SWITCHED = ['single-line', 'dual-line', 'progressive'];
const ONE_LINE = ['single-line', 'progressive', 'time-only'];
const DUAL = ['dual-line'];
// with such a reading the pump stands: nothing builds up
const stands = ({ current_a: current }) => current === 0;

/** What a person may come with: words, readings that it sets, what is asked first. */
export const SYMPTOMS = [
  {
    says: 'The controller reports that its time limit passed',
    sets: { ran_into_limit: true },
    first: ['limit_line', 'low_level', 'pressure_bar', 'pressure_b_bar'],
    kinds: SWITCHED,
  },
  { says: 'Points stay dry', first: ['dry_points'] },
  {
    says: 'The build-up takes longer than it used to',
    sets: { ran_into_limit: false },
    first: ['build_s', 'build_b_s', 'at_c'],
    kinds: SWITCHED,
  },
  { says: 'A switch reads as tripped the moment the pump starts', sets: { tripped_at_once: true }, kinds: ['single-line', 'dual-line'] },
  { says: 'Low level is reported, or the reservoir empties too soon', first: ['low_level'] },
  { says: 'Pressure stays in the line after the vent', first: ['residual_bar'], kinds: VENTED },
  { says: 'The pump does not run', sets: { current_a: 0, pressure_bar: { pump: 0 } } },
  { says: 'Something else' }];

/** The questions for a build-up: until its switch trips where it `ended`, until the controller stops it where it `stopped`. */
function buildUp(name, kinds, from, trips, ended, stopped) {
  const one = (until, help, holds, more) => ({ name, kinds, unit: 's', ask: `How long from ${from} until ${until}?`, help, ...more,
    unless: (readings) => !holds(readings) || readings.tripped_at_once || stands(readings) });
  return [one(trips, 'By stopwatch.', ended),
    one('the controller stops it', 'By stopwatch: another time than the sheet says is a changed setting.', stopped, { anew: true })];
}

const ran = ({ ran_into_limit: passed }) => passed;
const ranOn = (line) => ({ limit_line: on }) => on === line;
const neverRan = (readings) => !ran(readings);

const QUESTIONS = [
  { name: 'ran_into_limit', ask: 'Did the controller say that the time limit passed?', help: 'Its fault memory, or the alarm.' },
  { name: 'limit_line', ask: 'On which line did the time limit pass?', help: 'The one that had the pump then.', kinds: DUAL,
    choices: [['Line A', 'A'], ['Line B', 'B']], unless: neverRan },
  { name: 'tripped_at_once', ask: 'Does a switch read as tripped the moment the pump starts?', help: 'The indication at the controller.' },
  { name: 'low_level', ask: 'Is the reservoir at its low level?', help: 'Look, do not trust the lamp alone.' },
  ...buildUp('build_s', ONE_LINE, 'pump on', 'the switch trips', neverRan, ran),
  ...buildUp(
    'build_s',
    DUAL,
    'pump on',
    'line A reaches its changeover',
    (readings) => neverRan(readings) || ranOn('B')(readings),
    ranOn('A'),
  ),
  ...buildUp('build_b_s', DUAL, 'the changeover', 'line B reaches its own', neverRan, ranOn('B')),
  { name: 'pressure_bar', ask: 'Highest pressure at the pump', help: 'When the pump stops.', unit: 'bar', at: 'pump', kinds: ONE_LINE },
  {
    name: 'pressure_bar',
    ask: 'Highest pressure at the pump on line A',
    help: 'When its build-up ends.',
    unit: 'bar',
    at: 'pump',
    kinds: DUAL,
    unless: ranOn('B'),
  },
  {
    name: 'pressure_b_bar',
    ask: 'Highest pressure at the pump on line B',
    help: 'When the pump stops.',
    unit: 'bar',
    at: 'pump',
    kinds: DUAL,
    unless: (readings) => !ranOn('B')(readings),
  },
  {
    name: 'residual_bar',
    ask: 'Pressure at the pump when the pause begins',
    help: 'After the vent.',
    unit: 'bar',
    at: 'pump',
    kinds: VENTED,
    unless: stands,
  },
  { name: 'dry_points', ask: 'Which points stay dry?', help: 'By their indicator, or no fresh film at the seal.', points: true },
  { name: 'at_c', ask: 'Temperature at the line', help: 'Not read: the usual one is taken.', unit: '°C' },
  // not asked for, but told where it is known
  { name: 'current_a', ask: 'Current at the pump while it runs', unit: 'A', known: true, unless: stands },
  { name: 'refill_l', ask: 'How much went in at the last refill?', unit: 'l', known: true },
];

const fits = (kind) => ({ kinds }) => !kinds || kinds.includes(kind);

/** The symptoms of a kind of system. */
export const symptomsOf = (kind) => SYMPTOMS.filter(fits(kind));

/** The question that comes next, undefined when all are asked; `lately` from readLately(). */
export function nextQuestion({ asked, readings, first = [] }, kind, lately) {
  const open = QUESTIONS.filter((one) => !asked.includes(one.name) && !one.unless?.(readings) && (!one.known || lately[one.name])).filter(
    fits(kind),
  );
  return first.map((name) => open.find((one) => one.name === name)).find(Boolean) ?? open[0];
}

const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
// reading -> items of a round that give it
const ITEMS = {
  build_s: ['timed_cycle:whole', 'timed_line_a:whole'],
  build_b_s: ['timed_line_b:whole'],
  residual_bar: ['vent_falls:pump'],
  at_c: ['line_temperature:whole'],
  current_a: ['pump_current:pump'],
  low_level: ['reservoir_level:pump'],
};
const OF_DEVICE = ['device_moves', 'device_moves_twice', 'block_moves'];

/** Points whose device stood still or whose seal lacked its film. A wet fitting says nothing of that. */
function dryIn(answers, { points }) {
  const bad = answers
    .filter(({ answer }) => answer === 'not ok')
    .map((one) => ({ ...one, name: one.id.split(':')[0], place: one.id.slice(one.id.indexOf(':') + 1) }));
  const dry = points.filter(({ id, device }) =>
    bad.some(({ name, place }) => (OF_DEVICE.includes(name) && place === device) || (name === 'point_film' && place === id)),
  );
  return dry.length ? { value: dry.map(({ id }) => id), at: bad.at(-1).at, from: 'round' } : null;
}

function refilled([before, last]) {
  const hours = last ? (Date.parse(last.madeAt) - Date.parse(before.madeAt)) / 3600000 : 0;
  return hours > 1 ? { value: last.body.refill_l, more: { since_h: hours }, at: last.madeAt, from: 'refill' } : null;
}

/** The latest readings of rounds, test runs and refills of the last days: {reading: {value, more, at, from}}; `more`: readings that go with it. */
export async function readLately(id, system, now = Date.now()) {
  const late = (at) => now - Date.parse(at) <= LATELY_DAYS * 86400000;
  const [answers, run, refills] = await Promise.all([
    lastAnswers(id),
    newest('test-run', id, ({ body }) => Boolean(body.signed)),
    list('refill', id),
  ]);
  const recent = Object.values(answers).filter(({ at }) => late(at));
  const out = {};
  for (const [name, keys] of Object.entries(ITEMS)) {
    const item = recent.find((one) => keys.includes(one.id) && one.answer === 'reading');
    if (item)
      out[name] = {
        value: name === 'low_level' ? item.value <= (system.pump.low_level_l ?? 0) : item.value,
        level: item.value,
        at: item.at,
        from: 'round',
      };
  }
  const dry = dryIn(recent, system);
  if (dry) out.dry_points = dry;
  const refill = refilled(refills.slice(-2));
  if (refill && late(refill.at)) out.refill_l = refill;
  if (!run || !late(run.body.made_at)) return out;
  const { runs, at_c: warmth, made_at: at } = run.body;
  const built = (name) => median(runs.filter((one) => one.counts !== false && one[name]).map((one) => one[name]));
  for (const [name, value] of [['build_s', built('build_s')], ['build_b_s', built('build_b_s')], ['at_c', warmth]]) {
    if (value !== undefined && !(Date.parse(out[name]?.at) > Date.parse(at))) out[name] = { value, at, from: 'test run' };
  }
  return out;
}
