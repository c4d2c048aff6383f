// systems.js: the register on this phone, by area.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { list, onChange } from '../documents.js';
import { known } from '../worked.js';
import { sign, worst } from '../views/verdict.js';

function row({ held, worked }) {
  const points = held.body.points?.length ?? 0;
  const state = worked ? worst(worked.findings) : null;
  return html`<li><a href="/app/systems/${held.document}"><span><strong>${held.body.name}</strong>
    <small>${points} ${points === 1 ? 'point' : 'points'}${held.waiting ? ' · waits to be sent' : ''}${held.refused ? ' · not accepted' : ''}</small></span>
    ${state ? sign(state) : nothing}</a></li>`;
}

export async function open(_, screen) {
  const load = async () => {
    const systems = await Promise.all((await list('system')).map(async (held) => ({ held, worked: await known(held) })));
    const places = [...new Set(systems.map(({ held }) => [held.body.site, held.body.area].filter(Boolean).join(' · ')))].sort();
    screen.show({
      above: 'Register', title: 'Systems', tab: 'Systems',
      body: html`${systems.length ? nothing : html`<p>No systems yet. Enter the first one: it takes about a quarter of an hour.</p>`}
        ${places.map((place) => html`<h2>${place || 'No area'}</h2><ul class="rows">
          ${systems.filter(({ held }) => [held.body.site, held.body.area].filter(Boolean).join(' · ') === place).map(row)}</ul>`)}`,
      foot: html`<a class="button main" href="/app/systems/new">New system</a>`,
    });
  };
  const stop = onChange(load);
  await load();
  return stop;
}
