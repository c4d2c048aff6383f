// followed.js: what is kept beside documents so that no page need read through old rounds. Pure.

/** A time as UTC text, in the order of time; what is no time gives the other one. */
export function inOrder(text, other = null) {
  const at = Date.parse(text);
  return Number.isNaN(at) ? inOrder(other) : new Date(at).toISOString();
}

/** True for what was found well: ok, or a reading that is not above its limit. */
const well = ({ answer, value, high }) => answer === 'ok' || (answer === 'reading' && value != null && (high == null || value <= high));

/** True where an answer was kept from this same round before: it was corrected, and what it said counts no longer. */
const takenBack = (before, kept) => before.document === kept.document;

const reading = ({ answer, value, at }) => (answer === 'reading' && typeof value === 'number' ? { value, at } : null);

/** The later of two answers to an item, with since when it has been the same, when it last was well, and the lowest reading before it. */
function later(one, other) {
  const [before, kept] = Date.parse(one.at) > Date.parse(other.at) ? [other, one] : [one, other];
  const again = takenBack(before, kept);
  const okAt = [again && before.ok_at === inOrder(before.at) ? null : before.ok_at, kept.ok_at].filter(Boolean).sort().at(-1) ?? null;
  const [lowest] = [before.lowest, kept.lowest, again ? null : reading(before)].filter((read) => read?.at)
    .sort((a, b) => a.value - b.value || Date.parse(a.at) - Date.parse(b.at));
  return {
    ...kept,
    since: before.answer === kept.answer ? (before.since ?? inOrder(before.at)) : kept.since,
    ok_at: okAt,
    ...(lowest ? { lowest } : {}),
  };
}

/** The last answers of a system, {key: item}, after a signed round; what was not done keeps its answer of before. */
export function answersAfter(last, round, documentId) {
  const next = { ...last };
  for (const item of round.items.filter(({ answer }) => answer && answer !== 'not done')) {
    const at = item.at ?? round.made_at;
    const kept = { ...item, at, document: documentId, since: inOrder(at), ok_at: well(item) ? inOrder(at) : null };
    next[item.id] = next[item.id] ? later(next[item.id], kept) : kept;
  }
  return next;
}
