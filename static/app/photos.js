// photos.js: photos on this phone: drawn small and without place, kept by their hash, sent in pieces, found again to be seen.
import { change, openDatabase } from './database.js';
import { changed, timeHere } from './documents.js';
import * as session from './session.js';

export const MOST = 10;
const LONGEST = 1600;
const QUALITY = 0.85;
const PIECE = 256 * 1024;
const DAY = 86400000;
const KEPT_DAYS = 30; // a photo that is on the server as well

/** A picture file drawn anew, upright, small and on white: {bytes, width, height}; JPEG with nothing in it but pixels. */
async function drawn(file) {
  const bitmap = await createImageBitmap(file);
  const share = Math.min(1, LONGEST / Math.max(bitmap.width, bitmap.height));
  const [width, height] = [bitmap.width, bitmap.height].map((side) => Math.max(1, Math.round(side * share)));
  const canvas = Object.assign(document.createElement('canvas'), { width, height });
  const pen = canvas.getContext('2d');
  pen.fillStyle = 'white';
  pen.fillRect(0, 0, width, height);
  pen.drawImage(bitmap, 0, 0, width, height);
  bitmap.close();
  const blob = await new Promise((done) => { canvas.toBlob(done, 'image/jpeg', QUALITY); });
  return { bytes: await blob.arrayBuffer(), width, height };
}

async function hashOf(bytes) {
  return [...new Uint8Array(await crypto.subtle.digest('SHA-256', bytes))].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** Take a file in for a document. Resolves to its entry in a record once it is on disk; throws a sentence for the person. */
export async function take(file, documentId) {
  const picture = await drawn(file).catch(() => null);
  if (!picture) throw new Error('This phone cannot open that as a picture. Take a photo, or choose a JPEG.');
  const sha256 = await hashOf(picture.bytes);
  try {
    await change(['photos'], async ({ store }) => {
      const held = await store.get(sha256);
      if (held && !held.waiting) return; // on the server already
      // `waiting` is the document, so that the index alone tells what waits for which
      await store.put({ sha256, bytes: picture.bytes, document: documentId, at: Date.now(), waiting: documentId, sent: held?.sent ?? 0 });
    });
  } catch (error) {
    throw new Error(`This phone could not keep the photo: ${error.message}. Make room on the phone, then take it again.`);
  }
  return { sha256, width: picture.width, height: picture.height, at: timeHere(), by: session.current().name };
}

/** A photo to be seen, from this phone or else from the server: {picture: a Blob or null, waiting, says: what a person should know}. */
export async function find(sha256) {
  const held = await (await openDatabase()).get('photos', sha256);
  if (held) return { picture: new Blob([held.bytes], { type: 'image/jpeg' }), waiting: Boolean(held.waiting), says: held.says ?? '' };
  try {
    return { picture: await session.readPicture(`/sync/photos/${sha256}`), waiting: false, says: '' };
  } catch (error) {
    return { picture: null, waiting: false, says: error.offline ? 'No signal: shown when there is.' : error.message };
  }
}

/** Photos of saved documents that the server does not have yet: [{sha256, of: the document}]. Reads no bytes of photos. */
export async function unsent() {
  const tx = (await openDatabase()).transaction(['photos', 'documents']);
  const found = [];
  for (let at = await tx.objectStore('photos').index('waiting').openKeyCursor(); at; at = await at.continue()) {
    const of = await tx.objectStore('documents').get(at.key);
    if (of) found.push({ sha256: at.primaryKey, of });
  }
  return found;
}

/** Send the next piece of what waits; false when nothing is left that the server takes now. `passed`: hashes to pass over, grows. */
export async function sendPiece(passed) {
  const next = (await unsent()).find(({ sha256, of }) => !passed.has(sha256) && (of.server || !of.waiting));
  const held = next && await (await openDatabase()).get('photos', next.sha256);
  if (!held) return false;
  await note(held.sha256, await sentPiece(held, passed));
  return true;
}

/** What the server says to the next piece of a photo: {received, complete, says}. Throws where it is no matter of this photo. */
async function sentPiece({ sha256, bytes, sent }, passed) {
  try {
    return await session.write('PUT', `/sync/photos/${sha256}`, bytes.slice(sent, sent + PIECE), {
      'Upload-Offset': sent, 'Upload-Length': bytes.byteLength,
    });
  } catch (error) {
    if (![404, 409, 413, 422].includes(error.status)) throw error;
    const received = error.answer?.received ?? 0;
    if (error.status !== 409 || received === sent) passed.add(sha256); // tried again with the next exchange
    return { received, says: error.status > 409 ? error.message : '' };
  }
}

async function note(sha256, { received, complete, says = '' }) {
  await change(['photos'], async ({ store }) => {
    const held = await store.get(sha256);
    if (!held) return;
    const next = { ...held, sent: received, says };
    if (complete) delete next.waiting;
    await store.put(next);
  });
  if (complete || says) changed();
}

/** Delete those of these photos that nothing on this phone names any more. */
async function dropUnnamed(tx, hashes) {
  if (!hashes.length) return;
  const naming = JSON.stringify(await Promise.all(['drafts', 'documents', 'outbox'].map((name) => tx.objectStore(name).getAll())));
  for (const sha256 of hashes) if (!naming.includes(sha256)) await tx.objectStore('photos').delete(sha256);
}

const STORES = ['photos', 'drafts', 'documents', 'outbox'];

/** Forget a photo that was taken out of a record, unless it is named elsewhere. */
export async function forget(sha256) {
  await change(STORES, (tx) => dropUnnamed(tx, [sha256]));
}

/** Once a day: photos that nothing names any more go (of drafts given up), and those that the server has had for long. */
export async function tidy() {
  if (Date.now() - ((await (await openDatabase()).get('facts', 'tidied')) ?? 0) < DAY) return;
  await change([...STORES, 'facts'], async (tx) => {
    const old = [];
    for (let at = await tx.objectStore('photos').openCursor(); at; at = await at.continue()) {
      const days = (Date.now() - at.value.at) / DAY;
      // one of today may belong to a draft that is being kept at this moment
      if (at.value.waiting && days > 1) old.push(at.value.sha256);
      if (!at.value.waiting && days > KEPT_DAYS) await at.delete();
    }
    await dropUnnamed(tx, old);
    await tx.objectStore('facts').put(Date.now(), 'tidied');
  });
}
