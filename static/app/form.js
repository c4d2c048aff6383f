// form.js: a document under a form: values by path, what was typed beside them, the catalogue, the check.
import { units as readerUnits } from './engine.js';
import { Unreadable, choices, loadUnits, preferred, read, toText } from './units.js';

let kinds = null;

/** Kinds of documents by name: {name, fields}, `fields` the entries by path (`sections[].length_m`); loaded once. */
export async function loadKinds() {
  const [loaded] = await Promise.all([kinds ?? fetch('/app-data/catalogue.json').then((reply) => reply.json()), loadUnits()]);
  kinds ??= new Map(Object.entries(loaded).map(([kind, { name, fields }]) => [kind, { name, fields: new Map(fields.map((entry) => [entry.path, entry])) }]));
  return kinds;
}

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
    for (const place of Object.keys(draft.typed)) this.reread(place);
  }

  static async of(draft, kind = 'system') {
    await loadKinds();
    return new Form(draft, await readerUnits(), kind);
  }

  get body() { return this.draft.body; }

  entry(place) { return this.fields.get(pathOf(place)) ?? rangeEntry(place); }

  /** Whether the system's kind has this field, and the group that it is in. */
  applies({ path, when }) {
    if (when?.[0] === 'kind' && !when[1].includes(this.body.kind)) return false;
    const parent = this.fields.get(path.slice(0, path.lastIndexOf('.')).replace(/\[\]$/, ''));
    return !parent || this.applies(parent);
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
    if (!text.trim()) { setAt(this.body, place, null); return; }
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
    this.reread(place);
  }

  /** The unit beside a field changed: the number stays as typed and is read in the new unit. */
  choose(place, name) {
    this.draft.typed[place] ??= this.text(place);
    this.draft.chosen[place] = name;
    this.reread(place);
  }

  set(place, value) { setAt(this.body, place, value); }

  /** Forget what was typed at places that begin so: after things moved or went. */
  forget(prefix) {
    for (const place of Object.keys(this.draft.typed)) if (place.startsWith(prefix)) delete this.draft.typed[place];
    for (const place of [...this.errors.keys()]) if (place.startsWith(prefix)) this.errors.delete(place);
  }
}

const RANGE = { min_s: 'From', max_s: 'To', step_s: 'Step' };

function rangeEntry(place) {
  const last = place.split('.').pop();
  return last in RANGE ? { path: place, label: RANGE[last], kind: 'number', unit: 's', required: true, part: 'sensing', help: '' } : undefined;
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
