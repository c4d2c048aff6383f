// days.js: times and days by the phone's clock, which is the plant's to whoever holds it. Pure.

/** The phone's time with its offset, RFC 3339. */
export function timeHere(date = new Date()) {
  const minutes = -date.getTimezoneOffset();
  const two = (n) => String(Math.floor(n)).padStart(2, '0');
  const local = new Date(date.getTime() + minutes * 60000).toISOString().slice(0, -1);
  return `${local}${minutes < 0 ? '-' : '+'}${two(Math.abs(minutes) / 60)}:${two(Math.abs(minutes) % 60)}`;
}

/** A stored time by this clock; what is no time stays as it is. */
export const byClockHere = (text) => (text?.includes?.('T') && !Number.isNaN(Date.parse(text)) ? timeHere(new Date(text)) : text);

/** The day here (2026-11-26), so many days of the calendar from now. */
export function dayHere(days = 0, from = Date.now()) {
  const at = new Date(from);
  at.setDate(at.getDate() + days);
  return timeHere(at).slice(0, 10);
}

/** A stored time as a person reads it. */
export const whenText = (at) => new Date(at).toLocaleString('en-GB', { dateStyle: 'medium', timeStyle: 'short' });
