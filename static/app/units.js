// units.js: reads what people type ("150 psi", "0,5 cm³", "1/2 in") by the table that the server made. Same steps as units.py.
let table = null;

/** Load the table once. */
export async function loadUnits() {
  table ??= await (await fetch('/app-data/units.json')).json();
  return table;
}

export class Unreadable extends Error {}

function refuse(says, words = {}) {
  let text = table.says[says];
  for (const [name, word] of Object.entries(words)) text = text.replaceAll(`{${name}}`, word);
  throw new Unreadable(text);
}

const canonical = (unit) => [...unit].map((letter) => table.in_units[letter] ?? letter).join('');
const NUMBER = /^([+-]?) ?(?:(?:(\d+)[ -])?(\d+)\/(\d+)|((?:\d{1,3}(?:[ ']\d{3})+(?!\d)|\d+)?(?:[.,]\d+)*)[.,]?([eE][+-]?\d+)?)/;
const PART_UNIT = /^ ?([a-zA-Z.'"]*) ?/;

/** The unit names that may be chosen beside a field, the contract's first; empty for plain numbers. */
export function choices(unit) {
  return (table.units[unit]?.choices ?? []).map((choice) => choice.name).filter(Boolean);
}

/** The choice that a reader of "metric" or "us" units begins with. */
export function preferred(unit, units) {
  return table.units[unit]?.[units] ?? '';
}

/** The quantity typed, in the contract's unit. `assumed`: the choice that a bare number is in. Throws Unreadable. */
export function read(text, unit, assumed = null) {
  const entry = table.units[unit];
  const typed = [...text].map((letter) => table.replaced[letter] ?? letter).join('').split(/\s+/).filter(Boolean).join(' ');
  if (!typed) refuse('nothing');
  if (typed.length > table.longest) refuse('number', { text: `${typed.slice(0, table.longest)}…` });
  const [number, rest] = leadingNumber(typed);
  let value;
  if (entry.adds && /[0-9]/.test(rest)) {
    value = addedUp(typed, entry);
  } else {
    const choice = choiceOf(entry, rest.trim() || (assumed ?? entry.choices[0].name));
    value = number * choice.factor + choice.offset;
  }
  return Number(value.toPrecision(table.significant));
}

function leadingNumber(typed) {
  const match = NUMBER.exec(typed);
  const [, sign, whole, above, below, digits, power] = match;
  let number;
  if (above) {
    if (Number(below) === 0) refuse('zero', { text: typed });
    number = Number(whole ?? 0) + Number(above) / Number(below);
  } else if (digits) {
    number = Number(decimal(digits) + (power ?? ''));
  } else {
    refuse('number', { text: typed });
  }
  if (!Number.isFinite(number)) refuse('number', { text: typed });
  return [sign === '-' ? -number : number, typed.slice(match[0].length)];
}

function decimal(digits) {
  const tight = digits.replaceAll(/[ ']/g, '');
  const parts = tight.split(/[.,]/);
  const marks = [...tight].filter((letter) => letter === '.' || letter === ',');
  if (!marks.length) return tight;
  const head = parts[0].length >= 1 && parts[0].length <= 3;
  const grouped = parts.slice(1).every((part) => part.length === 3) && head;
  if (marks.length === 1) {
    if (marks[0] === ',' && grouped && !parts[0].startsWith('0') && tight === digits) {
      refuse('two_ways', { text: digits, whole: parts.join(''), part: parts.join('.') });
    }
    return parts.join('.');
  }
  if (new Set(marks).size === 1 && grouped) return parts.join('');
  const last = marks.at(-1);
  if (marks.filter((mark) => mark === last).length === 1 && parts.slice(1, -1).every((part) => part.length === 3) && head) {
    return `${parts.slice(0, -1).join('')}.${parts.at(-1)}`;
  }
  return refuse('number', { text: digits });
}

function choiceOf(entry, unit) {
  const wanted = canonical(unit);
  for (const spelling of [wanted, wanted.toLowerCase()]) {
    const choice = entry.choices.find((one) => one.spellings.includes(spelling));
    if (choice) return choice;
  }
  const names = entry.choices.map((choice) => choice.name).filter(Boolean);
  return names.length ? refuse('unit', { unit, names: names.join(', ') }) : refuse('no_unit', { unit });
}

function addedUp(typed, entry) {
  let [total, last, rest] = [0, Infinity, typed];
  while (rest) {
    let number;
    [number, rest] = leadingNumber(rest);
    const match = PART_UNIT.exec(rest);
    if (!match[1] || number < 0) refuse('parts', { text: typed, example: entry.example });
    const choice = choiceOf(entry, match[1]);
    rest = rest.slice(match[0].length);
    if (choice.factor >= last) refuse('parts', { text: typed, example: entry.example });
    last = choice.factor;
    total += number * last;
  }
  return total;
}

/** A stored value as text for a field whose unit choice is `name`: at most six significant digits, no unit. */
export function toText(value, unit, name) {
  const choice = table.units[unit]?.choices.find((one) => one.name === name) ?? { factor: 1, offset: 0 };
  return String(Number(((value - choice.offset) / choice.factor).toPrecision(6)));
}
