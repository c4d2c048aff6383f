// engine-worker.js: one interpreter in a worker; requests come as {id, text} and go back as {id, text} or {id, bug};
// without a text the engine's version is asked for.
import { loadEngine } from './engine-core.js';

const engine = loadEngine();

self.addEventListener('message', async ({ data }) => {
  try {
    const ask = await engine;
    self.postMessage({ id: data.id, text: data.text ? ask(data.text) : JSON.stringify(ask.version) });
  } catch (error) {
    self.postMessage({ id: data.id, bug: String(error.message ?? error) });
  }
});
