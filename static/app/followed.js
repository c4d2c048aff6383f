// followed.js: what is kept beside documents so that no page need read through old rounds. Pure.

/** A time as UTC text, in the order of time; what is no time gives the other one. */
export function inOrder(text, other = null) {
  const at = Date.parse(text);
  return Number.isNaN(at) ? inOrder(other) : new Date(at).toISOString();
}

/** The last answers of a system, {key: item}, after a signed round. */
export function answersAfter(last, round, documentId) {
  const next = { ...last };
  for (const item of round.items) {
    const at = item.at ?? round.made_at;
    if (item.answer && !(Date.parse(next[item.id]?.at) > Date.parse(at))) next[item.id] = { ...item, at, document: documentId };
  }
  return next;
}
