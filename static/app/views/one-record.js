// one-record.js: all that a record holds, by the catalogue of its kind: what stands alone as a table, lists and groups below it.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { whenText } from '../days.js';
import { preferred, toText } from '../units.js';
import { signature } from './sign-off.js';

// what the head of the page says, and what only machines read
const ELSEWHERE = new Set(['id', 'system', 'system_revision', 'made_at', 'made_by', 'phone', 'corrections', 'drawn']);
const PARTS = ['list', 'group', 'data'];
const TIME = /^\d{4}-\d\d-\d\dT\d\d:\d\d/;
const IDENTITY = /^[0-9a-f]{8}-[0-9a-f-]{27}$/;

/** Entries of the catalogue right inside a place: [name, label, kind, unit, path]. */
const inside = (said, place) => [...said].filter(([path]) => path.startsWith(place) && !/[.[]/.test(path.slice(place.length)))
  .map(([path, [label, kind, unit]]) => [path.slice(place.length), label, kind, unit, path]);

function amount(value, unit, units) {
  if (!unit || unit === 'count') return String(value);
  if (typeof value === 'object') return Object.entries(value).map(([at, one]) => `${amount(one, unit, units)} at ${at}`).join(', ');
  const name = preferred(unit, units);
  return `${toText(Number(value.toPrecision(4)), unit, name)} ${name}`;
}

/** One value as a person reads it; `about`: {units, names: what ids are called, links: other records by id}. */
function valueText(value, kind, unit, { units, names, links }) {
  if (kind === 'bool') return value ? 'yes' : 'no';
  if (kind === 'number' || kind === 'whole') return amount(value, unit, units);
  if (kind === 'texts') return value.map((one) => names.get(one) ?? one).join(', ') || 'none';
  if (kind !== 'id') return TIME.test(value) ? whenText(value) : names.get(value) ?? value;
  if (links.has(value)) return html`<a href=${links.get(value).href}>${links.get(value).says}</a>`;
  return names.get(value) ?? (IDENTITY.test(value) ? 'a record that is not on this phone' : value.replaceAll('_', ' '));
}

const there = (value) => value !== undefined && value !== null && value !== '' && !(Array.isArray(value) && !value.length);

/** [label, text] of what stands alone in a thing. A number without a unit takes the one beside it. */
function rowsOf(thing, entries, about) {
  const besides = entries.some(([name, , kind, unit]) => kind === 'number' && !unit && there(thing[name]));
  const alone = ([name, , kind]) => there(thing[name]) && !ELSEWHERE.has(name) && !PARTS.includes(kind) && !(name === 'unit' && besides);
  return entries.filter(alone).map(([name, label, kind, unit]) => [label,
    valueText(thing[name], kind, unit ?? (kind === 'number' ? thing.unit : null), about)]);
}

/** One of a list: its first value large, the others after their labels. */
function element(thing, path, about) {
  const [[, first] = [], ...rest] = rowsOf(thing, inside(about.said, `${path}[].`), about);
  const others = rest.filter(([, text]) => text !== first).map(([label, text], at) => html`${at ? ' · ' : nothing}${label}: ${text}`);
  return html`<li><div class="row"><span><strong>${first}</strong>${others}</span></div></li>`;
}

function below(thing, [name, label, kind, , path], about) {
  const value = thing[name];
  if (!there(value) || ELSEWHERE.has(name)) return nothing;
  if (kind === 'list') {
    const list = () => html`<ul class="rows">${value.map((one) => element(one, path, about))}</ul>`;
    return html`<h2>${label}</h2>${about.said.has(`${path}[].sha256`) ? about.photos(path, value) : list()}`;
  }
  return html`<h2>${label}</h2>${partView(value, `${path}.`, about)}`;
}

/** A thing and what is in it. `about`: as valueText has it, with `said` of loadKinds() and `photos(path, list)`, their view. */
function partView(thing, place, about) {
  const entries = inside(about.said, place);
  const rows = rowsOf(thing, entries, about);
  const table = rows.map(([label, text]) => html`<tr><th scope="row">${label}</th><td>${text}</td></tr>`);
  return html`${rows.length ? html`<table><tbody>${table}</tbody></table>` : nothing}${signature(thing.drawn)}
    ${entries.filter(([, , kind]) => PARTS.includes(kind)).map((entry) => below(thing, entry, about))}`;
}

/** All of a record. */
export const recordView = (body, about) => partView(body, '', about);
