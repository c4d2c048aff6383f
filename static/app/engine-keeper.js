// engine-keeper.js: a worker that compiles the whole engine once and hands out its memory: {version, bytes}; null where it cannot.
import { compiled } from './engine-core.js';
import { pack } from './engine-memory.js';

const { python, memory } = await compiled(undefined, true);
const bytes = memory && pack(memory);
self.postMessage(bytes && { version: python.globals.get('version'), bytes }, bytes ? [bytes] : []);
