// marks.js: what the runs of a test run time, by the kind of system: the marks in order, and what a run keeps of them.

const TRIP = { name: 'first', button: 'Switch tripped', title: 'pressure is building' };
const SECOND = { name: 'second', button: 'Second switch tripped', title: 'waiting for the second switch' };
const REST = { name: 'rest', button: 'Back at rest', title: 'venting' };
const KINDS = {
  'single-line': {
    expects: ['until the switch trips'],
    marks: [TRIP, REST],
    columns: [
      ['build_s', 'To trip'],
      ['vent_s', 'To rest'],
    ],
    limit: 'Time limit that follows',
  },
  two: {
    expects: ['until the first switch trips'],
    marks: [TRIP, SECOND, REST],
    columns: [
      ['build_s', 'To trip'],
      ['second_s', 'Second'],
      ['vent_s', 'To rest'],
    ],
    limit: 'Time limit that follows',
  },
  'dual-line': {
    expects: ['for line A', 'for line B'],
    limit: 'Time limit that follows',
    columns: [
      ['build_s', 'Line A'],
      ['build_b_s', 'Line B'],
      ['vent_s', 'To rest'],
    ],
    marks: [
      { name: 'first', button: 'Line A: switch tripped', title: 'line A is building' },
      { name: 'second', button: 'Line B: switch tripped', title: 'line B is building' },
      REST,
    ],
  },
  progressive: {
    expects: ['from signal to signal'],
    limit: 'Monitoring time that follows',
    columns: [
      ['build_s', 'First signal'],
      ['cycle_s', 'Signal to signal'],
    ],
    marks: [
      { name: 'first', button: 'Cycle switch signals', title: 'waiting for the first signal' },
      { name: 'second', button: 'It signals again', title: 'one cycle goes round' },
    ],
  },
  'time-only': {
    expects: ['until the last device has moved'],
    columns: [['build_s', 'Last device']],
    marks: [{ name: 'first', button: 'Last device has moved', title: 'the pump runs' }],
  },
};

const tenth = (seconds) => Math.round(seconds * 10) / 10;

/** {marks, columns, limit, expects} of a system's runs; `expects`: what each predicted time is. */
export function timedOf(body) {
  return KINDS[body.kind === 'single-line' && body.switches.length === 2 ? 'two' : body.kind];
}

/** The mark that comes next in a run, null when all are there. */
export const nextMark = (run, { marks }) => marks.find(({ name }) => !(name in run.marks)) ?? null;

/** What a run keeps of its marks, times in seconds. */
export function timesOf(body, { first, second, rest }) {
  if (body.kind === 'progressive') return { build_s: first, cycle_s: tenth(second - first) };
  if (body.kind === 'time-only') return { build_s: first };
  const halves = body.kind === 'dual-line' ? { build_b_s: tenth(second - first) } : second === undefined ? {} : { second_s: second };
  return { build_s: first, vent_s: tenth(rest - (second ?? first)), ...halves };
}

/** What counted runs say of the system: its field `measured`, without temperature and residual pressures. */
export function measuredOf(runs) {
  const all = (name) => runs.map((run) => run[name]).filter((one) => one !== undefined);
  const halves = all('build_b_s');
  return { build_s: all('build_s'), vent_s: all('vent_s'), ...(halves.length ? { build_b_s: halves } : {}) };
}
