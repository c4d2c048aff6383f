// new-system.js: begins a draft, empty where safety is decided, with the trade's usual values elsewhere.
import { keepDraft, newId } from '../documents.js';
import { go } from '../go.js';
import { current } from '../session.js';

const range = (min, max, step) => ({ min_s: min, max_s: max, step_s: step });

/** A new system's body. Pressures, delivery and temperatures stay empty: nobody should take them over unseen. */
export function blank(id, site) {
  return {
    format: 'system/1', id, name: '', site, area: '', kind: 'single-line',
    duty: { hours_per_day: 16, days_per_week: 5, only_while_machine_runs: true },
    ambient: {}, lubricant: {}, pump: {}, vent_valve: {}, sections: [], devices: [], points: [], switches: [],
    low_level: { fitted: true, contact: 'normally open', on_low: 'stop pump' },
    machine_contact: { used: true, contact: 'normally open' }, alarm_output: 'steady',
    controller: { pause: range(60, 360000, 60), time_limit: range(5, 1800, 5), vent: range(5, 1800, 5), cycles_max: 1 },
    wiring: {},
  };
}

export async function open() {
  const id = newId();
  await keepDraft(`edit:${id}`, { body: blank(id, current().sites[0] ?? '') });
  await go(`/app/systems/${id}/edit/machine`, { replace: true });
}
