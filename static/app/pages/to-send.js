// to-send.js: what waits, what was not accepted and why, and how to get it off the phone.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { onChange } from '../documents.js';
import { sendNow, waiting } from '../outbox.js';
import { offerFile } from '../file.js';
import { loadKinds } from '../form.js';

// where what was not accepted is corrected
const CORRECTED = { system: (id) => `${id}/edit/machine`, defect: (id, { system }) => `${system}/defects/${id}` };

function item({ revision, since, refused }, kinds) {
  const name = revision.body.name ?? revision.body.system_name ?? '';
  return html`<li><div class="row"><span><strong>${kinds.get(revision.kind)?.name ?? revision.kind} ${name}</strong>
    <small>since ${new Date(since).toLocaleString('en-GB', { dateStyle: 'medium', timeStyle: 'short' })}</small>
    ${refused ? html`<p class="field-error">Not accepted: ${refused.says}</p>` : nothing}</span>
    <button class="quiet" @click=${() => offerFile(`${revision.kind}-${revision.document}.json`, revision)}>As a file</button></div>
    ${refused && CORRECTED[revision.kind] ? html`<p><a class="button" href="/app/systems/${CORRECTED[revision.kind](revision.document, revision.body)}">Correct it</a></p>` : nothing}</li>`;
}

/** Photos by the document that they belong to. */
function photoItems(photos, kinds) {
  const byDocument = new Map();
  for (const { of } of photos) byDocument.set(of.document, { of, count: (byDocument.get(of.document)?.count ?? 0) + 1 });
  return [...byDocument.values()].map(({ of, count }) => html`<li><div class="row"><span><strong>${count === 1 ? 'One photo' : `${count} photos`}</strong>
    <small>of the ${(kinds.get(of.kind)?.name ?? of.kind).toLowerCase()} of ${new Date(of.madeAt).toLocaleString('en-GB', { dateStyle: 'medium', timeStyle: 'short' })}</small></span></div></li>`);
}

export async function open(_, screen) {
  const load = async () => {
    const [state, kinds] = await Promise.all([waiting(), loadKinds()]);
    screen.show({
      above: 'Outbox', title: state.count ? `${state.count} to send` : 'Nothing to send', tab: 'To send',
      body: html`${state.count ? html`<ul class="rows">${state.items.map((one) => item(one, kinds))}${photoItems(state.photos, kinds)}</ul>` : html`<p>Everything that was entered here is on the server.</p>`}
        ${state.refused.length ? html`<p>What was not accepted stays here, and is tried again when you send.</p>` : nothing}
        ${state.says && state.count ? html`<p class="notice">${state.offline ? 'No signal. It is sent as soon as there is.' : state.says}</p>` : nothing}`,
      foot: state.needsSignIn ? html`<a class="button main" href="/app/sign-in">Sign in to send</a>`
        : html`<button class="main" ?disabled=${state.busy} @click=${() => sendNow({ again: true })}>
          ${state.busy ? 'Sending…' : 'Send and fetch now'}</button>`,
    });
  };
  const stop = onChange(load);
  await load();
  return stop;
}
