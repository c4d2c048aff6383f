// rounds.js: a system's rounds, those under way first, then the newest.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { get, newest, onChange } from '../documents.js';
import { go } from '../go.js';
import { isBad } from '../rounds.js';

const MOST = 30;
const day = (madeAt) => new Date(madeAt).toLocaleDateString('en-GB', { day: 'numeric', month: 'short', year: 'numeric' });

function row(id, { document, body, madeAt, clash }) {
  const bad = body.items.filter((item) => isBad(item, item)).length;
  const answered = body.items.filter((item) => item.answer).length;
  const said = body.signed ? [`${body.signed.by}`, bad ? `${bad} not ok` : 'all ok', body.countersigned && `counter-signed by ${body.countersigned.by}`, body.corrections && 'corrected']
    : [`Under way by ${body.made_by}`, `${answered} of ${body.items.length} answered`, clash && 'two answers clash'];
  return html`<li><a href="/app/systems/${id}/rounds/${document}"><span><strong>${day(madeAt)}</strong>${said.filter(Boolean).join(', ')}</span></a></li>`;
}

export async function open({ id }, screen) {
  const held = await get(id);
  if (!held) { await go(`/app/systems/${id}`, { replace: true }); return null; }
  const load = async () => {
    const rounds = [];
    await newest('round', id, (one) => rounds.push(one) >= MOST);
    rounds.sort((one, other) => Boolean(one.body.signed) - Boolean(other.body.signed));
    screen.show({ above: held.body.name, title: 'Rounds walked', tab: 'Systems',
      body: html`${rounds.length ? html`<ul class="rows">${rounds.map((one) => row(id, one))}</ul>` : html`<p>No round yet.</p>`}
        ${rounds.length === MOST ? html`<p class="small">The newest ${MOST}; all others are at the desk.</p>` : nothing}`,
      foot: html`<a class="button main" href="/app/systems/${id}/round">Walk a round</a>` });
  };
  await load();
  return onChange(load);
}
