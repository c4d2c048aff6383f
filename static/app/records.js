// records.js: what a list says of each kind of record, and the paper that is made of it.
import { addedKinds, kindOf } from './form.js';
import { preferred, toText } from './units.js';

const days = { day: 'numeric', month: 'short', year: 'numeric' };
const signed = (body, words) => `${words}${body.signed ? '' : ', not signed off'}`;
const notOk = (body) => body.items.filter((item) => item.answer === 'not ok').length;

function quantity(value, unit, units) {
  const name = preferred(unit, units);
  return `${toText(Number(value.toPrecision(4)), unit, name)} ${name}`.trim();
}

/** What a kind says that has no words of its own below: its name and what was typed. */
function plainly(kind, body, units) {
  const { name, fields } = kindOf(kind);
  const told = [...fields.values()].filter(({ path }) => body[path] !== undefined && body[path] !== false)
    .map(({ path, label, unit }) => (body[path] === true ? label : unit ? quantity(body[path], unit, units) : body[path]));
  return told.length ? `${name}: ${told.join(', ')}` : name;
}

// kind -> says(body, units)
const SAYS = {
  'test-run': (body) => signed(body, `Test run, ${body.runs.length} timed`),
  round: (body) => signed(body, notOk(body) ? `Round, ${notOk(body)} not ok` : 'Round, all ok'),
  'settings-entry': (body) => signed(body, `Settings entered, ${body.entries.length}`),
  refill: (body, units) => [`${quantity(body.refill_l, 'l', units)} filled in`, body.lubricant, body.batch, body.note].filter(Boolean).join(', '),
  adjustment: (body) => `${body.setting}: ${body.from ? `${body.from} → ` : ''}${body.to}, ${body.why}`,
  defect: (body) => `${body.closed ? 'Closed defect' : 'Defect'}, ${body.where}: ${body.what}`,
  'fault-case': (body) => ['Fault', body.symptom, body.closed?.how].filter(Boolean).join(': '),
};

/** Kinds of records that are listed; the kinds must be loaded, here and below. */
export const listedKinds = () => [...new Set([...Object.keys(SAYS), ...addedKinds()])];

/** What a list says of a record of this phone. */
export const saysOf = ({ kind, body }, units) => (SAYS[kind] ? SAYS[kind](body, units) : plainly(kind, body, units));

/** The address of its paper, or null. */
export function paperOf({ kind, document }) {
  const { paper } = kindOf(kind);
  return paper ? `/papers/${paper}/${document}.pdf` : null;
}

/** The day on which it was made, as a person reads it. */
export const dayOf = ({ madeAt }) => new Date(madeAt).toLocaleDateString('en-GB', days);

/** Records of several lists, the newest first. */
export const newestFirst = (lists) => lists.flat().sort((a, b) => b.madeAt.localeCompare(a.madeAt));
