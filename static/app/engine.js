// engine.js: asks the engine. Quick work has one worker, simulations another, which is ended when nobody waits any more.
import { fact } from './database.js';

class Desk {
  constructor() { this.open = new Map(); this.next = 1; this.worker = null; }

  start() {
    if (this.worker) return;
    this.worker = new Worker('/static/app/engine-worker.js', { type: 'module' });
    this.worker.addEventListener('message', ({ data }) => {
      const waiter = this.open.get(data.id);
      this.open.delete(data.id);
      if (!waiter) return;
      if ('bug' in data) waiter.reject(new Error(data.bug)); else waiter.resolve(JSON.parse(data.text));
    });
  }

  /** Answer to a request; null asks for the engine's version. */
  ask(request) {
    this.start();
    const id = this.next++;
    return new Promise((resolve, reject) => {
      this.open.set(id, { resolve, reject });
      this.worker.postMessage({ id, text: request && JSON.stringify(request) });
    });
  }

  /** Give up all that runs. */
  cancel() {
    if (!this.open.size) return;
    this.worker.terminate();
    this.worker = null;
    for (const { reject } of this.open.values()) reject(Object.assign(new Error('cancelled'), { cancelled: true }));
    this.open.clear();
  }
}

const quick = new Desk();
const heavy = new Desk();

/** The reader's units: "metric" or "us". */
export async function units() {
  return (await fact('units')) ?? 'metric';
}

let version = null;

/** Which engine works here, asked of itself: what it worked is kept under this. */
export function engineVersion() {
  version ??= quick.ask(null);
  return version;
}

/** Which engine will work here, known before it runs: only what that one worked is shown. */
export async function versionHere() {
  return (await fetch('/app-data/engine-version.json')).json();
}

/** Start the interpreters before they are needed. */
export function warm() {
  quick.start();
}

/** Answer of the engine to a quick request ({do: ...}); one that names its units is asked without looking them up. */
export async function ask(request) {
  return quick.ask(request.units ? request : { units: await units(), ...request });
}

/** Answer to a request that simulates. Rejects with {cancelled} when the page that asked is left. */
export async function askHeavy(request) {
  return heavy.ask({ units: await units(), ...request });
}

/** Stop simulations that nobody waits for: a page that asks for them calls it when it is left. */
export function cancelHeavy() {
  heavy.cancel();
}
