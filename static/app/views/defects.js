// defects.js (view): defects, each with its word, its sign and when it is due, what is overdue or dangerous first; pieces of their forms.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { sign } from './verdict.js';

const DAY = { day: 'numeric', month: 'short', year: 'numeric' };

/** A day, or the day of a time, as it is read. */
export function dayText(text) {
  return new Date(text.length === 10 ? `${text}T12:00` : text).toLocaleDateString('en-GB', DAY);
}

/** Where a defect is raised with the words of a finding. */
export const raiseAt = (system, says) => `/app/systems/${system}/defects/new?says=${encodeURIComponent(says)}`;

/** One open defect of defectsOf(), as a link to its page; `name`: of its system, where the page shows several. */
export function defectRow({ held: { document, body, waiting }, severity, sign: shape, overdue, when }, name = '') {
  const pressing = overdue || severity === 'danger';
  const owner = body.owner ? ` Owner: ${body.owner}.` : ' Nobody owns it.';
  return html`<li><a href="/app/systems/${body.system}/defects/${document}">
    <span class="grow"><strong>${name ? `${name}, ` : ''}${body.where}: ${body.what}</strong>
    <span class=${pressing ? 'field-error' : 'small'}>${severity[0].toUpperCase()}${severity.slice(1)}. ${when.says}</span>
    <span class="small">${owner}${waiting ? ' Not sent yet.' : ''}</span></span>${sign(shape)}</a></li>`;
}

/** Open defects of a system's page, `rows` from defectsOf(); nothing where there is none. */
export function openDefects(rows) {
  if (!rows.length) return nothing;
  return html`<h2>Open defects</h2><ul class="rows defects">${rows.map((row) => defectRow(row))}</ul>`;
}

/** Those of defectsOf() that cannot wait: overdue, due today, or dangerous. */
export const pressingOf = (rows) => rows.filter(({ days, severity }) => days <= 0 || severity === 'danger');

/** Open defects that cannot wait, of all systems: for the first page. `names`: {system: name}. */
export function pressingDefects(rows, names) {
  const pressing = pressingOf(rows).filter(({ held }) => names.has(held.body.system));
  if (!pressing.length) return nothing;
  return html`<h2>Defects that cannot wait</h2>
    <ul class="rows defects">${pressing.map((row) => defectRow(row, names.get(row.held.body.system)))}</ul>`;
}

/** How an open defect of defectsOf() stands, and what its consequence asks for. */
export function standingView({ severity, sign: shape, when, means }) {
  return html`<div class="verdict ${shape}"><h2>${sign(shape)}<span>${severity}: ${when.says}</span></h2>
    <p>${means.says} ${means.do}</p></div>`;
}

/** What happened to a defect, the newest first; `rows`: {at, by, what}, `more(row)`: what stands below one. */
export function happenedView(rows, more) {
  const sorted = [...rows].sort((one, other) => Date.parse(other.at) - Date.parse(one.at));
  return html`<h2>What happened</h2><ul class="rows">${sorted.map((one) => html`<li>
    <div class="row"><span>${one.what}<small> ${dayText(one.at)}, ${one.by}</small></span></div>${more(one)}</li>`)}</ul>`;
}

/** The four words as large buttons, each with what it means; `words` from severitiesAt(). */
export function severityChoice(words, chosen, onChoose) {
  return html`<fieldset class="field choices"><legend>What follows from it</legend>${words.map(({ severity, sign: shape, means }) => html`
    <button aria-pressed=${severity === chosen} @click=${() => onChoose(severity)}>${sign(shape)}
      <span><strong>${severity}</strong>${means.says} ${means.do}</span></button>`)}</fieldset>`;
}

/** Owner and day, each as it is typed. `say(name, text)`. */
export function ownerAndDay({ owner, due }, proposed, owners, say) {
  return html`<div class="field"><label for="owner">Who sees to it</label>
      <input id="owner" list="owners" autocomplete="off" .value=${owner} @input=${(event) => say('owner', event.target.value)}>
      <datalist id="owners">${owners.map((one) => html`<option value=${one}></option>`)}</datalist></div>
    <div class="field"><label for="due">By when</label>${proposed ? html`<p class="help">Proposed: ${dayText(proposed)}</p>` : nothing}
      <input id="due" type="date" .value=${due} @change=${(event) => say('due', event.target.value)}></div>`;
}

/** A text of several lines. */
export function longText(id, label, value, onInput, help = '') {
  return html`<div class="field"><label for=${id}>${label}</label>${help ? html`<p class="help">${help}</p>` : nothing}
    <textarea id=${id} rows="3" .value=${value ?? ''} @input=${(event) => onInput(event.target.value)}></textarea></div>`;
}

/** What is missing before a form can be kept, for its foot; empty texts are passed over. */
export function stillToSay(missing) {
  const named = missing.filter(Boolean);
  return named.length ? html`<p class="small">Still to say: ${named.join(', ')}.</p>` : nothing;
}
