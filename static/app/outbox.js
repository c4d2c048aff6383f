// outbox.js: what waits to be sent. Sends oldest first, deletes only what an answer names, then pulls what is new.
import { change, openDatabase } from './database.js';
import { dropOld, ROUNDS } from './held.js';
import { changed, keepAnswers, list, onChange, takeFromServer } from './documents.js';
import { sendPiece, tidy, unsent } from './photos.js';
import * as session from './session.js';

// the server takes 5 MB at a time, and a letter may be three bytes
const BATCH = 50;
const BATCH_LETTERS = 1_500_000;
let state = { busy: false, needsSignIn: false, offline: false, lastSent: null };

/** {count, since, items, photos: [{sha256, of}], refused: [{order, revision, refused}], busy, needsSignIn, offline}: how things stand. */
export async function waiting() {
  const [items, photos] = session.current() ? [await (await openDatabase()).getAll('outbox'), await unsent()] : [[], []];
  const since = Math.min(...items.map((item) => item.since), ...photos.map(({ of }) => Date.parse(of.madeAt)));
  return { ...state, count: items.length + photos.length, since, items, photos, refused: items.filter((item) => item.refused) };
}

async function answered(result, item) {
  await change(['outbox', 'documents'], async (tx) => {
    const documents = tx.objectStore('documents');
    const held = await documents.get(item.revision.document);
    if (result.state === 'refused') {
      await tx.objectStore('outbox').put({ ...item, refused: { says: result.says, findings: result.findings } });
      await documents.put({ ...held, refused: { says: result.says, findings: result.findings } });
      return;
    }
    await tx.objectStore('outbox').delete(item.order);
    if (held?.revision === item.revision.id) await documents.put({ ...held, waiting: false, refused: null, number: result.number });
  });
}

/** The first so many, by count and by length, but one at least. */
function batchOf(items) {
  let length = 0;
  return items.slice(0, BATCH).filter(({ revision }, number) => {
    length += JSON.stringify(revision).length;
    return !number || length < BATCH_LETTERS;
  });
}

/** Send what waits since a place in the outbox, `again` also what was not accepted. Resolves to the last place sent, or null where
 * nothing is left. */
async function sendBatch(since, again) {
  const all = await (await openDatabase()).getAll('outbox', IDBKeyRange.lowerBound(since, true));
  const items = batchOf(all.filter((item) => again || !item.refused));
  if (!items.length) return null;
  // No transaction is open here: one would close while we wait for the network.
  const { results } = await session.write('POST', '/sync/send', { revisions: items.map((item) => item.revision) });
  for (const item of items) {
    const result = results.find((one) => one.id === item.revision.id);
    if (!result) throw new Error('The server did not answer for everything that was sent.');
    await answered(result, item);
  }
  state.lastSent = Date.now();
  return items.at(-1).order;
}

async function sendAll(again = false) {
  for (let since = 0; since !== null;) since = await sendBatch(since, again);
}

/** True for what comes of a system that is not here: it moved to a site of this person's, and the cursor has gone by what it was before. */
function lacksPast({ kind, document, parent, deleted, body }, here) {
  if (kind === 'system' && !parent) here.add(document);
  return !deleted && !here.has(kind === 'system' ? document : body.system);
}

async function pull() {
  const here = new Set((await list('system')).filter(({ server }) => !server?.deleted).map(({ document }) => document));
  let anew = false;
  for (let more = true; more;) {
    const after = (await (await openDatabase()).get('facts', 'cursor')) ?? 0;
    anew ||= !after;
    const answer = await session.read(`/sync/feed?after=${after}&limit=200&rounds=${ROUNDS}`);
    // last answers are followed in the order of time: nothing of it is taken, and all is read from the start
    const lacks = !anew && answer.revisions.some((revision) => lacksPast(revision, here));
    await change(['documents', 'answered', 'facts'], async (tx) => {
      const answers = new Map();
      for (const revision of lacks ? [] : answer.revisions) await takeFromServer(tx, revision, answers);
      await keepAnswers(tx, answers);
      await tx.objectStore('facts').put(lacks ? 0 : answer.cursor, 'cursor');
    });
    more = answer.more || lacks;
  }
  await dropOld();
}

/** The cursor has passed what this person could not see then: with other sites, the feed is read from its start. */
async function beginAnewFor(sites) {
  if (JSON.stringify(await (await openDatabase()).get('facts', 'sites')) === JSON.stringify(sites)) return;
  await change(['facts'], (tx) => Promise.all([
    tx.objectStore('facts').put(0, 'cursor'), tx.objectStore('facts').put(sites, 'sites')]));
}

async function exchange(again) {
  const who = await session.read('/api/session');
  if (who.person.id !== session.current().id) throw Object.assign(new Error('Somebody else is signed in.'), { status: 401 });
  await sendAll(again);
  await beginAnewFor(who.person.sites);
  await pull();
  const passed = new Set();
  while (await sendPiece(passed)) await sendAll(); // a record does not wait for the photos before it
}

/** Send what waits and pull what is new, in one tab at a time; `again`: also what was not accepted, since that may be otherwise by now.
 * Never throws: how it went is in waiting(). */
export async function sendNow({ again = false } = {}) {
  if (!session.current()) return;
  await navigator.locks.request('linewright-outbox', async () => {
    state = { ...state, busy: true };
    changed();
    try {
      await exchange(again);
      state = { ...state, needsSignIn: false, offline: false, says: null };
    } catch (error) {
      state = { ...state, needsSignIn: error.status === 401, offline: Boolean(error.offline), says: error.message };
    }
    state.busy = false;
  });
  changed();
}

/** Send all there is, then when something was saved and at the moments when signal may have come back. */
export function start() {
  onChange((what) => { if (what === 'saved') sendNow(); });
  window.addEventListener('online', () => sendNow());
  document.addEventListener('visibilitychange', () => { if (document.visibilityState === 'visible') sendNow(); });
  tidy().catch(() => null); // tried again with the next start
  return sendNow({ again: true });
}
