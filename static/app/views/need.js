// need.js: what a point needs: the method, then the sizes that the method asks for.
import { html, nothing } from '/static/vendor/lit-html/lit-html.js';
import { valueAt } from '../form.js';
import { field } from './fields.js';

const METHODS = {
  stated: ['cm3_per_h'],
  rolling: ['bore_mm', 'outer_mm', 'width_mm', 'speed_rpm', 'factors.design', 'factors.temperature', 'factors.contamination',
    'factors.moisture', 'factors.vibration', 'factors.position'],
  film: ['shaft_mm', 'length_mm', 'pitch_mm', 'slide_mm', 'width_mm', 'area_cm2', 'film_mm', 'every_h'],
};
const HINTS = {
  rolling: 'Factors are editable defaults from memory: 1 where nothing is entered.',
  film: 'A plain bearing by shaft and length, a gear by pitch diameter and width, a slideway by its two lengths, or the area.',
};

/** The need of point number `index`. */
export function needFields(form, index, errors, changed) {
  const place = `points[${index}].need`;
  const method = valueAt(form.body, `${place}.method`);
  return html`${field(form, `${place}.method`, errors, changed)}
    ${HINTS[method] ? html`<p class="help">${HINTS[method]}</p>` : nothing}
    ${(METHODS[method] ?? []).map((one) => field(form, `${place}.${one}`, errors, changed))}`;
}
