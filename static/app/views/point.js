// point.js: a point that a label opened: what it gets and from where, whether that is confirmed, what was last found at it.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { whenText } from '../days.js';
import { preferred, toText } from '../units.js';
import { defectRow } from './defects.js';
import { answerText } from './round-item.js';
import { verdict } from './verdict.js';

const joined = (parts, by = ', ') => parts.filter(Boolean).join(by);
const row = (name, text) => html`<tr><th scope="row">${name}</th><td>${text}</td></tr>`;

function where({ point, device, metres }, units) {
  if (!device) return 'no device';
  const unit = preferred('m', units);
  return joined([`${device.outlets ? 'block' : 'device'} ${device.id}`, point.outlet && `outlet ${point.outlet}`,
    point.side && `line ${point.side}`, `at ${device.at}`, metres !== null && `${toText(Number(metres.toPrecision(3)), 'm', unit)} ${unit} of pipe from the pump`]);
}

const confirmed = (fed) => (fed.confirmed ? 'yes' : joined(['no', fed.since && `since ${whenText(fed.since)}`, fed.because?.says], ': '));

/** `here`: from pointHere(), null where the system has no such point; `given`, `fed`: what the worked system and its care say of it. */
export function pointView(id, here, given, fed, units) {
  if (!here) {
    return verdict({ severity: 'warn', says: `This system has no point ${id} now, which the label names.`,
      do: 'It was taken out or renamed. Look below what is here, and put a new label on.' });
  }
  const { point, answers, defects } = here;
  const answer = (item) => row(item.ask, html`${answerText(item, item, (one) => preferred(one.unit, units))}
    <small>${joined([whenText(item.at), item.by])}</small>`);
  return html`<section aria-labelledby="point"><h2 id="point" tabindex="-1">${point.name || point.id}</h2>
    <table><tbody>${row('Point', point.id)}${row('Fed by', where(here, units))}
      ${given ? html`${row('Gets', `${given.rate.shown}, ${given.dose.shown} a cycle`)}${row('Needs', given.need.shown)}` : nothing}
      ${fed ? row('Confirmed fed', confirmed(fed)) : nothing}${answers.map(answer)}</tbody></table>
    ${defects.length ? html`<h3>Open defects here</h3>
      <ul class="rows defects">${defects.map((one) => defectRow(one))}</ul>` : nothing}</section>`;
}
