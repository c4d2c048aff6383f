// records.js: everything that was recorded of a system and lies on this phone, newest first, and the papers.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { get, list } from '../documents.js';
import { units as readerUnits } from '../engine.js';
import { loadKinds } from '../form.js';
import { go } from '../go.js';
import { listedKinds, newestFirst } from '../records.js';
import { recordsView } from '../views/noted.js';
import { papers } from '../views/papers.js';

const AT_ONCE = 30;

export async function open({ id }, screen) {
  const held = await get(id);
  if (!held || held.deleted) return go(`/app/systems/${id}`, { replace: true });
  await loadKinds();
  const [units, lists] = await Promise.all([readerUnits(), Promise.all(listedKinds().map((kind) => list(kind, id)))]);
  const records = newestFirst(lists);
  let most = AT_ONCE;
  const show = () => screen.show({ above: held.body.name, title: 'Records and papers', tab: 'Systems', state: held.waiting ? 'phone' : 'server',
    body: html`${papers(id)}<h2>Records on this phone: ${records.length}</h2>
      ${records.length ? recordsView(records.slice(0, most), units) : html`<p>None yet. A test run is the first: it proves the settings.</p>`}
      ${records.length > most ? html`<p><button @click=${() => { most += AT_ONCE; show(); }}>Show older ones</button></p>` : nothing}
      <p><a class="button" href="/app/systems/${id}">Back to the system</a></p>` });
  show();
  return null;
}
