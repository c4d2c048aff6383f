// fitted.js: the section of a system's page on what its test runs say of air, yield, delivery and leak.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { verdict } from './verdict.js';

const NAMES = { air_fraction: 'Free air', yield_pa: 'Yield', delivery: 'Pump delivery', leak: 'Leak' };

/** `fit`: null before it was asked for, 'working' meanwhile, then the engine's answer; `ask` asks; `figure` draws a figure. */
export function fittedView(runs, fit, ask, figure) {
  if (!runs.length) return nothing;
  return html`<h2>What the test runs say of the line</h2>
    ${fit === null ? html`<p><button @click=${ask}>Work out air, yield, delivery and leak</button></p>` : nothing}
    ${fit === 'working' ? html`<p role="status">Simulating the line some dozen times…</p>` : nothing}
    ${fit?.findings?.map(verdict) ?? nothing}
    ${fit?.unknowns ? html`<div class="figures">${fit.unknowns.map(({ name, value }) => figure(`fitted.${name}`, NAMES[name], value))}</div>` : nothing}`;
}
