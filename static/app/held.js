// held.js: what of the plant this phone holds: the newest rounds of each system, all other records, and whatever is not on the server.
import { change, openDatabase } from './database.js';

/** So many of the newest rounds of each system are held; the server holds all. */
export const ROUNDS = 110;

const roundsOf = (system) => IDBKeyRange.bound(['round', system], ['round', system, []]);
const mayGo = (held) => held.body.signed && held.number !== null && !held.waiting && !held.refused && !held.clash;

/** Take signed rounds beyond the newest of each system off the phone; what waits (itself or a photo of it), was refused or is to be settled stays. */
export async function dropOld() {
  const db = await openDatabase();
  const systems = await db.getAllKeysFromIndex('documents', 'kind', 'system');
  const rounds = await Promise.all(systems.map((system) => db.getAllKeysFromIndex('documents', 'kindSystemTime', roundsOf(system))));
  const old = rounds.flatMap((oldestFirst) => oldestFirst.slice(0, -ROUNDS));
  if (!old.length) return;
  await change(['documents', 'photos'], async (tx) => {
    const documents = tx.objectStore('documents');
    const unsent = tx.objectStore('photos').index('waiting');
    for (const key of old) if (mayGo(await documents.get(key)) && !await unsent.count(key)) await documents.delete(key);
  });
}

/** {systems, rounds, others, waiting}: how many of each are held. */
export async function heldHere() {
  const db = await openDatabase();
  const [systems, rounds, all, waiting] = await Promise.all([
    db.countFromIndex('documents', 'kind', 'system'),
    db.countFromIndex('documents', 'kind', 'round'),
    db.count('documents'),
    db.count('outbox'),
  ]);
  return { systems, rounds, others: all - systems - rounds, waiting };
}
