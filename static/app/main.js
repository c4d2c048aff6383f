// main.js: starts the phone's pages.
import { fact } from './database.js';
import { warm } from './engine.js';
import { insteadOpen } from './go.js';
import * as outbox from './outbox.js';
import { start } from './router.js';
import { screen } from './screen.js';
import * as session from './session.js';
import { register } from './version.js';

const [theme, known] = await Promise.all([fact('theme').catch(() => null), session.resume()]);
if (theme) document.documentElement.dataset.theme = theme;
const person = known ?? (await session.adopt());
if (!person) insteadOpen('/app/sign-in');
await start(screen);
warm(); // after the first page is drawn: on a slow phone the interpreter's start would hold it up
register(() => screen.redraw());
outbox.start();
