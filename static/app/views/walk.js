// walk.js (view): the spine with one entry open, and the four ways to go on.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { repeat } from '../../vendor/lit-html/directives/repeat.js';
import { valueAt } from '../form.js';
import { pointsOf } from '../walk.js';
import { blockFields } from './block.js';
import { field, pick } from './fields.js';
import { needFields } from './need.js';

const LISTS = { pipe: 'sections', device: 'devices', switch: 'switches' };
const progressive = (form) => form.body.kind === 'progressive';

/** What stands at a place, as it was typed, else to four digits. */
function shownAt(form, place) {
  const text = place in form.draft.typed ? form.text(place) : form.text(place) && String(Number(Number(form.text(place)).toPrecision(4)));
  return text ? `${text} ${/[a-z"]/i.test(text) ? '' : form.unitsOf(place).chosen}`.trim() : '…';
}

function title(form, entry) {
  const place = `${LISTS[entry.kind]}[${entry.index}]`;
  const thing = valueAt(form.body, place);
  if (entry.kind === 'pipe') {
    const [coldest, hottest] = ['coldest_c', 'hottest_c'].map((one) => shownAt(form, `${place}.ambient.${one}`));
    return [`${shownAt(form, `${place}.length_m`)} ${thing.wall ?? 'steel'}, ${shownAt(form, `${place}.bore_mm`)}`, `Pipe ${thing.id}${thing.ambient ? `, ${coldest} to ${hottest}` : ''}`];
  }
  if (entry.kind === 'switch' && progressive(form)) return [`Switch ${thing.id}`, `counts block ${thing.counts ?? '…'}`];
  if (entry.kind === 'switch') return [`Switch ${thing.id}`, `trips at ${shownAt(form, `${place}.trips_bar`)}`];
  const points = pointsOf(form.body, thing.id);
  if (progressive(form)) {
    const above = thing.hangs_from ? `, fed by ${thing.hangs_from.block} ${thing.hangs_from.outlet}` : '';
    return [`Block ${thing.id}`, `${thing.outlets?.length ?? 0} outlets, ${points.length} ${points.length === 1 ? 'point' : 'points'}${above}`];
  }
  return [points.map(({ point }) => point.name).join(', ') || `Device ${thing.id}`,
    `${thing.id}: ${points.length} ${points.length === 1 ? 'point' : 'points'}, fires at ${shownAt(form, `${place}.fires_bar`)}`];
}

function points(form, device, errors, changed, act) {
  return html`${pointsOf(form.body, device.id).map(({ index }) => html`
    <h3>Point ${index + 1}</h3>
    ${field(form, `points[${index}].name`, errors, changed)}
    ${form.body.kind === 'dual-line' ? field(form, `points[${index}].side`, errors, changed) : nothing}
    ${needFields(form, index, errors, changed)}
    <p><button class="quiet" @click=${() => act('remove point', index)}>Take this point away</button></p>`)}
    <p><button @click=${() => act('add point', device.id)}>One more point on this device</button></p>`;
}

/** Temperatures of one pipe: open once something is entered there. */
function ownWarmth(form, place, inputs) {
  const group = form.entry(`${place}.ambient`);
  const used = valueAt(form.body, `${place}.ambient`) || Object.keys(form.draft.typed).some((one) => one.startsWith(`${place}.ambient`));
  return html`<details ?open=${Boolean(used)}><summary class="check">${group.label}</summary><p class="help">${group.help}. All three, or none.</p>${inputs}</details>`;
}

function inner(form, entry, errors, changed, act) {
  const place = `${LISTS[entry.kind]}[${entry.index}]`;
  if (entry.kind === 'device' && progressive(form)) return blockFields(form, entry.index, errors, changed, act);
  const hose = form.body.sections?.[entry.index]?.wall === 'hose';
  const names = form.fieldsOf(LISTS[entry.kind], entry.index).filter((one) => one !== 'expansion_cm3_per_m_per_100bar' || hose);
  const one = (name) => field(form, `${place}.${name}`, errors, changed);
  return html`${entry.kind === 'switch' ? one('id') : nothing}${names.filter((name) => !name.includes('.')).map(one)}
    ${entry.kind === 'pipe' ? ownWarmth(form, place, names.filter((name) => name.startsWith('ambient.')).map(one)) : nothing}
    ${entry.kind === 'switch' && progressive(form) ? pick(`${place}.counts`, 'Counts block', valueAt(form.body, `${place}.counts`) ?? '',
      [['', 'choose…'], ...form.body.devices.map(({ id }) => [id, id])], (block) => act('counts', [entry.index, block]), errors.get(`${place}.counts`)) : nothing}
    ${entry.kind === 'device' ? points(form, valueAt(form.body, place), errors, changed, act) : nothing}`;
}

function opened(form, entry, errors, changed, act) {
  return html`${inner(form, entry, errors, changed, act)}
    <div class="buttons">
      <button class="quiet" @click=${() => act('nearer', entry)}>Nearer the pump</button>
      <button class="quiet" @click=${() => act('farther', entry)}>Farther away</button>
      <button class="quiet" @click=${() => act('remove', entry)}>Take away</button>
      <button @click=${() => act('close')}>Done</button>
    </div>`;
}

const count = (errors, place) => [...errors.keys()].filter((one) => one.startsWith(place)).length;

/** The spine. `state`: {open: 'pipe:0'|null, at: node, branching, places, undo}; `act(what, thing)` does things. */
export function walkView(form, walk, state, errors, changed, act) {
  return html`<ol class="spine">
    <li class="pump"><strong>Pump</strong></li>
    ${repeat(walk, (entry) => `${entry.kind}:${entry.index}`, (entry) => {
      const key = `${entry.kind}:${entry.index}`;
      const [name, second] = title(form, entry);
      const whole = `${LISTS[entry.kind]}[${entry.index}]`;
      const wrong = count(errors, whole);
      return html`<li class="${entry.kind} ${entry.branch ? 'branch' : ''}">
        <div class="line"><span>${entry.kind === 'pipe' ? name : html`<strong>${name}</strong>`}
          ${second ? html`<br><small>${second}</small>` : nothing}
          ${errors.has(whole) ? html`<p class="field-error">${errors.get(whole)}</p>` : wrong ? html`<span class="field-error">${wrong} to fill in</span>` : nothing}</span>
          ${state.open === key ? nothing : html`<button class="quiet" aria-label="Change ${name}" @click=${() => act('open', key)}>Change</button>`}</div>
        ${state.open === key ? opened(form, entry, errors, changed, act) : nothing}</li>`;
    })}
  </ol>
  ${state.undo ? html`<p class="notice">Taken away. <button class="quiet" @click=${() => act('undo')}>Put it back</button></p>` : nothing}
  ${state.branching ? html`<fieldset class="field"><legend>Branch from</legend><div class="buttons">${state.places.map(({ node, name }) => html`
      <button @click=${() => act('branch from', node)}>${name}</button>`)}</div></fieldset>` : html`
  <p>Then, after <strong>${state.places.find((one) => one.node === state.at)?.name ?? 'the pump'}</strong>:</p>
  <div class="buttons">
    <button @click=${() => act('device')}>${progressive(form) ? 'Block' : 'Device'}</button><button @click=${() => act('branching')}>Branch</button>
    ${form.body.kind === 'time-only' || (form.body.kind !== 'single-line' && form.body.switches.length) ? nothing : html`<button @click=${() => act('switch')}>Switch</button>`}<button @click=${() => act('pipe')}>More pipe</button>
  </div>`}`;
}
