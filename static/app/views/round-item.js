// round-item.js: one item of a round on the spine: closed with its answer, or open with its buttons.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { guard } from '../../vendor/lit-html/directives/guard.js';
import { isBad } from '../rounds.js';
import { toText } from '../units.js';

export const WORDS = {
  ok: 'OK',
  'not ok': 'Not OK',
  'not applicable': 'Does not apply',
  'not done': 'Not done',
  reading: 'Reading',
  text: 'Noted',
};
export const EVERY = { round: 'each round', month: 'once a month', year: 'once a year', cold: 'on the coldest day so far' };
const PROMPTS = { 'not ok': 'What is wrong?', 'not applicable': 'Why does it not apply?', 'not done': 'Why is it not done today?',
  outside: 'Outside its limit. Measure again, raise a defect, or say why it is fine.' };
// what one may go on from to a defect
const DEFECT = { 'not ok': 'Keep it, raise a defect', outside: 'Raise a defect' };

const shortened = (value, unit, name) => `${toText(Number(value.toPrecision(4)), unit, name)} ${name}`;

/** An answer in words; `unit(item)`: the unit's name for the reader. */
export function answerText(item, { answer, value, note }, unit) {
  const words = answer === 'reading' ? shortened(value, item.unit, unit(item)) : answer === 'text' ? '' : WORDS[answer] ?? 'not answered';
  return [words, note].filter(Boolean).join(': ');
}

/** What is expected of a reading, in words; empty where nothing is. */
export function limitsText({ low = null, high = null, unit, limit }, name) {
  if (low === null && high === null) return limit ?? '';
  const words = low === null ? `at most ${shortened(high, unit, name)}` : high === null ? `at least ${shortened(low, unit, name)}`
    : `${shortened(low, unit, name)} to ${shortened(high, unit, name)}`;
  return `expected ${words}${limit ? `, ${limit}` : ''}`;
}

/** Where a defect of an item is raised. */
export const defectOf = (page, key) => `/app/systems/${page.id}/defects/new?round=${page.draft.id}&item=${encodeURIComponent(key)}`;

const words = (page, key, label, help = nothing) => html`<div class="field"><label for="why">${label}</label>
  <textarea id="why" rows="2" maxlength="300" .value=${page.draft.why[key] ?? ''} @input=${(event) => page.because(key, event.target.value)}></textarea>${help}
  ${page.error ? html`<p class="field-error" role="alert">${page.error}</p>` : nothing}</div>`;

function explaining(item, page) {
  const { what } = page.draft.asking;
  return html`${words(page, item.key, PROMPTS[what], what === 'not ok' && item.photo ? html`<p class="help">A photo is asked for.</p>` : nothing)}
    ${what === 'not ok' ? page.photos.of(item.key) : nothing}
    <div class="buttons"><button class="main" @click=${() => page.explain(item)}>Keep it</button>
      <button @click=${() => page.again(item.key)}>${what === 'outside' ? 'Measure again' : 'Back'}</button></div>
    ${DEFECT[what] ? html`<p><button class="wide" @click=${() => page.explain(item, true)}>${DEFECT[what]}</button></p>` : nothing}`;
}

const skips = (item, page) => html`<div class="buttons"><button class="quiet" @click=${() => page.ask(item, 'not applicable')}>Does not apply…</button>
  <button class="quiet" @click=${() => page.ask(item, 'not done')}>Not done…</button></div>`;

function asked(item, page) {
  if (page.draft.asking?.key === item.key) return explaining(item, page);
  if (item.answer === 'text') {
    return html`${words(page, item.key, 'In a few words')}
      <p><button class="main" @click=${() => page.explain(item)}>Keep it</button></p>${skips(item, page)}`;
  }
  if (item.answer === 'reading') {
    return html`<div class="field ${page.error ? 'wrong' : ''}"><div class="with-unit"><input aria-label="${item.says}, ${item.where}" inputmode="decimal" autocomplete="off"
      .value=${page.draft.typed[item.key] ?? ''} @input=${(event) => page.type(item.key, event.target.value)}><span>${page.unit(item)}</span></div>
      <p class="help">${limitsText(item, page.unit(item))}</p>${page.error ? html`<p class="field-error" role="alert">${page.error}</p>` : nothing}</div>
      <p><button class="main" @click=${() => page.reading(item)}>Keep the reading</button></p>${skips(item, page)}`;
  }
  return html`<div class="buttons"><button class="ok" @click=${() => page.answer(item.key, 'ok')}>OK</button>
    <button @click=${() => page.ask(item, 'not ok')}>Not OK</button></div>${skips(item, page)}`;
}

function lastTime(item, page) {
  const before = page.before[item.key];
  return before?.answer ? html`<p class="small ${isBad(before, before) ? 'field-error' : ''}">Last time: ${answerText({ unit: before.unit ?? item.unit }, before, page.unit)}</p>${before.photos?.length ? page.photos.before(item.key) : nothing}` : nothing;
}

function answered(item, answer, page) {
  const by = answer.by && answer.by !== page.me ? html` <small>${answer.by}</small>` : nothing;
  return html`<br><span class=${isBad(item, answer) ? 'field-error' : ''}>${answerText(item, answer, page.unit)}</span>${by}
    ${answer.answer === 'not ok' && item.photo && !answer.photos?.length ? html`<br><small>A photo is asked for.</small>` : nothing}
    ${page.draft.raise?.[item.key] ? html`<br><a href=${defectOf(page, item.key)}>Raise the defect</a>` : nothing}`;
}

const shape = ({ component }) => (component === 'switch' ? 'switch' : component === 'pump' || component === 'reservoir' ? 'pump' : '');

function closed(item, answer, page) {
  return html`<li class=${shape(item)}><div class="line"><span><small>${item.where}</small><br>${item.says}${answer?.answer ? answered(item, answer, page) : nothing}</span>
    <button class="quiet" aria-label="${answer?.answer ? 'Change' : 'Answer'} ${item.says}, ${item.where}" @click=${() => page.again(item.key)}>${answer?.answer ? 'Change' : 'Answer'}</button></div>
    ${page.photos.offered(answer) ? page.photos.of(item.key) : nothing}</li>`;
}

function opened(item, page) {
  return html`<li class="${shape(item)} now"><div class="line"><span><small>${item.where}</small><br><strong>${item.says}</strong>
    ${item.every === 'round' ? nothing : html`<small> (${EVERY[item.every]})</small>`}</span></div>${lastTime(item, page)}${asked(item, page)}</li>`;
}

/** One item; `page` holds the round's state and what can be done. A closed one without photos is drawn anew only when its answer is another. */
export function itemView(item, answer, now, page) {
  if (now) return opened(item, page);
  return page.photos.offered(answer)
    ? closed(item, answer, page)
    : guard([item, answer, page.draft.raise?.[item.key]], () => closed(item, answer, page));
}
