// question.js: fault finding as one question at a time: a symptom, a reading asked for, a check to make, or what was found.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { dayText, longText } from './defects.js';
import { verdict } from './verdict.js';

const buttons = (rows) => html`<div class="buttons">${rows.map(([text, act, main]) => html`<button class=${main ? 'main' : ''} @click=${act}>${text}</button>`)}</div>`;

const YES_OR_NO = [['Yes', true], ['No', false]];

/** What is seen first, chosen from a short list. */
export function symptomView(symptoms, choose) {
  return html`<fieldset class="choices"><legend><strong>What is seen?</strong></legend>${symptoms.map((one) => html`<button @click=${() => choose(one)}><span>${one.says}</span></button>`)}</fieldset>`;
}

/** A reading of the last days that answers the question, if it is still so. */
function offeredView(question, offered, page) {
  return html`<h2>${question.ask}</h2><p>From the ${offered.from} of ${dayText(offered.at)}: <strong>${page.words(question, offered)}</strong>. Still so?</p>${buttons([
    ['Still so', () => page.answer(question, offered.value, offered.more), true], question.known ? ['Not so', () => page.answer(question, null)] : [question.unit ? 'Read it again' : 'Look again', () => page.askAnew(question)]])}`;
}

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

/** A reading asked for; where one of the last days is known it is offered first. */
export function questionView(question, page) {
  const offered = page.offered(question);
  if (offered) return offeredView(question, offered, page);
  if (question.unit) return numberAsked(question, page);
  if (question.points) return pointsAsked(question, page);
  return html`<h2>${question.ask}</h2><p class="help">${question.help}</p>${buttons([...question.choices ?? YES_OR_NO, ['Do not know', null]]
    .map(([text, value]) => [text, () => page.answer(question, value)]))}`;
}

/** The check that comes next, its caution before anything else; `working`: while predictions are still being made; `taught`: how many
 * troubles of this plant count. */
export function checkView(cause, page, working, taught) {
  return html`${cause.caution ? html`<p class="caution">${cause.caution}</p>` : nothing}
    <h2>${cause.name}</h2><p>${cause.check}</p><p class="small">${cause.because}
      ${taught ? `${taught} closed ${taught === 1 ? 'trouble' : 'troubles'} of this plant count${taught === 1 ? 's' : ''} as well.` : nothing}</p>
    ${working ? html`<p role="status">${working}</p>` : nothing}
    ${buttons([['Found it', () => page.tried(cause, 'found')], ['Not found', () => page.tried(cause, 'not found')], ['Cannot tell', () => page.tried(cause, 'cannot tell')],
    ['Stop looking', () => page.end(true)]])}`;
}

/** The end of a case: closed with what was done, or made a defect; `found`: the check that found it. */
export function endView(found, page) {
  return html`${found ? verdict({ severity: 'good', says: 'The cause is found.', do: found.name ?? '' }) : verdict({ severity: 'warn', says: 'The cause was not found.', do: 'Say what was done, or make it a defect, so that it is not forgotten.' })}
    ${longText('how', 'What was done', page.draft.how, (text) => page.because(text), 'Once it is put right. Time a cycle again to see that it is.')}
    ${buttons([['Close the case', () => page.close(), true], ['Make it a defect', () => page.makeDefect()]])}
    ${page.error ? html`<p class="field-error" role="alert">${page.error}</p>` : nothing}
    <p><a class="button" href="/app/systems/${page.id}/test-run">Time a test run</a></p>
    ${found ? nothing : html`<p><button class="quiet" @click=${() => page.end(false)}>Look further</button></p>`}`;
}

/** All causes with their shares, for those who want to see the order. */
export function orderView(causes) {
  return html`<details><summary class="figure-button"><span class="name">The whole order</span><span class="value">${causes.length}</span></summary>
    <ol>${causes.map((one) => html`<li>${one.name} <span class="small">${Math.round(one.likelihood * 100)} %, about ${one.minutes} min${one.isolated ? ', isolated' : ''}</span></li>`)}</ol></details>`;
}
