// nothing.js: an address that leads nowhere.
import { html } from '../../vendor/lit-html/lit-html.js';

export async function open(_, screen) {
  screen.show({ title: 'There is nothing here', body: html`<p>The address leads nowhere on this phone.</p><p><a class="button main" href="/app/">To Today</a></p>` });
}
