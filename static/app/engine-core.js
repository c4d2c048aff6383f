// engine-core.js: starts the phone's interpreter with the engine in it; answers JSON text with JSON text.
import { loadMicroPython } from '/static/vendor/micropython.mjs';
import { kept, unpack } from './engine-memory.js';

const HEAP_BYTES = 16 * 1024 * 1024;

/** A fresh interpreter {python, memory}. Its loader hides the memory, so the making of it is watched; null where that fails. */
async function interpreter() {
  const { instantiateStreaming } = WebAssembly;
  let memory = null;
  WebAssembly.instantiateStreaming = async (...given) => {
    const made = await instantiateStreaming.apply(WebAssembly, given);
    memory = Object.values(made.instance.exports).find((one) => one instanceof WebAssembly.Memory) ?? null;
    return made;
  };
  try {
    return { python: await loadMicroPython({ url: '/static/vendor/micropython.wasm', heapsize: HEAP_BYTES }), memory };
  } finally {
    WebAssembly.instantiateStreaming = instantiateStreaming;
  }
}

async function sources() {
  const reply = await fetch('/app-data/engine.json');
  if (!reply.ok) throw new Error(`The calculator was not given by the server: ${reply.status}.`);
  return reply.json();
}

/** The engine compiled from its sources: {python, memory}. `whole` compiles what is asked for late as well. */
export async function compiled(started = interpreter(), whole = false) {
  const [{ python, memory }, bundle] = await Promise.all([started, sources()]);
  python.FS.mkdir('/engine');
  for (const [name, source] of Object.entries(bundle.files)) python.FS.writeFile(`/${name}`, source);
  python.runPython(`import gc, sys\nsys.path.insert(0, '/')\nversion = '${bundle.version}'\nfrom ${bundle.entry} import answer`);
  if (whole) {
    // one by one: what is left over is collected between calls only, and a memory that had to grow fits no fresh interpreter
    const modules = Object.keys(bundle.files).filter((name) => !name.includes('__')).map((name) => name.slice(0, -3).replace('/', '.'));
    for (const name of modules) python.runPython(`import ${name}`);
    python.runPython('gc.collect()');
  }
  return { python, memory };
}

/** Resolves to ask(text) => text, with the engine's `version`. Works in a worker and on the main thread alike. */
export async function loadEngine() {
  const started = interpreter();
  const [{ python, memory }, bytes] = await Promise.all([started, kept()]);
  if (!bytes || !memory || !unpack(bytes, memory)) await compiled(started);
  const answer = python.globals.get('answer');
  return Object.assign((text) => answer(text), { version: python.globals.get('version') });
}
