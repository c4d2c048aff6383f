// session.js: who works on this phone, and the calls that need a session. Signing out touches nothing that is kept.
import { fact, keepFact, openFor } from './database.js';

let person = null;

/** The person who works on this phone, or null. */
export function current() {
  return person;
}

/** Find out who works on this phone; their database is open then. */
export async function resume() {
  const [phone, known] = await Promise.all([fact('phone'), fact('person')]);
  if (!phone) await keepFact('phone', crypto.randomUUID());
  person = known ?? null;
  if (person) openFor(person.id);
  return person;
}

async function begin(answer) {
  person = answer.person;
  await keepFact('person', person);
  openFor(person.id);
  return person;
}

/** A fresh token for the next write. */
export async function freshToken() {
  return (await read('/api/token')).token;
}

/** GET a JSON answer. Throws {offline} without signal, {status, error} for an error reply. */
export async function read(address) {
  return reply(fetch(address, { credentials: 'same-origin', cache: 'no-store' }));
}

/** Send JSON, or bytes as they are, with a token; the same errors as read. */
export async function write(method, address, body, headers = {}) {
  const token = await freshToken();
  const bytes = body instanceof ArrayBuffer;
  return reply(fetch(address, {
    method, credentials: 'same-origin', body: bytes ? body : JSON.stringify(body),
    headers: { 'Content-Type': bytes ? 'application/octet-stream' : 'application/json', 'X-CSRFToken': token, ...headers },
  }));
}

/** GET a picture as a Blob; the same errors as read. */
export async function readPicture(address) {
  const request = fetch(address, { credentials: 'same-origin' });
  const answer = await request.catch(() => null);
  return answer?.headers.get('Content-Type') === 'image/jpeg' ? answer.blob() : reply(request);
}

async function reply(request) {
  let answer;
  try {
    answer = await request;
  } catch {
    throw Object.assign(new Error('No signal.'), { offline: true });
  }
  const json = (answer.headers.get('Content-Type') ?? '').includes('json') && !answer.redirected;
  const body = json ? await answer.json() : null;
  if (!answer.ok || !body) {
    throw Object.assign(new Error(body?.error?.says ?? 'The server gave no proper answer.'), {
      status: answer.status,
      error: body?.error,
      answer: body,
    });
  }
  return body;
}

/** Sign in; the phone's own id goes along. */
export async function signIn(name, password) {
  return begin(await write('POST', '/api/session', { name, password, phone: await fact('phone') }));
}

/** Take over a session that the browser already has (signed in at the door). Null where there is none. */
export async function adopt() {
  try {
    return await begin(await read('/api/session'));
  } catch (error) {
    if (error.offline || error.status === 401) return null;
    throw error;
  }
}

/** Names for one-tap sign-in, in the demo only. */
export async function demoNames() {
  try {
    return (await read('/api/demo')).people.map((one) => one.name);
  } catch {
    return [];
  }
}

/** End the session on this phone. What is kept here stays, for the same person. */
export async function signOut() {
  await write('DELETE', '/api/session', {}).catch(() => null);
  person = null;
  await keepFact('person', null);
}
