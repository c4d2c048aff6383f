// this-phone.js: who works here, units, look, and whether the browser keeps what is stored.
import { html } from '../../vendor/lit-html/lit-html.js';
import { askToPersist, fact, keepFact, storageState } from '../database.js';
import { go } from '../go.js';
import { heldHere, ROUNDS } from '../held.js';
import { current, signOut } from '../session.js';

const UNITS = [['metric', 'Metric: bar, cm³, mm, °C'], ['us', 'US: psi, in³, in, °F']];
const THEMES = [['', 'As the phone'], ['light', 'Light'], ['dark', 'Dark'], ['sun', 'Sun: black on white']];

const count = (number, word) => `${number} ${word}${number === 1 ? '' : 's'}`;

function choice(name, title, options, chosen, choose) {
  return html`<fieldset class="field"><legend>${title}</legend>${options.map(([value, text]) => html`
    <label class="check"><input type="radio" name=${name} .checked=${value === chosen} @change=${() => choose(value)}> ${text}</label>`)}</fieldset>`;
}

export async function open(_, screen) {
  const draw = async () => {
    const [units, theme, phone, storage, held] = await Promise.all([fact('units'), fact('theme'), fact('phone'), storageState(), heldHere()]);
    const mebibytes = (bytes) => `${(bytes / 1048576).toFixed(1)} MB`;
    screen.show({
      above: 'This phone', title: current().name, tab: 'This phone',
      body: html`<p>${current().role}${current().sites.length ? ` at ${current().sites.join(', ')}` : ''}. The desk calls this phone ${phone.slice(0, 8)}.</p>
        ${choice('units', 'Units', UNITS, units ?? 'metric', async (value) => { await keepFact('units', value); await draw(); })}
        ${choice('theme', 'Look', THEMES, theme ?? '', async (value) => {
          await keepFact('theme', value);
          if (value) document.documentElement.dataset.theme = value; else delete document.documentElement.dataset.theme;
        })}
        <h2>Storage</h2>
        <p>Held here: ${count(held.systems, 'system')}, ${count(held.rounds, 'round')} (the newest ${ROUNDS} of each system), ${count(held.others, 'other record')}.
          ${held.waiting ? `${held.waiting} to send.` : 'Nothing waits to be sent.'} The server holds all.</p>
        <p>${storage.kept ? 'The browser has promised to keep what is stored here.'
          : 'The browser has not promised to keep what is stored here: send what waits before long breaks.'}
          ${mebibytes(storage.used)} used of ${mebibytes(storage.room)}.</p>
        ${storage.kept ? '' : html`<p><button @click=${async () => { await askToPersist(); await draw(); }}>Ask the browser to keep it</button></p>`}
        <h2>Signing out</h2>
        <p>What waits to be sent stays on this phone, for you alone.</p>
        <p><button @click=${async () => { await signOut(); await go('/app/sign-in', { replace: true }); }}>Sign out</button></p>`,
    });
  };
  await draw();
}
