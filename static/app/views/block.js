// block.js: a block of a progressive system in the form: what feeds it, and what each of its outlets does.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { feeds, hangingOn, places, pointOn } from '../blocks.js';
import { pointsOf } from '../walk.js';
import { field, pick } from './fields.js';
import { needFields } from './need.js';

function outlet(form, block, number, outletNumber, errors, changed, act) {
  const { body } = form;
  const one = block.outlets[outletNumber];
  const place = `devices[${number}].outlets[${outletNumber}]`;
  const hung = hangingOn(body, block, one.id);
  const point = pointOn(body, block, one.id);
  const others = block.outlets.filter((other) => other !== one && !other.joined_to).map(({ id }) => [id, `Closed, joined to ${id}`]);
  return html`<h3>Outlet ${one.id}</h3>
    ${field(form, `${place}.output_cm3`, errors, changed)}
    ${hung ? html`<p>Feeds block ${hung.id}.</p>` : pick(place, 'It feeds', feeds(body, block, one), [['point', 'A point'], ...others, ['', 'Nothing']],
      (what) => act('feeds', [block, one.id, what]), errors.get(`${place}.joined_to`))}
    ${point < 0 ? nothing : html`${field(form, `points[${point}].name`, errors, changed)}${needFields(form, point, errors, changed)}`}
    <p><button class="quiet" @click=${() => act('remove outlet', [block, one.id])}>Take outlet ${one.id} away</button></p>`;
}

/** Points that name an outlet which the block does not have: left over from another kind of system. */
function lost(body, block, act) {
  const known = new Set((block.outlets ?? []).map(({ id }) => id));
  return pointsOf(body, block.id).filter(({ point }) => !known.has(point.outlet)).map(({ point, index }) => html`
    <p class="field-error">${point.name} is on no outlet. <button class="quiet" @click=${() => act('remove point', index)}>Take this point away</button></p>`);
}

/** The fields of block number `number`. */
export function blockFields(form, number, errors, changed, act) {
  const { body } = form;
  const block = body.devices[number];
  const above = block.hangs_from;
  const wrong = ['', '.block', '.outlet'].map((end) => errors.get(`devices[${number}].hangs_from${end}`)).find(Boolean);
  return html`
    ${body.devices.length > 1 ? pick(`devices[${number}].hangs_from`, 'Fed by', above ? `${above.block} ${above.outlet}` : '',
      [['', 'The pump: it is the first block'], ...places(body, block)], (text) => act('hang', [block, text]), wrong) : nothing}
    ${field(form, `devices[${number}].fires_bar`, errors, changed)}
    ${lost(body, block, act)}
    ${(block.outlets ?? []).map((_, outletNumber) => outlet(form, block, number, outletNumber, errors, changed, act))}
    <p><button @click=${() => act('add outlet', block)}>One more outlet</button></p>`;
}
