// days.js: days as they are kept (2026-11-26, by the phone's clock) and as they are read.
import { timeHere } from './documents.js';

/** The day here, so many days from now. */
export const dayHere = (days = 0, from = Date.now()) => timeHere(new Date(from + days * 86400000)).slice(0, 10);

/** A stored time as a person reads it. */
export const whenText = (at) => new Date(at).toLocaleString('en-GB', { dateStyle: 'medium', timeStyle: 'short' });
