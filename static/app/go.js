// go.js: how pages send a person to another address. The router, which knows all pages, listens here; pages know only this.
let opening = null;

/** The router says how the current address is opened. */
export function openWith(open) {
  opening = open;
}

/** The address before this one on this phone. It lies in the browser's own history: no link from elsewhere can name another. */
export function cameFrom() {
  return history.state?.from ?? '/app/';
}

const from = (path) => ({ from: location.pathname === path ? cameFrom() : location.pathname + location.search });

/** Show another page than the one that is asked for, before any is open. */
export function insteadOpen(path) {
  history.replaceState(from(path), '', path);
}

/** Go to an address under /app/. Resolves when its page is open. */
export async function go(path, { replace = false } = {}) {
  if (replace) history.replaceState({}, '', path); else history.pushState(from(path), '', path);
  await opening();
  window.scrollTo(0, 0);
}
