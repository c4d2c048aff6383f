// main.js: starts the phone's pages.
import { fact } from './database.js';
import { warm } from './engine.js';
import * as outbox from './outbox.js';
import { start } from './router.js';
import { screen } from './screen.js';
import * as session from './session.js';
import { register } from './version.js';

warm();
const theme = await fact('theme').catch(() => null);
if (theme) document.documentElement.dataset.theme = theme;
const person = (await session.resume()) ?? (await session.adopt());
if (!person) history.replaceState({}, '', '/app/sign-in');
await start(screen);
register(() => screen.redraw());
if (person) outbox.start();
