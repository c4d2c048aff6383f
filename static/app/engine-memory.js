// engine-memory.js: the interpreter's memory with the whole engine in it, so that a cold start need not compile the sources again.
// As bytes: memory size, number of blocks, their places, then the blocks; all others are zero.
export const ADDRESS = '/app-data/engine-memory';
const BLOCK = 4096;

/** Bytes that hold what is not zero in a WebAssembly memory. */
export function pack(memory) {
  const places = [];
  const words = new Uint32Array(memory.buffer);
  for (let at = 0; at < words.length; at += BLOCK / 4) {
    if (words.subarray(at, at + BLOCK / 4).some((word) => word)) places.push(at * 4);
  }
  const head = Uint32Array.from([memory.buffer.byteLength, places.length, ...places]);
  const out = new Uint8Array(head.byteLength + places.length * BLOCK);
  out.set(new Uint8Array(head.buffer));
  places.forEach((place, number) => out.set(new Uint8Array(memory.buffer, place, BLOCK), head.byteLength + number * BLOCK));
  return out.buffer;
}

/** Put such bytes back into a fresh interpreter's memory. False, and nothing is changed, where they are of another size. */
export function unpack(bytes, memory) {
  const [size, count] = new Uint32Array(bytes, 0, 2);
  if (size !== memory.buffer.byteLength) return false;
  const all = new Uint8Array(memory.buffer).fill(0);
  const start = (2 + count) * 4;
  new Uint32Array(bytes, 8, count).forEach((place, number) => all.set(new Uint8Array(bytes, start + number * BLOCK, BLOCK), place));
  return true;
}

/** Have the memory made, in a worker of its own, and kept by the service worker that works here; once a version. */
export async function keepOnce() {
  if (await kept()) return;
  const keeper = new Worker('/static/app/engine-keeper.js', { type: 'module' });
  keeper.addEventListener('message', ({ data }) => {
    keeper.terminate();
    if (data) navigator.serviceWorker.controller?.postMessage({ engineMemory: data }, [data.bytes]);
  });
}

/** The kept memory of the version that works here, or null. */
export async function kept() {
  const reply = await globalThis.caches?.match(ADDRESS);
  return reply ? reply.arrayBuffer() : null;
}
