// one-record.js: one record of a kind that has no page of its own: all that it holds, and its paper. Codes on papers open it.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { whenText } from '../days.js';
import { causeName, causesOf } from '../defects.js';
import { get, onChange } from '../documents.js';
import { units } from '../engine.js';
import { loadKinds } from '../form.js';
import { go } from '../go.js';
import { PhotoLists } from '../photo-form.js';
import { dayOf, pageOf } from '../records.js';
import { settle } from '../settle.js';
import { clashView } from '../views/clash.js';
import { paperLink } from '../views/noted.js';
import { recordView } from '../views/one-record.js';
import { verdict } from '../views/verdict.js';

const at = (body, path) => path.split('.').reduce((thing, name) => thing?.[name], body);

class OneRecord {
  constructor({ id, document }, screen) { Object.assign(this, { id, document, screen, photos: new PhotoLists() }); }

  async load() {
    [this.system, this.held, this.units, this.kinds] = await Promise.all([get(this.id), get(this.document), units(), loadKinds()]);
    if (!this.held || this.held.deleted || this.held.system !== this.id) return this.missing();
    const own = pageOf(this.held);
    if (own !== location.pathname) return go(own, { replace: true });
    const { name, said } = this.kinds.get(this.held.kind);
    this.name = name;
    const photos = (path, list) => this.photos.seen(path, list, this.document, () => this.show());
    this.about = { said, units: this.units, photos, names: await this.names(), links: await this.links(said) };
    return this.show();
  }

  /** What points of the system, and the causes that the record names, are called. */
  async names() {
    const { cause, tried = [] } = this.held.body;
    const causes = [cause, ...tried.map((one) => one.cause)].filter(Boolean);
    const words = causes.length && this.system ? await causesOf(this.system.body) : new Map();
    return new Map([...(this.system?.body.points ?? []).map(({ id, name }) => [id, name]),
      ...causes.map((one) => [one, words.get(causeName(one)) ?? one])]);
  }

  /** Other records that this one names, as far as they are on this phone. */
  async links(said) {
    const { body } = this.held;
    const ids = [...said].filter(([, [, kind]]) => kind === 'id').map(([path]) => at(body, path));
    const named = ids.filter((one) => typeof one === 'string');
    const found = (await Promise.all(named.map(get))).filter((one) => one && one.kind !== 'system');
    return new Map(found.map((one) => [one.document, { href: pageOf(one), says: `${this.kinds.get(one.kind).name}, ${dayOf(one)}` }]));
  }

  missing() {
    this.screen.show({ above: this.system?.body.name ?? 'Records', title: 'Not on this phone', tab: 'Systems',
      body: html`<p>This record is not on this phone. With signal, send and fetch first.</p>
        <p><a class="button main" href="/app/to-send">Fetch</a></p>
        <p><a class="button" href="/app/systems/${this.id}">The system</a></p>` });
  }

  show() {
    const { body, waiting, refused, clash } = this.held;
    const label = (path) => this.about.said.get(path)?.[0] ?? path;
    this.screen.show({
      above: this.system?.body.name ?? '', title: `${this.name} of ${dayOf(this.held)}`, tab: 'Systems',
      state: waiting ? 'phone' : 'server',
      body: html`${clash ? clashView(clash, (side) => settle(this.held, side), label) : nothing}
        ${refused ? verdict({ severity: 'stop', do: 'It stays on this phone.',
    says: `The server did not accept it: ${refused.says}` }) : nothing}
        <p>Made by ${body.made_by ?? 'somebody'}, ${whenText(body.made_at ?? this.held.madeAt)}.</p>
        ${recordView(body, this.about)}
        <div class="buttons">${paperLink(this.held)}<a class="button" href="/app/systems/${this.id}">The system</a>
          <a class="button" href="/app/systems/${this.id}/records">All records</a></div>`,
    });
  }
}

export async function open(params, screen) {
  const page = new OneRecord(params, screen);
  await page.load();
  const stop = onChange(() => page.load());
  return () => { stop(); page.photos.close(); };
}
