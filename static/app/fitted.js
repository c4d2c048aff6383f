// fitted.js: what the newest test runs of a system say of its line: readings out of records, worked by the engine.
import { askHeavy } from './engine.js';

// more would say of a line what it was, not what it is
const NEWEST = 3;

function setOf({ body }) {
  const runs = body.runs.filter((run) => run.counts !== false && run.build_s);
  return {
    at_c: body.at_c,
    build_s: runs.map((run) => run.build_s),
    vent_s: runs.map((run) => run.vent_s).filter(Boolean),
    residual_bar: body.residual_bar,
    delivery_cm3_min: body.delivery_cm3_min,
    held: body.held,
  };
}

/** A `fit/1` document of a system and its test runs. */
export function fitted(system, runs) {
  const newest = [...runs].sort((a, b) => b.madeAt.localeCompare(a.madeAt)).slice(0, NEWEST);
  return askHeavy({ do: 'fit', document: system, readings: newest.map(setOf) });
}
