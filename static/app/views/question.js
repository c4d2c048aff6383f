// question.js: fault finding as one question at a time: a reading asked for, a check to make, or what was found.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';

const buttons = (rows) => html`<div class="buttons">${rows.map(([text, act, main]) => html`<button class=${main ? 'main' : ''} @click=${act}>${text}</button>`)}</div>`;

function numberAsked(question, page) {
  return html`<div class="field ${page.error ? 'wrong' : ''}"><label for="reading">${question.ask}</label><p class="help">${question.help}</p>
    <div class="with-unit"><input id="reading" inputmode="decimal" autocomplete="off" .value=${page.draft.typed[question.name] ?? ''}
      @input=${(event) => page.type(question.name, event.target.value)}><span>${page.unit(question.unit)}</span></div>
    ${page.error ? html`<p class="field-error" role="alert">${page.error}</p>` : nothing}</div>
    ${buttons([['Keep the reading', () => page.reading(question), true], ['Not read', () => page.answer(question, null)]])}`;
}

function pointsAsked(question, page) {
  const chosen = new Set(page.draft.dry);
  return html`<fieldset><legend><strong>${question.ask}</strong></legend><p class="help">${question.help}</p>${page.points.map(({ id, name }) => html`
    <p><label><input type="checkbox" .checked=${chosen.has(id)} @change=${() => page.toggle(id)}> ${name}</label></p>`)}</fieldset>
    ${buttons([[chosen.size ? 'These are dry' : 'None is dry', () => page.answer(question, page.draft.dry), true], ['Not looked', () => page.answer(question, null)]])}`;
}

/** A reading asked for. */
export function questionView(question, page) {
  if (question.unit) return numberAsked(question, page);
  if (question.points) return pointsAsked(question, page);
  return html`<h2>${question.ask}</h2><p class="help">${question.help}</p>${buttons([
    ['Yes', () => page.answer(question, true)], ['No', () => page.answer(question, false)], ['Do not know', () => page.answer(question, null)]])}`;
}

/** The check that comes next, its caution before anything else; `open`: while predictions are still being made. */
export function checkView(cause, page, working) {
  return html`${cause.caution ? html`<p class="caution">${cause.caution}</p>` : nothing}
    <h2>${cause.name}</h2><p>${cause.check}</p><p class="small">${cause.because}</p>
    ${working ? html`<p role="status">${working}</p>` : nothing}
    ${buttons([['Found it', () => page.tried(cause, 'found')], ['Not found', () => page.tried(cause, 'not found')], ['Cannot tell', () => page.tried(cause, 'cannot tell')]])}`;
}

/** All causes with their shares, for those who want to see the order. */
export function orderView(causes) {
  return html`<details><summary class="figure-button"><span class="name">The whole order</span><span class="value">${causes.length}</span></summary>
    <ol>${causes.map((one) => html`<li>${one.name} <span class="small">${Math.round(one.likelihood * 100)} %, about ${one.minutes} min${one.isolated ? ', isolated' : ''}</span></li>`)}</ol></details>`;
}
