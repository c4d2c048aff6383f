// round-item.js: one item of a round on the spine: closed with its answer, or open with its buttons.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';

const WORDS = { ok: 'OK', 'not ok': 'Not OK', 'not applicable': 'Does not apply', reading: 'Reading' };
const EVERY = { month: 'once a month', year: 'once a year' };
const PROMPTS = { 'not ok': 'What is wrong?', 'not applicable': 'Why does it not apply?', outside: 'Outside its limit. Measure again, or say why it is fine.' };

function answered(item, answer, page) {
  const reading = answer.answer === 'reading' ? `${page.draft.typed[item.key] ?? answer.value} ${page.unit(item)}` : WORDS[answer.answer];
  return html`<span class=${answer.answer === 'not ok' ? 'field-error' : ''}>${reading}${answer.note ? `: ${answer.note}` : ''}</span>`;
}

function explaining(item, index, page) {
  const { what } = page.draft.asking;
  return html`<div class="field"><label for="why">${PROMPTS[what]}</label><textarea id="why" rows="2" .value=${page.draft.why[item.key] ?? ''} @input=${(event) => page.because(item.key, event.target.value)}></textarea>
    ${page.error ? html`<p class="field-error" role="alert">${page.error}</p>` : nothing}</div>
    ${what === 'not ok' ? page.photosOf(item.key) : nothing}
    <div class="buttons"><button class="main" @click=${() => (what === 'outside' ? page.reading(index) : page.explain(index))}>Keep it</button>
      <button @click=${() => page.again(index)}>${what === 'outside' ? 'Measure again' : 'Back'}</button></div>`;
}

function asked(item, index, page) {
  if (page.draft.asking?.index === index) return explaining(item, index, page);
  if (item.answer === 'reading') {
    return html`<div class="field ${page.error ? 'wrong' : ''}"><div class="with-unit"><input aria-label="${item.says}, ${item.where}" inputmode="decimal" autocomplete="off"
      .value=${page.draft.typed[item.key] ?? ''} @input=${(event) => page.type(item.key, event.target.value)}><span>${page.unit(item)}</span></div>
      <p class="help">${page.limits}</p>${page.error ? html`<p class="field-error" role="alert">${page.error}</p>` : nothing}</div>
      <div class="buttons"><button class="main" @click=${() => page.reading(index)}>Keep the reading</button>
        <button class="quiet" @click=${() => page.ask(index, 'not applicable')}>Does not apply…</button></div>`;
  }
  return html`<div class="buttons"><button class="ok" @click=${() => page.answer(index, 'ok')}>OK</button>
    <button @click=${() => page.ask(index, 'not ok')}>Not OK</button></div>
    <p><button class="quiet wide" @click=${() => page.ask(index, 'not applicable')}>Does not apply…</button></p>`;
}

function lastTime(item, page) {
  const before = page.before[item.key];
  if (!before?.answer) return nothing;
  const value = before.answer === 'reading' ? `${before.value} ${before.unit ?? ''}` : WORDS[before.answer];
  return html`<p class="small">Last time: ${value}${before.note ? `, “${before.note}”` : ''}</p>${before.photos?.length ? page.photosBefore(item.key) : nothing}`;
}

/** One item; `page` holds the round's state and what can be done. */
export function itemView(item, index, answer, now, page) {
  const kind = item.component === 'switch' ? 'switch' : item.component === 'pump' || item.component === 'reservoir' ? 'pump' : '';
  return html`<li class="${kind} ${now ? 'now' : ''}">
    <div class="line"><span><small>${item.where}</small><br>${now ? html`<strong>${item.says}</strong>` : item.says}
      ${now && EVERY[item.every] ? html`<small> (${EVERY[item.every]})</small>` : nothing}
      ${answer?.answer && !now ? html`<br>${answered(item, answer, page)}` : nothing}</span>
      ${now ? nothing : html`<button class="quiet" aria-label="${answer?.answer ? 'Change' : 'Answer'} ${item.says}, ${item.where}" @click=${() => page.again(index)}>${answer?.answer ? 'Change' : 'Answer'}</button>`}</div>
    ${!now && (answer?.answer === 'not ok' || answer?.photos) ? page.photosOf(item.key) : nothing}
    ${now ? html`${lastTime(item, page)}${asked(item, index, page)}` : nothing}</li>`;
}
