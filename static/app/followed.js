// followed.js: what is kept beside documents so that no page need read through old rounds. Pure.

/** A time as UTC text, in the order of time; what is no time gives the other one. */
export function inOrder(text, other = null) {
  const at = Date.parse(text);
  return Number.isNaN(at) ? inOrder(other) : new Date(at).toISOString();
}

/** True for what was found well: ok, or a reading that is not above its limit. */
const well = ({ answer, value, high }) => answer === 'ok' || (answer === 'reading' && value != null && (high == null || value <= high));

/** The later of two answers to an item, with since when it has been the same and when it last was well. */
function later(one, other) {
  const [before, kept] = Date.parse(one.at) > Date.parse(other.at) ? [other, one] : [one, other];
  const okAt = [before.ok_at, kept.ok_at].filter(Boolean).sort().at(-1) ?? null;
  return { ...kept, since: before.answer === kept.answer ? before.since ?? inOrder(before.at) : kept.since, ok_at: okAt };
}

/** The last answers of a system, {key: item}, after a signed round. */
export function answersAfter(last, round, documentId) {
  const next = { ...last };
  for (const item of round.items.filter(({ answer }) => answer)) {
    const at = item.at ?? round.made_at;
    const kept = { ...item, at, document: documentId, since: inOrder(at), ok_at: well(item) ? inOrder(at) : null };
    next[item.id] = next[item.id] ? later(next[item.id], kept) : kept;
  }
  return next;
}
