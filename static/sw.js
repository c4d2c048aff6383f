// The service worker: keeps the phone's own files, nothing private. VERSION stands above, written by the server.
const CACHE = `linewright-${VERSION}`;
const SHELL = '/app/';

async function keepAll() {
  const list = await (await fetch('/app-data/files.json', { cache: 'no-store' })).json();
  const cache = await caches.open(CACHE);
  await Promise.all(Object.keys(list.files).map(async (address) => {
    const reply = await fetch(address, { cache: 'no-cache' });
    if (!reply.ok || reply.redirected) throw new Error(`${address} was not given: ${reply.status}`);
    await cache.put(address, reply);
  }));
}

async function dropOlder() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith('linewright-') && name !== CACHE).map((name) => caches.delete(name)));
  await self.clients.claim();
}

async function answer(request, address) {
  const kept = await (await caches.open(CACHE)).match(address);
  return kept ?? fetch(request);
}

self.addEventListener('install', (event) => event.waitUntil(keepAll()));
self.addEventListener('activate', (event) => event.waitUntil(dropOlder()));
self.addEventListener('message', (event) => { if (event.data === 'take over') self.skipWaiting(); });

self.addEventListener('fetch', (event) => {
  const { pathname, origin } = new URL(event.request.url);
  if (event.request.method !== 'GET' || origin !== self.location.origin) return;
  if (pathname.startsWith(SHELL)) {
    if (event.request.mode === 'navigate') event.respondWith(answer(event.request, SHELL));
  } else if (pathname.startsWith('/static/') || pathname.startsWith('/app-data/') || pathname === '/manifest.webmanifest') {
    event.respondWith(answer(event.request, pathname));
  }
});
