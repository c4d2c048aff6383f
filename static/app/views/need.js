// need.js: what a point needs: the method, the sizes that it asks for, and what the other published rule would say.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { valueAt } from '../form.js';
import { field } from './fields.js';

const BEARING = ['bore_mm', 'outer_mm', 'width_mm', 'speed_rpm', 'running_c', 'rows', 'quantity', 'factors.design', 'variant'];
const METHODS = {
  stated: ['cm3_per_h'],
  film: ['shaft_mm', 'length_mm', 'pitch_mm', 'slide_mm', 'width_mm', 'pin_mm', 'bush_mm', 'links', 'area_cm2', 'film_mm', 'every_h'],
};
const SETS = {
  A: ['factors.temperature', 'factors.contamination', 'factors.moisture', 'factors.vibration', 'factors.position'],
  B: ['conditions.shaft', 'conditions.judgement', 'conditions.outer_ring_turns'],
};
const HINTS = {
  A: 'Factors are editable defaults from memory: 1 where nothing is entered.',
  B: 'Half the interval for every 15 K above 70 °C, for an upright shaft and for a bore above 300 mm.',
  film: 'A plain bearing by shaft and length, a gear by pitch diameter and width, a slideway by its two lengths, a chain by its pins, or the area.',
};

/** The other rule's figure, one tap away; `figures` are the point's in a worked document. */
function otherRule(figures) {
  if (!figures?.other_rule) return nothing;
  return html`<details><summary class="check">What the other rule says</summary>
    <p class="help">This need: ${figures.need.shown}. By the other rule: ${figures.other_rule.shown}${figures.other_ratio
      ? ` (ratio ${figures.other_ratio.shown})` : nothing}. Two published rules, size and speed or a film to renew, do not agree; the sheet says which was used.</p>
  </details>`;
}

/** The need of point number `index`. */
export function needFields(form, index, errors, changed) {
  const place = `points[${index}].need`;
  const method = valueAt(form.body, `${place}.method`);
  const set = method === 'rolling' ? valueAt(form.body, `${place}.variant`) ?? 'A' : null;
  const names = set ? [...BEARING, ...(SETS[set] ?? [])] : METHODS[method] ?? [];
  const hint = HINTS[set ?? method];
  return html`${field(form, `${place}.method`, errors, changed)}
    ${hint ? html`<p class="help">${hint}</p>` : nothing}
    ${names.map((one) => field(form, `${place}.${one}`, errors, changed))}
    ${otherRule(form.worked?.points?.find((one) => one.id === valueAt(form.body, `points[${index}].id`)))}`;
}
