// clash.js: two versions of the same fields, side by side; a person says which stands.
import { html } from '../../vendor/lit-html/lit-html.js';
import { valueAt } from '../paths.js';

function text(body, path) {
  const value = valueAt(body, path);
  return value === undefined ? '(not there)' : typeof value === 'object' ? JSON.stringify(value) : String(value);
}

/** {fields, mine, other}; `settle('mine'|'other')` makes that version stand; `name(path)`: what a reader calls a field. */
export function clashView({ fields, mine, other }, settle, name = (path) => path) {
  return html`<div class="verdict warn"><h2>Two people changed the same field</h2>
    <p>Both versions are kept. Say which one stands; the other stays in the history.</p>
    <div class="scroll"><table><thead><tr><th>Field</th><th>Newest</th><th>The other</th></tr></thead><tbody>
      ${fields.map((path) => html`<tr><th scope="row">${name(path)}</th><td>${text(mine?.body, path)}</td><td>${text(other?.body, path)}</td></tr>`)}</tbody></table></div>
    <div class="buttons"><button @click=${() => settle('mine')}>The newest stands</button><button ?disabled=${!other} @click=${() => settle('other')}>The other stands</button></div></div>`;
}
