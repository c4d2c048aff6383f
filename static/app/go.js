// go.js: how pages send a person to another address. The router, which knows all pages, listens here; pages know only this.
let opening = null;

/** The router says how the current address is opened. */
export function openWith(open) {
  opening = open;
}

/** Go to an address under /app/. Resolves when its page is open. */
export async function go(path, { replace = false } = {}) {
  history[replace ? 'replaceState' : 'pushState']({}, '', path);
  await opening();
  window.scrollTo(0, 0);
}
