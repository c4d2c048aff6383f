// doings.js: what can be done at a system and what more there is of it, in the order in which it is offered.
import { addedKinds, kindOf } from './form.js';

const BEFORE = [['round', 'Walk a round'], ['test-run', 'Time a test run']];
const AFTER = [['fault-finding', 'Find a fault'], ['defects/new', 'Raise a defect'], ['edit/machine', 'Change it']];
const MORE = [
  ['defects', 'Defects', 'Open and closed ones, with what showed that they are well'],
  ['rounds', 'Rounds walked', 'Under way and signed off, as they were walked; corrections'],
  ['checklist', 'Checklist', 'What a round asks here, how often, within which limits'],
  ['figures', 'Every figure', 'The predicted cycle and how each figure was worked'],
  ['records', 'Records and papers', 'Test runs, rounds, refills, notes, PDFs'],
  ['over-time', 'Over time', 'Timed cycles, consumption, what happened'],
  ['season', 'Over the year', 'How cold it may get, settings by season'],
  ['what-if', 'What would I see if…', 'Faults tried on the simulation'],
  ['design', 'On the drawing board', 'Bores, outputs, what moves the answer'],
];
const at = (system, rows) => rows.map(([path, ...words]) => [`/app/systems/${system}/${path}`, ...words]);

/** [address, words] of everything that can be done at a system; the kinds must be loaded. */
export const doingsAt = (system) => at(system, [...BEFORE, ...addedKinds().map((kind) => [`add/${kind}`, kindOf(kind).add[0]]), ...AFTER]);

/** [address, words, what it shows] of the pages that show more of it. */
export const moreOf = (system) => at(system, MORE);
