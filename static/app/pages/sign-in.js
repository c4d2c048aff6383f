// sign-in.js: who works on this phone. Needs signal; everything that is kept stays where it is.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { sendNow } from '../outbox.js';
import { cameFrom, go } from '../go.js';
import { current, demoNames, signIn } from '../session.js';

export async function open(_, screen) {
  let says = '';
  let busy = false;
  const names = await demoNames();
  const enter = async (name, password) => {
    busy = true;
    draw();
    try {
      await signIn(name, password);
      await sendNow({ again: true });
      await go(cameFrom(), { replace: true });
    } catch (error) {
      busy = false;
      says = error.offline ? 'No signal: signing in needs the server. What is on this phone stays on it.' : `${error.message} ${error.error?.do ?? ''}`;
      draw();
    }
  };
  const submit = (event) => {
    event.preventDefault();
    const form = new FormData(event.target);
    enter(form.get('name'), form.get('password'));
  };
  const draw = () => screen.show({
    above: 'Linewright', title: 'Sign in', state: current() ? null : 'Nobody is signed in on this phone.',
    body: html`
      ${names.map((name) => html`<p><button class="main" ?disabled=${busy} @click=${() => enter(name, 'brackwater')}>Open the demo as ${name}</button></p>`)}
      ${names.length ? html`<h2>Or with name and password</h2>` : nothing}
      <form @submit=${submit}>
        <div class="field"><label for="name">Name</label><input id="name" name="name" autocomplete="username" required .value=${current()?.name ?? ''}></div>
        <div class="field"><label for="password">Password</label><input id="password" name="password" type="password" autocomplete="current-password" required></div>
        ${says ? html`<p class="field-error" role="alert">${says}</p>` : nothing}
        <p><button class="main" ?disabled=${busy}>${busy ? 'Signing in…' : 'Sign in'}</button></p>
      </form>`,
  });
  draw();
}
