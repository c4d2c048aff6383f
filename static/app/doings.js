// doings.js: what can be done at a system, in the order in which it is offered: [address below the system's, words].
const DOINGS = [
  ['test-run', 'Time a test run'], ['round', 'Walk a round'], ['rounds', 'Rounds walked'], ['checklist', 'Checklist'], ['add/refill', 'Add a refill'], ['add/adjustment', 'Note an adjustment'],
  ['add/note', 'Write a note'], ['fault-finding', 'Find a fault'], ['what-if', 'What would I see if…'], ['season', 'Over the year'],
  ['design', 'On the drawing board'], ['edit/machine', 'Change it'],
];

/** [address, words] of everything that can be done at a system. */
export const doingsAt = (system) => DOINGS.map(([path, words]) => [`/app/systems/${system}/${path}`, words]);
