// cautions.js: what can hurt somebody at a lubrication line, short.
import { html } from '../../vendor/lit-html/lit-html.js';

const TEST_RUN = [
  'Keep clear of moving parts: the machine may run during the test, and the pump starts by itself.',
  'Before you open anything: isolate and lock out, electrical and hydraulic, and release the pressure.',
  'Never feel for a leak by hand. Grease under pressure goes through skin: go to surgery at once, however small the wound. Wear eye protection.',
  'Mind hot surfaces and spilled lubricant. Where the air can explode, only rated equipment.',
];

/** The cautions of a test run. */
export function cautions() {
  return html`<ul class="caution">${TEST_RUN.map((text) => html`<li>${text}</li>`)}</ul>
    <p class="small">The equipment maker's instructions, local codes and licensed practice come first.</p>`;
}
