// settle.js: one version of the fields that two people changed is made to stand.
import { save } from './documents.js';
import { valueAt, withValue } from './paths.js';

/** `side` ('mine': the newest, or 'other') stands in the clashing fields; whatever else changed meanwhile stays as it is. */
export async function settle(held, side) {
  const { mine, other, fields } = held.clash;
  const [stands, gives] = side === 'mine' ? [mine, other] : [other, mine];
  const body = fields.filter((path) => path !== 'deleted').reduce((whole, path) => withValue(whole, path, valueAt(stands.body, path)), held.body);
  await save(held.kind, held.document, body, { from: held.revision, also: other.revision, deleted: stands.deleted, reason: `clash settled: ${gives.revision} gave way` });
}
