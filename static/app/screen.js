// screen.js: the frame that every page is shown in: title, where the data is, body, main action, rooms.
import { html, nothing, render } from '../vendor/lit-html/lit-html.js';
import { onChange } from './documents.js';
import { waiting } from './outbox.js';
import { current } from './session.js';
import { stateLine } from './views/state-line.js';
import { newVersion, takeNewVersion } from './version.js';

const ROOMS = [['/app/', 'Today'], ['/app/systems', 'Systems'], ['/app/to-send', 'To send'], ['/app/this-phone', 'This phone']];
const root = document.getElementById('app');
root.replaceChildren();
let shown = null;
let sending = { count: 0, since: null, refused: [] };

function rooms(tab) {
  return html`<nav class="rooms" aria-label="Rooms">${ROOMS.map(([path, name]) => html`
    <a href=${path} aria-current=${name === tab ? 'page' : nothing}>${name}</a>`)}</nav>`;
}

function draw() {
  if (!shown) return;
  const { above = '', title, state = null, body, foot = nothing, tab = null, busy = false } = shown;
  document.title = `${title} · Linewright`;
  render(html`
    <header class="head"><p class="above">${above}</p><h1 tabindex="-1">${title}</h1></header>
    ${stateLine(state, sending)}
    ${newVersion() && !busy ? html`<p class="notice">A new version is ready.
      <button class="quiet" @click=${takeNewVersion}>Use it now</button></p>` : nothing}
    <main id="main">${body}</main>
    ${foot === nothing ? nothing : html`<footer class="foot">${foot}</footer>`}
    ${current() ? rooms(tab) : nothing}`, root);
}

async function refresh() {
  sending = await waiting().catch(() => sending);
  draw();
}

export const screen = {
  /** A new page begins: the next show() moves the reader to its title. */
  begin() { this.fresh = true; },
  /** Show {above, title, state, body, foot, tab, busy}; again and again. `busy`: in the middle of a form, run or round. */
  show(page) {
    shown = page;
    draw();
    refresh();
    if (this.fresh) {
      this.fresh = false;
      root.querySelector('h1')?.focus({ preventScroll: true });
    }
  },
  redraw: draw,
};

onChange(refresh);
