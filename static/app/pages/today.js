// today.js: what is wrong first, then what waits, then everything else.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { defectsOf } from '../defects.js';
import { careOf, carryFor, routeOf } from '../care.js';
import { itemsOfRound, planOf } from '../checklist.js';
import { draftKeys, get, list, onChange, roundsUnderWay } from '../documents.js';
import { cancelHeavy } from '../engine.js';
import { addedKinds, kindOf, loadKinds } from '../form.js';
import { current } from '../session.js';
import { workSaved } from '../worked.js';
import { pressingDefects, pressingOf } from '../views/defects.js';
import { dueView } from '../views/due.js';
import { sign, verdict, worst } from '../views/verdict.js';

function wrong({ held, worked }) {
  const first = worked.findings.find((one) => one.severity === worst(worked.findings));
  return html`${verdict({ ...first, says: `${held.body.name}: ${first.says}` })}
    <p><a class="button main" href="/app/systems/${held.document}">What to do at ${held.body.name}</a></p>`;
}

function body(systems, results, drafts, defects, due) {
  const seen = systems.filter((held) => results.has(held.revision)).map((held) => ({ held, worked: results.get(held.revision) }));
  const bad = seen.filter(({ worked }) => worst(worked.findings) !== 'good')
    .sort((a, b) => worst(a.worked.findings).localeCompare(worst(b.worked.findings)));
  const waiting = new Set(pressingOf(defects).map((row) => row.held.body.system));
  const good = seen.filter(({ held, worked }) => worst(worked.findings) === 'good' && !waiting.has(held.document));
  const clashes = systems.filter((held) => held.clash);
  return html`
    ${systems.length ? nothing : html`<p>No systems on this phone yet.</p><p><a class="button main" href="/app/systems/new">Enter the first one</a></p>`}
    ${pressingDefects(defects, new Map(systems.map((held) => [held.document, held.body.name])))}
    ${clashes.map((held) => verdict({ severity: 'warn', says: `${held.body.name}: two people changed the same field.`, do: 'Open it and settle which version stands.' }))}
    ${bad.map(wrong)}
    ${due ? dueView(due) : nothing}
    ${drafts.length ? html`<h2>Begun</h2><ul class="rows">${drafts.map(([path, text]) => html`<li><a href=${path}><strong>${text}</strong> go on</a></li>`)}</ul>` : nothing}
    ${seen.length < systems.length ? html`<p role="status">Working ${systems.length - seen.length} of ${systems.length} systems…</p>` : nothing}
    ${good.length ? html`<h2>Everything else holds</h2><ul class="rows">${good.map(({ held }) => html`
      <li><a href="/app/systems/${held.document}"><span><strong>${held.body.name}</strong>${held.body.area}</span>${sign('good')}</a></li>`)}</ul>` : nothing}`;
}

async function begun(systems) {
  const names = new Map(systems.map((held) => [held.document, held.body.name]));
  await loadKinds();
  const words = { edit: 'Entering', 'setting-up': 'Setting up', 'test-run': 'Test run', round: 'Round', checklist: 'Checklist', fault: 'Fault finding', 'defects/new': 'Defect',
    ...Object.fromEntries(addedKinds().map((kind) => [`add/${kind}`, kindOf(kind).name])) };
  const paths = { edit: 'edit/machine', fault: 'fault-finding' };
  const keys = (await draftKeys()).map(String);
  const others = Object.values(await roundsUnderWay()).filter(({ system }) => names.has(system) && !keys.includes(`round:${system}`));
  const nameOf = async (id) => names.get(id) ?? (await get(id))?.body.name ?? 'new system'; // one that is deleted may have been begun
  const mine = keys.map(async (key) => {
    const [kind, id, ...rest] = key.split(':');
    const path = `/app/systems/${id}/${paths[kind] ?? kind}${rest.join(':')}`;
    return words[kind] ? [path, `${words[kind]}: ${await nameOf(id)}`] : null;
  });
  return [...others.map(({ system, by }) => [`/app/systems/${system}/round`, `Round under way by ${by}: ${names.get(system)}`]),
    ...(await Promise.all(mine)).filter(Boolean)];
}

export async function open(_, screen) {
  let systems = [];
  let drafts = [];
  let defects = [];
  const results = new Map();
  let due = null;
  const draw = () => screen.show({ above: `${current()?.name ?? ''} · ${new Date().toLocaleDateString('en-GB', { weekday: 'long', day: 'numeric', month: 'long' })}`, title: 'Today', tab: 'Today', body: body(systems, results, drafts, defects, due) });
  let turn = 0;
  const load = async () => {
    const mine = ++turn;
    systems = await list('system');
    drafts = await begun(systems);
    if (mine !== turn) return;
    draw();
    defects = (await defectsOf()).open;
    if (mine === turn) draw();
    for (const held of systems) {
      if (mine !== turn || results.has(held.revision)) continue;
      await workSaved(held, (worked) => {
        if (worked.simulated || !worked.settings) results.set(held.revision, worked);
      }).catch((error) => {
        if (!error.cancelled) throw error;
      });
      if (mine === turn) draw();
    }
    const cares = [];
    for (const held of systems) {
      if (mine !== turn) return;
      if (results.has(held.revision)) cares.push(await careOf(held, results.get(held.revision)));
    }
    const stops = routeOf(cares);
    due = { stops, carry: await carryFor(stops) };
    if (mine === turn) draw();
    for (const held of systems) if (mine === turn) await itemsOfRound(held, await planOf(held.document)); // so that a round opens at once
  };
  const begin = () => load().catch((error) => { if (!error.cancelled) throw error; });
  const stop = onChange(begin);
  begin();
  return () => { turn = Infinity; stop(); cancelHeavy(); };
}
