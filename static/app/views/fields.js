// fields.js: one form field of any kind, drawn from its catalogue entry.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { live } from '../../vendor/lit-html/directives/live.js';
import { valueAt } from '../form.js';

const name = (place) => `f-${place.replace(/[^\w]/g, '-')}`;

/** What is read out with a field: its error, else its help. */
const about = (place, entry, error) => (error ? `error-${name(place)}` : entry.help ? `help-${name(place)}` : nothing);

function frame(place, entry, error, inner) {
  return html`<div class="field ${error ? 'wrong' : ''}" id="at-${name(place)}">
    <label for=${name(place)}>${entry.label}${entry.required ? nothing : html` <small>(may stay empty)</small>`}</label>
    ${entry.help ? html`<p class="help" id="help-${name(place)}">${entry.help}</p>` : nothing}
    ${inner}
    ${error ? html`<p class="field-error" id="error-${name(place)}">${error}</p>` : nothing}</div>`;
}

function numberField(form, place, entry, error, changed) {
  const { names, chosen } = form.unitsOf(place);
  return frame(place, entry, error, html`<div class="with-unit">
    <input id=${name(place)} inputmode="text" autocomplete="off" enterkeyhint="next" aria-invalid=${Boolean(error)} aria-describedby=${about(place, entry, error)}
      placeholder=${entry.default === null || entry.default === undefined ? '' : `${entry.default} if empty`}
      .value=${live(form.text(place))} @input=${(event) => { form.type(place, event.target.value); changed(); }}>
    ${names.length > 1 ? html`<select aria-label="Unit of ${entry.label}" .value=${live(chosen)}
      @change=${(event) => { form.choose(place, event.target.value); changed(); }}>
      ${names.map((one) => html`<option value=${one} ?selected=${one === chosen}>${one}</option>`)}</select>`
    : html`<span>${chosen}</span>`}</div>`);
}

function choiceField(form, place, entry, error, changed) {
  const value = valueAt(form.body, place) ?? entry.default ?? '';
  return frame(place, entry, error, html`<select id=${name(place)} aria-invalid=${Boolean(error)} aria-describedby=${about(place, entry, error)}
    @change=${(event) => { form.set(place, event.target.value || null); changed(); }}>
    <option value="" ?selected=${!value}>choose…</option>
    ${entry.choices.map((one) => html`<option value=${one} ?selected=${one === value}>${one}</option>`)}</select>`);
}

function boolField(form, place, entry, error, changed) {
  return html`<div class="field"><label class="check"><input type="checkbox" .checked=${live(Boolean(valueAt(form.body, place)))}
    @change=${(event) => { form.set(place, event.target.checked); changed(); }}> ${entry.label}</label>
    ${entry.help ? html`<p class="help">${entry.help}</p>` : nothing}</div>`;
}

function textField(form, place, entry, error, changed) {
  return frame(place, entry, error, html`<input id=${name(place)} autocomplete="off" aria-invalid=${Boolean(error)} aria-describedby=${about(place, entry, error)}
    .value=${live(valueAt(form.body, place) ?? '')}
    @input=${(event) => { form.set(place, event.target.value || null); changed(); }}>`);
}

/** A choice that is made of several fields or of names in the document: `options` [[value, text]]. */
export function pick(place, label, value, options, onPick, error) {
  return frame(place, { label, required: true }, error, html`<select id=${name(place)} aria-invalid=${Boolean(error)} .value=${live(value)}
    @change=${(event) => onPick(event.target.value)}>
    ${options.map(([one, text]) => html`<option value=${one} ?selected=${one === value}>${text}</option>`)}</select>`);
}

const kinds = { number: numberField, whole: numberField, choice: choiceField, bool: boolField, text: textField, id: textField };

/** The field at a place; `errors` maps places to sentences of the check, what cannot be read comes first. */
export function field(form, place, errors, changed) {
  const entry = form.entry(place);
  const error = form.errors.get(place) ?? errors.get(place);
  return kinds[entry.kind](form, place, entry, error, changed);
}
