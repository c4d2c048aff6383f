// checklist-item.js: one item of a checklist on the spine: closed in a line, or open to be shaped.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { guard } from '../../vendor/lit-html/directives/guard.js';
import { choices, preferred, toText } from '../units.js';
import { EVERY, limitsText } from './round-item.js';

const ASKS = { ok: 'OK or not', reading: 'A reading', text: 'A few words' };
const UNITS = ['bar', '°C', 's', 'l', 'A', 'V', 'mm', 'm', 'cm³', '%', 'h', 'r/min', 'count'];

/** What the plant's document holds of an item: its own one whole, of the make-up's only what differs. */
export function plannedItem(item, made) {
  const kept = (names) =>
    Object.fromEntries(
      names
        .filter((name) => item[name] !== null && item[name] !== undefined && item[name] !== '' && item[name] !== false)
        .map((name) => [name, item[name]]),
    );
  const reading = item.answer === 'reading';
  if (item.own)
    return {
      id: item.key,
      own: true,
      ask: item.says.trim(),
      ...kept(['where', 'component', 'place', 'answer', 'every', 'photo', 'left_out', ...(reading ? ['unit', 'low', 'high'] : [])]),
    };
  return {
    id: item.key,
    ...(item.says === made.says ? {} : { ask: item.says.trim() }),
    ...(item.every === made.every ? {} : { every: item.every }),
    ...(item.photo === made.photo ? {} : { photo: item.photo }),
    ...(item.limits === 'fixed' ? { limits: 'fixed', ...kept(['low', 'high']) } : {}),
    ...(item.left_out ? { left_out: true } : {}),
  };
}

const select = (id, label, options, value, act) => html`<div class="field"><label for=${id}>${label}</label><select id=${id} @change=${(event) => act(event.target.value)}>
  ${options.map(([one, text]) => html`<option value=${one} ?selected=${one === value}>${text}</option>`)}</select></div>`;

const tick = (label, on, act) => html`<label class="check"><input type="checkbox" .checked=${on} @change=${(event) => act(event.target.checked)}> ${label}</label>`;

const line = (id, label, value, act) => html`<div class="field"><label for=${id}>${label}</label><input id=${id} maxlength="300" autocomplete="off" .value=${value} @input=${(event) => act(event.target.value)}></div>`;

function bound(item, name, label, page) {
  const unit = preferred(item.unit, page.units);
  const error = page.errors[`${item.key} ${name}`];
  const text = item.typed?.[name] ?? (item[name] === null ? '' : toText(Number(item[name].toPrecision(4)), item.unit, unit));
  return html`<div class="field ${error ? 'wrong' : ''}"><label for=${name}>${label} <small>(may stay empty)</small></label><div class="with-unit"><input id=${name} inputmode="decimal" autocomplete="off" .value=${text}
    @input=${(event) => page.limit(item, name, event.target.value)}><span>${unit}</span></div>${error ? html`<p class="field-error" role="alert">${error}</p>` : nothing}</div>`;
}

function limits(item, made, page) {
  const bounds = html`${bound(item, 'low', 'Lower limit', page)}${bound(item, 'high', 'Upper limit', page)}`;
  if (item.own) return bounds;
  const name = preferred(item.unit, page.units);
  return html`${select('limits', 'Limits', [['baseline', `As worked: ${limitsText(made, name) || 'none'}`], ['fixed', 'Fixed by the plant']], item.limits ?? 'baseline',
    (value) => page.set(item, value === 'fixed' ? { limits: 'fixed' } : { limits: undefined, low: made.low, high: made.high, typed: undefined }))}${item.limits === 'fixed' ? bounds : nothing}`;
}

function ofOwn(item, page) {
  return html`${line('where', 'Where', item.where, (where) => page.set(item, { where }))}
    ${select('asks', 'Answer', Object.entries(ASKS), item.answer, (answer) => page.set(item, { answer, unit: answer === 'reading' ? item.unit ?? UNITS[0] : null, low: null, high: null, typed: undefined }))}
    ${item.answer === 'reading' ? select('unit', 'Unit', UNITS.map((unit) => [unit, choices(unit)[0] ?? 'a number']), item.unit, (unit) => page.set(item, { unit, low: null, high: null, typed: undefined })) : nothing}`;
}

function opened(item, made, page) {
  return html`<li class="now"><div class="line"><span><small>${item.where}</small><br><strong>${item.says || 'A new item'}</strong></span>
    <button class="quiet" @click=${() => page.toggle(item.key)}>Close</button></div>
    ${line('says', 'What is asked', item.says, (says) => page.set(item, { says }))}${item.own ? ofOwn(item, page) : nothing}
    ${select('often', 'How often', Object.entries(EVERY), item.every, (every) => page.set(item, { every }))}
    ${item.answer === 'reading' ? limits(item, made, page) : tick('Ask for a photo when not ok', Boolean(item.photo), (photo) => page.set(item, { photo }))}
    ${tick('Not asked here', Boolean(item.left_out), (out) => page.set(item, { left_out: out }))}
    <div class="buttons"><button @click=${() => page.move(item, -1)}>Move up</button><button @click=${() => page.move(item, 1)}>Move down</button>
      <button @click=${() => page.add(item)}>Add an item below</button>${item.own ? html`<button @click=${() => page.remove(item)}>Take it out</button>` : nothing}</div></li>`;
}

function closed(item, page) {
  const said = [
    EVERY[item.every],
    item.answer === 'reading' ? limitsText(item, preferred(item.unit, page.units)) : '',
    item.photo ? 'photo when not ok' : '',
    item.own ? 'added by the plant' : '',
  ];
  return html`<li><div class="line"><span><small>${item.where}</small><br>${item.left_out ? html`<s>${item.says}</s> <small>not asked here</small>` : item.says}<br><small>${said.filter(Boolean).join('; ')}</small></span>
    ${page.mayShape ? html`<button class="quiet" aria-label="Shape ${item.says}, ${item.where}" @click=${() => page.toggle(item.key)}>Shape</button>` : nothing}</div></li>`;
}

/** One item; `made`: as the make-up gives it, missing for the plant's own. */
export function shapeView(item, made, now, page) {
  return now ? opened(item, made, page) : guard([item], () => closed(item, page));
}
