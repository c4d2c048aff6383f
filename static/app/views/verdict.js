// verdict.js: a finding as a sign and words, before any colour. Octagon: stop; triangle: warning; ring with a tick: good.
import { html, nothing, svg } from '../../vendor/lit-html/lit-html.js';

const shapes = {
  stop: svg`<path d="M8 1h8l7 7v8l-7 7H8l-7-7V8z" fill="currentColor"/><path d="M6 12h12" stroke="var(--paper)" stroke-width="3"/>`,
  warn: svg`<path d="M12 1 L23 22 H1 Z" fill="currentColor"/><path d="M12 8v7M12 17v3" stroke="var(--paper)" stroke-width="2.5"/>`,
  note: svg`<circle cx="12" cy="12" r="10" fill="none" stroke="currentColor" stroke-width="2.5"/><path d="M12 10v8M12 6v2" stroke="currentColor" stroke-width="2.5"/>`,
  good: svg`<circle cx="12" cy="12" r="11" fill="currentColor"/><path d="M6 12l4 5 8-9" fill="none" stroke="var(--paper)" stroke-width="3"/>`,
};
const words = { stop: 'Stop', warn: 'Warning', note: 'Note', good: 'Holds' };

/** The sign alone, with its word for those who cannot see it. */
export function sign(severity) {
  return html`<svg class="sign ${severity}" viewBox="0 0 24 24" role="img" aria-label=${words[severity]} width="24" height="24">${shapes[severity]}</svg>`;
}

/** One finding {severity, says, do}; `links`: where one can go on from it. */
export function verdict({ severity, says, do: what, links = nothing }) {
  return html`<div class="verdict ${severity}"><h2>${sign(severity)}<span>${says}</span></h2>${what ? html`<p>${what}</p>` : nothing}${links}</div>`;
}

/** All findings, or that everything holds. */
export function verdicts(findings, empty = 'Everything holds: nothing to stop or to watch.') {
  if (!findings.some((one) => one.severity !== 'note')) {
    return html`${verdict({ severity: 'good', says: empty })}${findings.map(verdict)}`;
  }
  return html`${findings.map(verdict)}`;
}

/** The worst severity of findings: stop, warn or good. */
export function worst(findings) {
  return ['stop', 'warn'].find((severity) => findings.some((one) => one.severity === severity)) ?? 'good';
}
