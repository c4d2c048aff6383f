// form.js: a document under a form: values by path, what was typed beside them, the catalogue, the check.
import { units as readerUnits } from './engine.js';
import { Unreadable, choices, loadUnits, preferred, read, toText } from './units.js';

let kinds = null;

/** Kinds of documents by name: {name, fields, said, paper, add}, loaded once. `fields`: what is typed into a form, entries by path
 * (`sections[].length_m`); `said`: all that a record holds, [label, kind, unit] by path, in order; `paper`: the kind of its paper;
 * `add`: [words of the button, what is said above the form] where a person adds it at a system. */
export async function loadKinds() {
  const [loaded] = await Promise.all([kinds ?? fetch('/app-data/catalogue.json').then((reply) => reply.json()), loadUnits()]);
  const byPath = ({ fields, said = [], ...one }) => ({ ...one, fields: new Map(fields.map((entry) => [entry.path, entry])),
    said: new Map(said.map(([path, ...rest]) => [path, rest])) });
  kinds ??= new Map(Object.entries(loaded).map(([kind, one]) => [kind, byPath(one)]));
  return kinds;
}

/** One of them, once they are loaded. */
export const kindOf = (kind) => kinds.get(kind);

/** Kinds that a person adds at a system, in their order, once they are loaded. */
export const addedKinds = () => [...kinds.keys()].filter((kind) => kinds.get(kind).add);

const steps = (path) => path.match(/[^.[\]]+/g).map((step) => (/^\d+$/.test(step) ? Number(step) : step));

/** The catalogue's path of a place: `sections[3].bore_mm` is `sections[].bore_mm`. */
export const pathOf = (place) => place.replace(/\[\d+\]/g, '[]');

/** The value at a place of a document, undefined where there is none. */
export function valueAt(body, place) {
  return steps(place).reduce((thing, step) => thing?.[step], body);
}

/** Put a value at a place; null or undefined takes the field away. */
export function setAt(body, place, value) {
  const way = steps(place);
  const last = way.pop();
  let thing = body;
  for (const [number, step] of way.entries()) {
    thing[step] ??= typeof (way[number + 1] ?? last) === 'number' ? [] : {};
    thing = thing[step];
  }
  if (value === null || value === undefined) delete thing[last]; else thing[last] = value;
}

/** Take a group away that may be missing, once nothing is left in it. */
function dropEmpty(fields, body, place) {
  const group = place.slice(0, place.lastIndexOf('.'));
  const entry = fields.get(pathOf(group));
  if (entry?.kind === 'group' && !entry.required && !Object.keys(valueAt(body, group) ?? { none: 0 }).length) setAt(body, group, null);
}

/** Every object in a body with its place. */
function* placesIn(thing, place = '') {
  for (const [key, part] of Object.entries(thing)) {
    if (!part || typeof part !== 'object') continue;
    const at = Array.isArray(thing) ? `${place}[${key}]` : place ? `${place}.${key}` : key;
    yield [part, at];
    yield* placesIn(part, at);
  }
}

/** What is drawn as one field, by kind. */
export const SIMPLE = ['number', 'whole', 'text', 'choice', 'bool'];

/** {typed, chosen} of texts kept with a saved system, as far as they still say what the body holds. */
export function stillSaid(body, kept, units) {
  const { fields } = kinds.get('system');
  const out = { typed: {}, chosen: {} };
  for (const [place, { text, unit }] of Object.entries(kept)) {
    const entry = fields.get(pathOf(place)) ?? rangeEntry(place);
    try {
      if (!entry?.unit || read(text, entry.unit, unit || preferred(entry.unit, units) || null) !== valueAt(body, place)) continue;
    } catch (error) { if (error instanceof Unreadable) continue; throw error; }
    out.typed[place] = text;
    out.chosen[place] = unit;
  }
  return out;
}

/** Holds one draft: {body, typed, chosen}; `typed` keeps texts by place, `chosen` the unit beside a field. */
export class Form {
  constructor(draft, units, kind) {
    this.draft = draft;
    this.units = units;
    this.fields = kinds.get(kind).fields;
    this.errors = new Map();
    this.worked = null; // what the engine made of the draft so far
    draft.typed ??= {};
    draft.chosen ??= {};
    this.readAll();
  }

  static async of(draft, kind = 'system') {
    await loadKinds();
    return new Form(draft, await readerUnits(), kind);
  }

  get body() { return this.draft.body; }

  entry(place) { return this.fields.get(pathOf(place)) ?? rangeEntry(place); }

  /** Whether this place is asked for: its kind of system, what was chosen beside it, and the group that it is in. */
  applies(place) {
    const when = this.fields.get(pathOf(place))?.when;
    const beside = when?.[0] === 'kind' ? 'kind' : place.slice(0, place.lastIndexOf('.') + 1) + when?.[0];
    if (when && !when[1].includes(valueAt(this.body, beside) ?? this.fields.get(pathOf(beside))?.default)) return false;
    const parent = place.replace(/(\[\d+\]|\.[^.[\]]+)$/, '');
    return parent === place || this.applies(parent);
  }

  /** What is typed or chosen in an entry of a list, by the catalogue: `length_m`, `ambient.coldest_c`. */
  fieldsOf(list, number) {
    const start = `${list}[].`;
    return [...this.fields.values()].filter(({ path, kind }) => path.startsWith(start) && SIMPLE.includes(kind) && !path.slice(start.length).includes('['))
      .map(({ path }) => path.slice(start.length)).filter((name) => this.applies(`${list}[${number}].${name}`));
  }

  /** Unit choices beside a field and the one that is set. */
  unitsOf(place) {
    const unit = this.entry(place).unit;
    const names = unit ? choices(unit) : [];
    return { names, chosen: this.draft.chosen[place] ?? (unit ? preferred(unit, this.units) : '') };
  }

  /** The text of a number field: what was typed, else the value in the unit beside it. */
  text(place) {
    if (place in this.draft.typed) return this.draft.typed[place];
    const value = valueAt(this.body, place);
    const unit = this.entry(place).unit;
    return value === undefined || value === null ? '' : unit ? toText(value, unit, this.unitsOf(place).chosen) : String(value);
  }

  reread(place) {
    const entry = this.entry(place);
    if (!entry?.unit) return;
    const text = this.draft.typed[place];
    this.errors.delete(place);
    if (!text.trim()) {
      setAt(this.body, place, null);
      dropEmpty(this.fields, this.body, place);
      return;
    }
    try {
      setAt(this.body, place, read(text, entry.unit, this.unitsOf(place).chosen || null));
    } catch (error) {
      if (!(error instanceof Unreadable)) throw error;
      this.errors.set(place, error.message);
    }
  }

  /** A number field changed to this text. */
  type(place, text) {
    this.draft.typed[place] = text;
    this.draft.chosen[place] ??= this.unitsOf(place).chosen; // a bare number keeps its unit, whoever reads it later
    this.reread(place);
  }

  /** The unit beside a field changed: the number stays as typed and is read in the new unit. */
  choose(place, name) {
    this.draft.typed[place] ??= this.text(place);
    this.draft.chosen[place] = name;
    this.reread(place);
  }

  set(place, value) { setAt(this.body, place, value); }

  /** Do something after which things stand at other places: what was typed goes along with them. */
  shift(deed) {
    const { typed, chosen } = this.draft;
    const owners = new Map([...placesIn(this.body)].map(([thing, place]) => [place, thing]));
    const split = (place) => [place.slice(0, place.lastIndexOf('.')), place.slice(place.lastIndexOf('.'))];
    const held = Object.keys(typed).map((place) => [place, owners.get(split(place)[0]), split(place)[1]]);
    deed();
    const now = new Map([...placesIn(this.body)]);
    const moved = { typed: {}, chosen: {} };
    for (const [place, owner, last] of held) {
      const to = place.includes('[') ? owner && now.get(owner) && now.get(owner) + last : place;
      if (to) { moved.typed[to] = typed[place]; moved.chosen[to] = chosen[place]; }
    }
    Object.assign(this.draft, moved);
    this.readAll();
  }

  /** Read anew all that was typed. */
  readAll() {
    this.errors.clear();
    for (const place of Object.keys(this.draft.typed)) this.reread(place);
  }

  /** Texts to keep with the saved system: {place: {text, unit}}. */
  said() {
    const { typed, chosen } = this.draft;
    return Object.fromEntries(
      Object.keys(typed)
        .filter((place) => typed[place].trim())
        .map((place) => [place, { text: typed[place], unit: chosen[place] ?? '' }]),
    );
  }
}

const RANGE = { min_s: 'From', max_s: 'To', step_s: 'Step' };

function rangeEntry(place) {
  const last = place.split('.').pop();
  return last in RANGE
    ? { path: place, label: RANGE[last], kind: 'number', unit: 's', required: true, part: 'sensing', help: '' }
    : undefined;
}

/** The part of the form that a finding's place belongs to. */
export function partOf(where) {
  const { fields } = kinds.get('system');
  let path = pathOf(where);
  while (path) {
    if (fields.has(path)) return fields.get(path).part;
    path = path.replace(/(\[\]|\.?[^.[\]]+)$/, '');
  }
  return 'machine';
}
