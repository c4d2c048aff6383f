// closing.js: how a defect is closed: what was done, what the cause was, and the evidence: a reading, a test run since, or a photo.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { dayText } from './defects.js';

/** What can be read as evidence: unit of the contract, words. */
export const READ = new Map([
  ['bar', 'Pressure'], ['s', 'Time'], ['°C', 'Temperature'], ['A', 'Current'], ['V', 'Voltage'], ['l', 'In the reservoir']]);
const EVIDENCE = [['reading', 'A reading'], ['test run', 'A test run'], ['photo', 'A photo']];

/** What is still to be said before it can be closed; empty texts for what is there. */
export function missingToClose({ draft: { how, evidence, reading, test_run: run, photos }, runs }) {
  const timed = runs.some(({ document }) => document === run);
  const shown = {
    reading: reading.trim() ? '' : 'what was read', 'test run': timed ? '' : 'which test run shows it',
    photo: photos.length ? '' : 'a photo of it',
  }[evidence];
  return [how.trim() ? '' : 'what was done', shown ?? 'what shows that it is well'];
}

function readingView(page) {
  const { of, reading } = page.draft;
  const say = (name) => (event) => page.changed(() => { page.draft[name] = event.target.value; });
  return html`<div class="field"><label for="of">What was read</label><select id="of" @change=${say('of')}>
      ${[...READ].map(([unit, name]) => html`<option value=${unit} ?selected=${unit === of}>${name}</option>`)}</select></div>
    <div class="field ${page.error ? 'wrong' : ''}"><label for="reading">The reading</label><div class="with-unit">
      <input id="reading" inputmode="text" autocomplete="off" .value=${reading} @input=${say('reading')}>
      <span>${page.unit(of)}</span></div>
      ${page.error ? html`<p class="field-error" role="alert">${page.error}</p>` : nothing}</div>`;
}

function runsView(page) {
  if (!page.runs.length) {
    return html`<p class="notice">No test run was signed off since the defect was raised.
      <a href="/app/systems/${page.id}/test-run">Time one</a>; what is entered here is kept.</p>`;
  }
  const times = ({ runs }) => runs.filter((run) => run.counts !== false).map((run) => `${run.build_s ?? run.cycle_s} s`).join(', ');
  return html`<fieldset class="field choices"><legend>Which run shows it</legend>${page.runs.map(({ document, body }) => html`
    <button aria-pressed=${page.draft.test_run === document} @click=${() => page.changed(() => { page.draft.test_run = document; })}>
      <span><strong>${dayText(body.made_at)}</strong>${times(body)}, signed by ${body.signed.by}</span></button>`)}</fieldset>`;
}

function causeView(page) {
  const { draft, names, body } = page;
  const cause = draft.cause ?? body.cause ?? '';
  return html`<div class="field"><label for="cause">What the cause was</label>
    <p class="help">Fault finding learns from it what goes wrong in this plant.</p>
    <select id="cause" @change=${(event) => page.changed(() => { draft.cause = event.target.value; })}>
      <option value="" ?selected=${!cause}>not known, or none of these</option>
      ${body.cause ? html`<option value=${body.cause} ?selected=${cause === body.cause}>${page.nameOf(body.cause)}, as found</option>`
    : nothing}
      ${[...names].map(([one, name]) => html`<option value=${one} ?selected=${one === cause}>${name}</option>`)}</select></div>`;
}

/** `page`: the defect's page. */
export function closingView(page) {
  const { draft } = page;
  const choose = (kind) => page.changed(() => { draft.evidence = kind; });
  return html`${page.text('how', 'What was done')}${causeView(page)}
    <fieldset class="field"><legend>What shows that it is well</legend><div class="buttons">${EVIDENCE.map(([kind, text]) => html`
      <button aria-pressed=${draft.evidence === kind} @click=${() => choose(kind)}>${text}</button>`)}</div></fieldset>
    ${draft.evidence === 'reading' ? readingView(page) : nothing}${draft.evidence === 'test run' ? runsView(page) : nothing}
    ${draft.evidence === 'photo' ? page.taken() : nothing}`;
}
