// systems.js: the register on this phone, by area.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { defectsOf } from '../defects.js';
import { list, onChange } from '../documents.js';
import { known } from '../worked.js';
import { sign, worst } from '../views/verdict.js';

/** How many defects are open at a system, in words; empty where none is. */
function defectText(here) {
  const late = here.filter(({ overdue }) => overdue).length;
  return here.length ? ` · ${here.length} ${here.length === 1 ? 'defect' : 'defects'}${late ? `, ${late} overdue` : ''}` : '';
}

function row({ held, worked }, defects) {
  const points = held.body.points?.length ?? 0;
  const here = defects.filter((one) => one.held.body.system === held.document);
  const wrong = here.map(({ sign: shape, overdue }) => ({ severity: overdue && shape === 'note' ? 'warn' : shape }));
  const state = worst([...worked?.findings ?? [], ...wrong]);
  return html`<li><a href="/app/systems/${held.document}"><span><strong>${held.body.name}</strong>
    <small>${points} ${points === 1 ? 'point' : 'points'}${defectText(here)}${held.waiting ? ' · waits to be sent' : ''}${held.refused ? ' · not accepted' : ''}</small></span>
    ${worked || state !== 'good' ? sign(state) : nothing}</a></li>`;
}

export async function open(_, screen) {
  const load = async () => {
    const [systems, { open: defects }] = await Promise.all([
      list('system').then((all) => Promise.all(all.map(async (held) => ({ held, worked: await known(held) })))),
      defectsOf(),
    ]);
    const places = [...new Set(systems.map(({ held }) => [held.body.site, held.body.area].filter(Boolean).join(' · ')))].sort();
    screen.show({
      above: 'Register', title: 'Systems', tab: 'Systems',
      body: html`${systems.length ? nothing : html`<p>No systems yet. Enter the first one: it takes about a quarter of an hour.</p>`}
        ${places.map((place) => html`<h2>${place || 'No area'}</h2><ul class="rows">
          ${systems.filter(({ held }) => [held.body.site, held.body.area].filter(Boolean).join(' · ') === place).map((one) => row(one, defects))}</ul>`)}`,
      foot: html`<a class="button main" href="/app/systems/new">New system</a>`,
    });
  };
  const stop = onChange(load);
  await load();
  return stop;
}
