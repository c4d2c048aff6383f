// rounds.js: a round's answers and its record, alone or shared by several phones. Pure.

const ITEM = {
  key: 'id',
  where: 'where',
  says: 'ask',
  unit: 'unit',
  low: 'low',
  high: 'high',
  component: 'component',
  place: 'place',
  every: 'every',
  limit: 'limit',
  photo: 'photo',
};
const ANSWER = ['answer', 'value', 'note', 'at', 'by', 'photos'];

const filled = (pairs) => Object.fromEntries(pairs.filter(([, value]) => value !== undefined && value !== null));
/** True for answers that say the same in every field. */
export const same = (one, other) => JSON.stringify(one ?? null) === JSON.stringify(other ?? null);

/** True where the item is asked for in this round, or was answered all the same. */
export const isAsked = (item, answers) => item.due !== false || Boolean(answers[item.key]?.answer);

/** True for an answer that a supervisor looks at: not ok, or a reading outside its limits. */
export function isBad({ low = null, high = null }, { answer, value } = {}) {
  return answer === 'not ok' || (answer === 'reading' && ((low !== null && value < low) || (high !== null && value > high)));
}

/** The items of a round's record: all of them while it is shared, in the end those that were asked or answered. */
export function itemsOf(items, answers, whole) {
  return items.filter((item) => whole || isAsked(item, answers)).map((item) => ({
    ...filled(Object.entries(ITEM).map(([mine, theirs]) => [theirs, item[mine]])), ...answers[item.key],
  }));
}

/** {key: answer} of a record's items. */
export function answersOf(body) {
  const answered = body.items.filter((item) => item.answer || item.photos);
  return Object.fromEntries(answered.map((item) => [item.id, filled(ANSWER.map((name) => [name, item[name]]))]));
}

/** The list of a round that others began, in its order and words, with what is due by this phone's own `items`. */
export function joined(body, items) {
  const mine = new Map(items.map((item) => [item.key, item]));
  return body.items.map((item) => ({
    answer: item.unit ? 'reading' : 'ok', ...mine.get(item.id), low: null, high: null,
    ...filled(Object.entries(ITEM).map(([name, theirs]) => [name, item[theirs]])),
  }));
}

/** Take over what others answered since; what both answered stays as it is here, and clashes when it is sent. */
export function takeOver(draft, held) {
  const { base } = draft.shared;
  const theirs = answersOf(held.body);
  let open = false;
  for (const key of new Set([...Object.keys(theirs), ...Object.keys(base)])) {
    const mine = draft.answers[key];
    if (same(theirs[key], base[key]) || same(theirs[key], mine)) continue;
    if (!same(mine, base[key])) open = true;
    else if (theirs[key]) draft.answers[key] = theirs[key];
    else delete draft.answers[key];
  }
  if (!open) draft.shared = { from: held.revision, base: theirs };
}

/** Keys of what was answered here and not yet saved for the others. */
export function unsaved({ shared, answers }) {
  return shared ? Object.keys(answers).filter((key) => !same(answers[key], shared.base[key])) : [];
}

/** A signed body with other answers, {key: answer}, and why: the counter-signature was for what it said before. */
export function corrected({ countersigned, ...body }, changes, reason, by, at, says) {
  return {
    ...body,
    items: body.items.map((item) =>
      changes[item.id] ? filled(Object.entries({ ...item, value: null, note: null, ...changes[item.id] })) : item,
    ),
    corrections: [
      ...(body.corrections ?? []),
      ...body.items.filter((item) => changes[item.id]).map((item) => ({ item: item.id, was: says(item), by, at, reason })),
    ],
  };
}
