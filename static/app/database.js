// database.js: the only module that knows IndexedDB. One small database for the phone, one for each person on it.
import { openDB } from '../vendor/idb.js';
import { answersAfter, inOrder } from './followed.js';

const strict = { durability: 'strict' };
let phone = null;
let person = null;
let openId = null;

function phoneDatabase() {
  phone ??= openDB('linewright', 1, { upgrade: (db) => { db.createObjectStore('facts'); } });
  return phone;
}

/** A fact of this phone (who is signed in, theme, its own id); undefined where none is kept. */
export async function fact(name) {
  return (await phoneDatabase()).get('facts', name);
}

/** Keep a fact of this phone. */
export async function keepFact(name, value) {
  const tx = (await phoneDatabase()).transaction('facts', 'readwrite', strict);
  await Promise.all([tx.store.put(value, name), tx.done]);
}

/** Use the database of this person from now on; nobody sees another's. */
export function openFor(personId) {
  if (openId === personId) return person;
  openId = personId;
  person = openDB(`linewright-${personId}`, 2, { upgrade: async (db, from, _, tx) => { if (from < 1) first(db); await second(db, tx); }, blocking: (_, __, event) => event.target.close() });
  return person;
}

function first(db) {
  const documents = db.createObjectStore('documents', { keyPath: 'document' });
  documents.createIndex('kind', 'kind');
  documents.createIndex('system', 'system');
  db.createObjectStore('outbox', { keyPath: 'order', autoIncrement: true });
  db.createObjectStore('drafts');
  db.createObjectStore('facts');
  db.createObjectStore('worked');
}

/** Years of records: a kind of one system in the order of time, photos by their hash, the last answer to each item by system. */
async function second(db, tx) {
  const documents = tx.objectStore('documents');
  documents.createIndex('kindSystemTime', ['kind', 'system', 'madeAt']);
  db.createObjectStore('photos', { keyPath: 'sha256' }).createIndex('waiting', 'waiting');
  const answered = db.createObjectStore('answered');
  for (let at = await documents.openCursor(); at; at = await at.continue()) {
    const { kind, system, document, body, madeAt } = at.value;
    await at.update({ ...at.value, madeAt: inOrder(body.made_at, madeAt) });
    if (kind === 'round' && body.signed) await answered.put(answersAfter(await answered.get(system), body, document), system);
  }
}

/** The open person's database. Throws where nobody has signed in on this phone. */
export async function openDatabase() {
  if (!person) throw new Error('Nobody is signed in on this phone.');
  return person;
}

/** Run `work(tx)` in one strict transaction over these stores; resolves when it is on disk, not before. */
export async function change(stores, work) {
  const tx = (await openDatabase()).transaction(stores, 'readwrite', strict);
  const done = tx.done.catch((error) => { throw error; });
  const [result] = await Promise.all([work(tx), done]);
  return result;
}

/** True once the browser promised to keep this site's data; asks for it. */
export async function askToPersist() {
  return navigator.storage?.persist ? navigator.storage.persist() : false;
}

/** {kept, used, room}: is the data promised to be kept, bytes used, bytes allowed. */
export async function storageState() {
  const kept = navigator.storage?.persisted ? await navigator.storage.persisted() : false;
  const { usage = 0, quota = 0 } = navigator.storage?.estimate ? await navigator.storage.estimate() : {};
  return { kept, used: usage, room: quota };
}
