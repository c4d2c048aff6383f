// over-time.js: what the rounds since the baseline say: readings out of records, worked by the engine into a chart.
import { ask, askHeavy } from './engine.js';
import { picture } from './picture.js';

const median = (values) => {
  const ranked = [...values].sort((a, b) => a - b);
  return (ranked[Math.floor((ranked.length - 1) / 2)] + ranked[Math.ceil((ranked.length - 1) / 2)]) / 2;
};

// what a round times, by the kind of system
const TIMED = ['timed_cycle', 'timed_line_a', 'timed_turn'];

function ofRun({ body }) {
  const builds = body.runs.filter((run) => run.counts !== false && run.build_s).map((run) => run.cycle_s ?? run.build_s);
  return builds.length ? [{ at: body.made_at, build_s: median(builds), at_c: body.at_c }] : [];
}

function ofRound({ body }) {
  if (!body.signed) return []; // under way: it may still be measured again
  const value = (key) => body.items.find((item) => item.id === `${key}:whole` && item.answer === 'reading')?.value;
  const [seconds, warmth] = [TIMED.map(value).find((one) => one !== undefined), value('line_temperature')];
  return seconds === undefined ? [] : [{ at: body.made_at, build_s: seconds, at_c: warmth }];
}

/** Readings of a system from its baseline on: what was normal before a repair says nothing of what is now. */
export function readingsOf(system, runs, rounds) {
  const baseline = runs.find((run) => run.document === system.baseline_run);
  const since = rounds.filter((round) => !baseline || Date.parse(round.body.made_at) > Date.parse(baseline.body.made_at));
  return [...(baseline ? ofRun(baseline) : []), ...since.flatMap(ofRound)];
}

/** {trend, drawn: {element, says, rows} or null} of a system's readings and refills; null where there are too few to say anything. */
export async function overTime(system, { runs, rounds, refills }, width) {
  const readings = readingsOf(system, runs, rounds);
  if (readings.length < 2 && refills.length < 2) return null;
  const filled = refills.map(({ body }) => ({ at: body.made_at, refill_l: body.refill_l, cycles: body.cycles }));
  const trend = await askHeavy({ do: 'trend', document: system, readings: readings.length < 2 ? [] : readings, refills: filled.length < 2 ? null : filled });
  if (!trend.build_up) return { trend, drawn: null };
  const drawn = await ask({ do: 'trend_picture', chart: trend.build_up, width });
  return { trend, drawn: { ...drawn, element: picture(drawn.svg) } };
}
