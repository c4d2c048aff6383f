// engine-worker.js: one interpreter in a worker; requests come as {id, text} and go back as {id, text} or {id, bug}.
import { loadEngine } from './engine-core.js';

const engine = loadEngine();

self.addEventListener('message', async ({ data }) => {
  try {
    self.postMessage({ id: data.id, text: (await engine)(data.text) });
  } catch (error) {
    self.postMessage({ id: data.id, bug: String(error.message ?? error) });
  }
});
