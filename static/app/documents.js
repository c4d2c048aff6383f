// documents.js: systems and records on this phone, their drafts, and what becomes of revisions that come from the server.
import { askToPersist, change, fact, openDatabase } from './database.js';
import { timeHere } from './days.js';
import { answersAfter, inOrder } from './followed.js';

export { timeHere };

const listeners = new Set();
let askedToPersist = false;

/** Call `listener` whenever documents or the outbox changed, with 'saved' when a person saved. Returns how to stop. */
export function onChange(listener) {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

/** Tell all listeners. */
export function changed(what = '') {
  for (const listener of listeners) listener(what);
}

/** A new id, made on this phone. */
export function newId() {
  return crypto.randomUUID();
}

/** One document: {document, kind, system, body, revision, number, waiting, refused, clash, deleted}, or null. */
export async function get(documentId) {
  return (await (await openDatabase()).get('documents', documentId)) ?? null;
}

const ofSystem = (kind, system) => IDBKeyRange.bound([kind, system], [kind, system, []]);

/** All documents of a kind that are not deleted, of one system where it is given, then the oldest first. */
export async function list(kind, system = null) {
  const db = await openDatabase();
  const all = system
    ? await db.getAllFromIndex('documents', 'kindSystemTime', ofSystem(kind, system))
    : await db.getAllFromIndex('documents', 'kind', kind);
  return all.filter((one) => !one.deleted);
}

/** The newest document of a kind of one system for which `fits(document)`, or null: read from the newest, however many there are. */
export async function newest(kind, system, fits = () => true) {
  const store = (await openDatabase()).transaction('documents').store;
  for (let at = await store.index('kindSystemTime').openCursor(ofSystem(kind, system), 'prev'); at; at = await at.continue()) {
    if (!at.value.deleted && fits(at.value)) return at.value;
  }
  return null;
}

function revisionOf(held, kind, documentId, body, options, phoneId) {
  return {
    id: newId(), document: documentId, kind, parent: options.from ?? held?.revision ?? null, also: options.also ?? null,
    made_at: timeHere(), phone: phoneId, body, deleted: Boolean(options.deleted), reason: options.reason ?? null,
  };
}

/** Put a revision into an open transaction: the document's newest, and the outbox. */
async function put(tx, kind, documentId, body, options, phoneId) {
  const documents = tx.objectStore('documents');
  const outbox = tx.objectStore('outbox');
  const held = await documents.get(documentId);
  let from = held;
  if (held?.refused) {
    // what the server refused is replaced: the new revision starts from what the server knows
    for (const item of await outbox.getAll()) {
      if (item.revision.document === documentId) await outbox.delete(item.order);
    }
    from = { ...held, revision: held.server?.revision ?? null };
    options = { ...options, from: undefined };
  }
  const revision = revisionOf(from, kind, documentId, body, options, phoneId);
  await outbox.add({ revision, since: Date.now(), refused: null });
  await documents.put({
    document: documentId, kind, system: kind === 'system' ? documentId : body.system, body, revision: revision.id,
    number: null, waiting: true, refused: null, clash: options.also ? null : held?.clash ?? null,
    deleted: revision.deleted, server: held?.server ?? null, madeAt: inOrder(body.made_at, revision.made_at),
  });
  const answers = new Map();
  await follow(tx, kind, documentId, body, revision.deleted, answers);
  await keepAnswers(tx, answers);
  return revision;
}

/** Keep the last answer to each item of a signed round, and which rounds are under way, so that no page need read through old rounds. */
async function follow(tx, kind, documentId, body, deleted, answers) {
  if (kind !== 'round') return;
  const over = Boolean(body.signed || deleted);
  const open = { ...(await tx.objectStore('facts').get('underWay')) };
  if (!over || open[documentId]) {
    if (over) delete open[documentId]; else open[documentId] = { system: body.system, by: body.made_by };
    await tx.objectStore('facts').put(open, 'underWay');
  }
  if (!body.signed || deleted) return;
  const last = answers.get(body.system) ?? await tx.objectStore('answered').get(body.system);
  answers.set(body.system, answersAfter(last, body, documentId));
}

/** Keep what many rounds were followed to in `answers`, a Map by system: written once, however many there were. */
export async function keepAnswers(tx, answers) {
  for (const [system, last] of answers) {
    await tx.objectStore('answered').put(last, system);
    await tx.objectStore('facts').put(newId(), `answers:${system}`);
  }
}

/** Another text each time the last answers of a system may have changed. */
export async function answersStamp(system) {
  return (await openDatabase()).get('facts', `answers:${system}`);
}

/** The last answer to each item of a system's signed rounds: {key: the item as answered, with `document`, the round}. */
export async function lastAnswers(system) {
  return (await (await openDatabase()).get('answered', system)) ?? {};
}

/** Rounds that people share and nobody has signed off yet: {document: {system, by}}. */
export async function roundsUnderWay() {
  return (await (await openDatabase()).get('facts', 'underWay')) ?? {};
}

/** Save a document as a new revision. Resolves when it is on disk. Options: from (the revision that the body was made from,
 * the newest here where it is missing), reason, also, deleted, dropDraft (keys). */
export async function save(kind, documentId, body, options = {}) {
  return (await saveAll([{ kind, document: documentId, body, options }], options.dropDraft))[0];
}

/** Save several documents in one transaction, so that all of them are kept or none. */
export async function saveAll(parts, dropDraft = null) {
  const phoneId = await fact('phone');
  const revisions = await change(['documents', 'outbox', 'drafts', 'answered', 'facts'], async (tx) => {
    const made = [];
    for (const part of parts) {
      made.push(await put(tx, part.kind, part.document, part.body, part.options ?? {}, phoneId));
    }
    for (const key of [dropDraft ?? []].flat()) await tx.objectStore('drafts').delete(key);
    return made;
  });
  if (!askedToPersist) {
    askedToPersist = true;
    askToPersist();
  }
  changed('saved');
  return revisions;
}

/** The draft kept under a key, or undefined. */
export async function draft(key) {
  return (await openDatabase()).get('drafts', key);
}

/** All draft keys. */
export async function draftKeys() {
  return (await openDatabase()).getAllKeys('drafts');
}

/** Keep a draft; resolves when it is on disk. */
export async function keepDraft(key, value) {
  await change(['drafts'], (tx) => tx.objectStore('drafts').put(value, key));
}

/** Forget a draft. */
export async function dropDraft(key) {
  await change(['drafts'], (tx) => tx.objectStore('drafts').delete(key));
}

/** What was typed into a system's form when it was last saved here: {place: {text, unit}}. */
export async function said(documentId) {
  return (await (await openDatabase()).get('facts', `said:${documentId}`)) ?? {};
}

/** Keep it; whether a text still says what the system holds is looked at when it is shown. */
export async function keepSaid(documentId, texts) {
  await change(['facts'], (tx) => tx.objectStore('facts').put(texts, `said:${documentId}`));
}

/** Take a revision from the feed into an open transaction over documents, answered and facts. A document with unsent changes keeps showing them.
 * `answers`: a Map for all of one transaction, to be kept by keepAnswers. */
export async function takeFromServer(tx, revision, answers) {
  const documents = tx.objectStore('documents');
  const held = await documents.get(revision.document);
  const { number, deleted } = held?.server ?? {};
  // the same number in another way: by it a system left this person's sites, or came to those that the person has by now
  if (number > revision.number || (number === revision.number && deleted === revision.deleted)) return;
  const server = { revision: revision.id, number: revision.number, body: revision.body, deleted: revision.deleted, by: revision.made_by };
  let clash = held?.clash ?? null;
  if (revision.state === 'clash') {
    // the server's own joining revision (it has `also`) only replaces which version is the newest
    clash = revision.also && clash ? { ...clash, mine: server }
      : { fields: revision.fields, mine: server, other: held?.server ?? null };
  } else if (revision.also && clash && [clash.mine?.revision, clash.other?.revision].includes(revision.also)) {
    clash = null;
  }
  const waiting = held?.waiting && held.revision !== revision.id;
  const body = revision.deleted && held ? held.body : revision.body; // what comes with a deletion need be no document
  const shown = waiting ? held : {
    document: revision.document, kind: revision.kind, body, revision: revision.id, waiting: false,
    system: revision.kind === 'system' ? revision.document : body.system, refused: null,
    deleted: revision.deleted, madeAt: inOrder(body.made_at, revision.made_at),
  };
  await documents.put({ ...shown, number: waiting ? null : revision.number, server, clash });
  await follow(tx, revision.kind, revision.document, revision.body, revision.deleted, answers);
}

/** The last worked result of a revision, or undefined. */
export async function workedOf(key) {
  return (await openDatabase()).get('worked', key);
}

/** True where a worked result is kept under a key, without reading it. */
export async function isWorked(key) {
  return (await (await openDatabase()).getKey('worked', key)) !== undefined;
}

/** Keep a worked result; what cannot be kept is worked again. */
export async function keepWorked(key, value) {
  await change(['worked'], (tx) => tx.objectStore('worked').put(value, key));
}
