// stopwatch.js: a stopwatch that outlives the page: only moments of the phone's clock are kept, elapsed time comes from them.

const APART = 1; // seconds

/** A new run at this moment. `page` tells later whether the same page life still measures it. */
export function begin() {
  return { started: Date.now(), steady: performance.now(), page: performance.timeOrigin, marks: {} };
}

function clocks(run) {
  return { wall: (Date.now() - run.started) / 1000,
    steady: run.page === performance.timeOrigin ? (performance.now() - run.steady) / 1000 : null };
}

/** Seconds since the run began. The steady clock may stand while a phone sleeps, the wall clock may be set back: the longer counts. */
export function elapsed(run) {
  const { wall, steady } = clocks(run);
  return Math.max(wall, steady ?? 0);
}

/** True when only the phone's wall clock can vouch for the time: the page was started anew, or the two clocks part. */
export function resumed(run) {
  const { wall, steady } = clocks(run);
  return steady === null || Math.abs(wall - steady) > APART;
}

/** Keep the moment of a mark ("first", "second", "rest") in seconds since the start; returns it. A glove may bounce: each is at
 * least a tenth after the one before, since no record takes a time of nothing. */
export function mark(run, name) {
  const tenths = Math.max(0, ...Object.values(run.marks).map((at) => Math.round(at * 10)));
  run.marks[name] = Math.max(Math.round(elapsed(run) * 10), tenths + 1) / 10;
  return run.marks[name];
}

/** Call `draw` ten times a second until the returned function is called; nothing runs while the page is hidden. */
export function ticking(draw) {
  let last = 0;
  let frame = 0;
  const tick = (time) => {
    if (time - last >= 100) { last = time; draw(); }
    frame = requestAnimationFrame(tick);
  };
  frame = requestAnimationFrame(tick);
  return () => cancelAnimationFrame(frame);
}
