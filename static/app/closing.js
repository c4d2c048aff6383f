// closing.js: what is kept when a defect is closed or opened again: the defect, and the fault cases that it came from.
import { list, timeHere } from './documents.js';
import { current } from './session.js';

/** A document's next body, as saveAll() takes it. */
export const part = ({ kind, document, revision }, body, reason = null) => ({ kind, document, body, options: { from: revision, reason } });

/** Fault cases of a defect. */
async function casesOf({ document, body: { system } }, fits) {
  return (await list('fault-case', system)).filter(({ body }) => body.defect === document && fits(body));
}

/** The defect closed as its page's draft says, `reading` in words; open cases are closed with it, by the cause that it was in the end. */
export async function closedParts(held, { how, cause: said, evidence, test_run: run, photos }, reading) {
  const by = { by: current().name, at: timeHere(), how: how.trim() };
  const shown = { reading: { reading }, 'test run': { test_run: run }, photo: { photos } }[evidence];
  const cause = said ?? held.body.cause;
  const caused = ({ cause: _, ...body }) => ({ ...body, ...(cause ? { cause } : {}) });
  const cases = await casesOf(held, (body) => !body.closed);
  return [part(held, { ...caused(held.body), closed: { ...by, evidence, ...shown } }),
    ...cases.map((one) => part(one, { ...caused(one.body), closed: by }))];
}

/** The defect opened again, `body` with that change in it, and with it the cases that were closed with it. */
export async function openedParts(held, body, reason) {
  const opened = ({ closed: _, ...rest }) => rest;
  const cases = await casesOf(held, ({ closed }) => closed?.at === held.body.closed.at);
  return [part(held, opened(body), reason), ...cases.map((one) => part(one, opened(one.body), reason))];
}
