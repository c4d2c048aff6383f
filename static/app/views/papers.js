// papers.js: links to the PDFs of a system, which need signal.
import { html } from '../../vendor/lit-html/lit-html.js';

const PAPERS = [['settings', 'Settings sheet'], ['season', 'Season sheet']];

/** Settings and season sheet; the papers of records stand beside them. */
export function papers(system) {
  return html`<h2>Papers</h2><p class="small">${navigator.onLine ? '' : 'No signal: papers come from the server.'}</p><ul class="rows">${PAPERS.map(([kind, text]) => html`
    <li><a href="/papers/${kind}/${system}.pdf" target="_blank" rel="noopener">${text}<small>PDF</small></a></li>`)}</ul>`;
}
