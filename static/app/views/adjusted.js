// adjusted.js: adjustments of a system that stand otherwise than its settings sheet says, until somebody settles them.
import { verdict } from './verdict.js';

/** The findings of the engine's `adjusted`: what differs as a warning, what stays as an exception as a note. */
export const adjustedView = (rows) => rows.filter(({ finding }) => finding).map(({ finding }) => verdict(finding));
