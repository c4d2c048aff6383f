// router.js: addresses under /app/ to page modules. Links are plain links; a click stays in the page.
import { go, openWith } from './go.js';

const routes = [
  [/^\/app\/?$/, () => import('./pages/today.js')],
  [/^\/app\/systems$/, () => import('./pages/systems.js')],
  [/^\/app\/systems\/new$/, () => import('./pages/new-system.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)$/, () => import('./pages/system.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/edit\/(?<part>\w+)$/, () => import('./pages/edit.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/setting-up$/, () => import('./pages/setting-up.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/figures$/, () => import('./pages/figures.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/records$/, () => import('./pages/records.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/figures$/, () => import('./pages/figures.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/records$/, () => import('./pages/records.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/over-time$/, () => import('./pages/over-time.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/season$/, () => import('./pages/season.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/what-if$/, () => import('./pages/what-if.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/design$/, () => import('./pages/design.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/test-run$/, () => import('./pages/test-run.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/round$/, () => import('./pages/round.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/rounds$/, () => import('./pages/rounds.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/rounds\/(?<document>[\w-]+)$/, () => import('./pages/walked.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/checklist$/, () => import('./pages/checklist.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/fault-finding$/, () => import('./pages/fault-finding.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/defects$/, () => import('./pages/defects.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/defects\/new$/, () => import('./pages/defect-new.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/defects\/(?<document>[\w-]+)$/, () => import('./pages/defect.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/add\/adjustment$/, () => import('./pages/adjustment.js')],
  [/^\/app\/systems\/(?<id>[\w-]+)\/add\/(?<kind>[\w-]+)$/, () => import('./pages/record.js')],
  [/^\/app\/refills$/, () => import('./pages/refills.js')],
  [/^\/app\/to-send$/, () => import('./pages/to-send.js')],
  [/^\/app\/sign-in$/, () => import('./pages/sign-in.js')],
  [/^\/app\/this-phone$/, () => import('./pages/this-phone.js')],
];
let close = null;
let screen = null;
let turn = 0;

function find(path) {
  for (const [pattern, load] of routes) {
    const match = pattern.exec(path);
    if (match) return { load, params: match.groups ?? {} };
  }
  return { load: () => import('./pages/nothing.js'), params: {} };
}

async function open() {
  const mine = ++turn;
  const { load, params } = find(location.pathname);
  await close?.();
  close = null;
  const page = await load();
  if (mine !== turn) return;
  screen.begin();
  // what a page that was left still had asked for must not be drawn over the next one
  const closing = await page.open(params, { show: (shown) => { if (mine === turn) screen.show(shown); } });
  if (mine === turn) close = closing ?? null; else await closing?.();
}

/** Start routing. */
export function start(on) {
  screen = on;
  openWith(open);
  window.addEventListener('popstate', open);
  document.addEventListener('click', (event) => {
    const link = event.target.closest?.('a[href^="/app/"]');
    if (!link || event.defaultPrevented || event.metaKey || event.ctrlKey || link.target) return;
    event.preventDefault();
    go(link.getAttribute('href'));
  });
  return open();
}
