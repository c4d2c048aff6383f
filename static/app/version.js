// version.js: the service worker's life: a new version waits until the person says so.
let waitingWorker = null;
let listener = () => {};

/** True when a new version waits. */
export function newVersion() {
  return Boolean(waitingWorker);
}

/** Let the new version take over; the page reloads when it has. */
export function takeNewVersion() {
  navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true });
  waitingWorker?.postMessage('take over');
}

function watch(registration) {
  const look = () => {
    if (registration.waiting && navigator.serviceWorker.controller) {
      waitingWorker = registration.waiting;
      listener();
    }
  };
  look();
  registration.addEventListener('updatefound', () => registration.installing?.addEventListener('statechange', look));
}

/** Register the worker; `onNew` is called when a new version waits. Resolves to true once pages work without signal. */
export async function register(onNew) {
  listener = onNew;
  if (!('serviceWorker' in navigator)) return false;
  watch(await navigator.serviceWorker.register('/sw.js', { updateViaCache: 'none' }));
  await navigator.serviceWorker.ready;
  return true;
}
