// followed.js: what is kept beside documents so that no page need read through old rounds. Pure.

/** A time as UTC text, in the order of time; what is no time gives the other one. */
export function inOrder(text, other = null) {
  const at = Date.parse(text);
  return Number.isNaN(at) ? inOrder(other) : new Date(at).toISOString();
}

/** The last answers of a system, {key: item}, after a signed round; what was not done keeps its answer of before. Of readings also the lowest ever. */
export function answersAfter(last, round, documentId) {
  const next = { ...last };
  for (const item of round.items) {
    if (!item.answer || item.answer === 'not done') continue;
    const at = item.at ?? round.made_at;
    const before = next[item.id];
    const newest = Date.parse(before?.at) > Date.parse(at) ? before : { ...item, at, document: documentId };
    // after a correction of the same round, what was read before by mistake counts no longer
    const corrected = before?.document === documentId && before.value !== item.value;
    const read = [...(corrected ? [] : [before?.lowest, before?.value]), item.value].filter((value) => typeof value === 'number');
    next[item.id] = read.length ? { ...newest, lowest: Math.min(...read) } : newest;
  }
  return next;
}
