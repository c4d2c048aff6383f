// engine-core.js: loads the phone's interpreter and the engine's sources; answers JSON text with JSON text.
import { loadMicroPython } from '/static/vendor/micropython.mjs';

const HEAP_BYTES = 16 * 1024 * 1024;

async function sources() {
  const reply = await fetch('/app-data/engine.json');
  if (!reply.ok) throw new Error(`The calculator was not given by the server: ${reply.status}.`);
  return reply.json();
}

/** Resolves to ask(text) => text, with the engine's `version`. Works in a worker and on the main thread alike. */
export async function loadEngine() {
  const [python, bundle] = await Promise.all([
    loadMicroPython({ url: '/static/vendor/micropython.wasm', heapsize: HEAP_BYTES }), sources()]);
  const bytes = new TextEncoder(); // several times faster than the file system's own encoding of text
  for (const room of new Set(Object.keys(bundle.files).map((name) => name.slice(0, name.lastIndexOf('/'))))) python.FS.mkdirTree(`/${room}`);
  for (const [name, source] of Object.entries(bundle.files)) python.FS.writeFile(`/${name}`, bytes.encode(source));
  python.runPython(`import sys\nsys.path.insert(0, '/')\nfrom ${bundle.entry} import answer`);
  const answer = python.globals.get('answer');
  return Object.assign((text) => answer(text), { version: bundle.version });
}
