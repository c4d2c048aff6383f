// state-line.js: one line, always in the same place: where the data is, how much waits, since when.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';

function clock(time) {
  const then = new Date(time);
  const today = new Date().toDateString() === then.toDateString();
  const hour = then.toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' });
  return today ? hour : `${then.toLocaleDateString('en-GB', { day: 'numeric', month: 'short' })}, ${hour}`;
}

/** `state`: "draft", "phone", "server", a text of its own, or null for pages without data of their own. */
export function stateLine(state, { count, since, refused = [], needsSignIn, offline, busy }) {
  const words = { draft: 'Draft kept on this phone.', phone: 'Saved on this phone.', server: 'On the server.' };
  const where = words[state] ?? state ?? (count ? 'Saved on this phone.' : 'All on the server.');
  const wait = count ? ` ${count} ${count === 1 ? 'thing waits' : 'things wait'} to be sent, since ${clock(since)}.` : '';
  return html`<p class="state" role="status"><strong>${where}</strong>${wait}
    ${refused.length ? html` <a href="/app/to-send">${refused.length} not accepted</a>.` : nothing}
    ${needsSignIn ? html` <a href="/app/sign-in">Sign in to send</a>.` : nothing}
    ${offline ? ' No signal.' : nothing}${busy && count ? ' Sending…' : nothing}</p>`;
}
