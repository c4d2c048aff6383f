// doings.js: what can be done at a system and what more there is of it, in the order in which it is offered.
const DOINGS = [
  ['round', 'Walk a round'], ['test-run', 'Time a test run'], ['add/refill', 'Add a refill'], ['add/adjustment', 'Note an adjustment'],
  ['add/note', 'Write a note'], ['fault-finding', 'Find a fault'], ['defects/new', 'Raise a defect'], ['edit/machine', 'Change it'],
];
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
const at = (rows) => (system) => rows.map(([path, ...words]) => [`/app/systems/${system}/${path}`, ...words]);

/** [address, words] of everything that can be done at a system. */
export const doingsAt = at(DOINGS);

/** [address, words, what it shows] of the pages that show more of it. */
export const moreOf = at(MORE);
