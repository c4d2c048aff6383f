// records.js: what a list says of each kind of record, the page that shows it, and the paper that is made of it.
import { preferred, toText } from './units.js';

const days = { day: 'numeric', month: 'short', year: 'numeric' };
const signed = (body, words) => `${words}${body.signed ? '' : ', not signed off'}`;
const notOk = (body) => body.items.filter((item) => item.answer === 'not ok').length;

function refill({ refill_l: litres, lubricant, batch, note }, units) {
  const unit = preferred('l', units);
  return [`${toText(Number(litres.toPrecision(4)), 'l', unit)} ${unit} filled in`, lubricant, batch, note].filter(Boolean).join(', ');
}

// kind -> says(body, units), and where there is one the kind of its paper
const KINDS = {
  'test-run': { says: (body) => signed(body, `Test run, ${body.runs.length} timed`), paper: 'commissioning' },
  round: { says: (body) => signed(body, notOk(body) ? `Round, ${notOk(body)} not ok` : 'Round, all ok'), paper: 'round' },
  'settings-entry': { says: (body) => signed(body, `Settings entered, ${body.entries.length}`) },
  refill: { says: refill },
  note: { says: (body) => body.text },
  adjustment: { says: (body) => `${body.setting}: ${body.from ? `${body.from} → ` : ''}${body.to}, ${body.why}` },
  defect: { says: (body) => `${body.closed ? 'Closed defect' : 'Defect'}, ${body.where}: ${body.what}` },
  'fault-case': { says: (body) => ['Fault', body.symptom, body.closed?.how].filter(Boolean).join(': '), paper: 'fault-case' },
};

/** Kinds of records that are listed. */
export const LISTED = Object.keys(KINDS);

/** What a list says of a record of this phone; the table of units must be loaded. */
export const saysOf = ({ kind, body }, units) => KINDS[kind].says(body, units);

// kinds with a page of their own, by its place below the system's; all others share one (webapp/reports/base.py knows the same)
const PAGES = { round: 'rounds', defect: 'defects' };

/** The address of its page. */
export const pageOf = ({ kind, system, document }) => `/app/systems/${system}/${PAGES[kind] ?? 'records'}/${document}`;

/** The address of its paper, or null. */
export const paperOf = ({ kind, document }) => (KINDS[kind]?.paper ? `/papers/${KINDS[kind].paper}/${document}.pdf` : null);

/** The day on which it was made, as a person reads it. */
export const dayOf = ({ madeAt }) => new Date(madeAt).toLocaleDateString('en-GB', days);

/** Records of several lists, the newest first. */
export const newestFirst = (lists) => lists.flat().sort((a, b) => b.madeAt.localeCompare(a.madeAt));
