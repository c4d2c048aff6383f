// stopwatch.js: a stopwatch that outlives the page: only moments of the phone's clock are kept, elapsed time comes from them.

/** A new run at this moment. `page` tells later whether the same page life still measures it. */
export function begin() {
  return { started: Date.now(), steady: performance.now(), page: performance.timeOrigin, marks: {} };
}

/** Seconds since the run began. In the same page life the steady clock counts, so that a stepped clock does no harm. */
export function elapsed(run) {
  const steady = (performance.now() - run.steady) / 1000;
  return run.page === performance.timeOrigin ? steady : (Date.now() - run.started) / 1000;
}

/** True when the page was started again since the run began: then only the phone's clock counted. */
export function resumed(run) {
  return run.page !== performance.timeOrigin;
}

/** Keep the moment of a mark ("first", "second", "rest") in seconds since the start; returns it. */
export function mark(run, name) {
  run.marks[name] = Math.round(elapsed(run) * 10) / 10;
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
