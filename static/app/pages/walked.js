// walked.js: one round as it was walked: its own list, answers, who signed; after sign-off an answer is corrected with a reason.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { get, onChange, save, timeHere } from '../documents.js';
import { units } from '../engine.js';
import { go } from '../go.js';
import { PhotoLists } from '../photo-form.js';
import { corrected, isBad } from '../rounds.js';
import { current } from '../session.js';
import { settle } from '../settle.js';
import { loadUnits, preferred, read, toText } from '../units.js';
import { clashView } from '../views/clash.js';
import { WORDS, answerText, defectOf, limitsText } from '../views/round-item.js';
import { fieldName } from '../views/round-parts.js';
import { signature } from '../views/sign-off.js';
import { verdict } from '../views/verdict.js';

const when = (at) => new Date(at).toLocaleString('en-GB', { dateStyle: 'medium', timeStyle: 'short' });

class Walked {
  constructor(id, document, screen) {
    Object.assign(this, { id, document, screen, change: null, error: '', photos: new PhotoLists() });
  }

  async load() {
    [this.system, this.held, this.units] = await Promise.all([get(this.id), get(this.document), units(), loadUnits()]);
    if (this.system && this.held) return true;
    await go(`/app/systems/${this.id}`, { replace: true });
    return false;
  }

  unit = (item) => preferred(item.unit, this.units);

  says = (item) => answerText(item, item, this.unit);

  begin = (item) => {
    const typed = item.answer === 'reading' ? toText(item.value, item.unit, this.unit(item)) : '';
    this.change = { item, answer: item.answer ?? '', typed, note: item.note ?? '', reason: '' };
    this.error = '';
    this.show();
  };

  set = (name, value) => { this.change[name] = value; this.show(); };

  /** A new revision with the reason; what it said before stays in the record, the counter-signature goes. */
  keep = async () => {
    const { item, answer, typed, note, reason } = this.change;
    const { name } = current();
    try {
      if (!reason.trim()) throw new Error('Say why it is corrected.');
      if (!note.trim() && !['ok', 'reading'].includes(answer)) throw new Error('Say in the note what was seen.');
      const value = answer === 'reading' ? { value: read(typed, item.unit, this.unit(item)) } : {};
      const said = { answer, by: name, ...(note.trim() ? { note: note.trim() } : {}), ...value };
      const body = corrected(this.held.body, { [item.id]: said }, reason.trim(), name, timeHere(), this.says);
      await save('round', this.document, body, { from: this.held.revision, reason: reason.trim() });
    } catch (error) {
      this.error = error.message;
      this.show();
      return;
    }
    this.change = null;
    await this.load();
    this.show();
  };

  correcting({ item, answer, typed, note, reason }) {
    const choices = item.unit ? ['reading', 'not applicable', 'not done'] : ['ok', 'not ok', 'text', 'not applicable', 'not done'];
    const say = (name) => (event) => this.set(name, event.target.value);
    const input = (name, value) => html`<input id=${name} maxlength="300" .value=${value} @input=${say(name)}>`;
    return html`<div class="field"><label for="answer">Answer</label><select id="answer" @change=${say('answer')}>
        ${choices.map((one) => html`<option value=${one} ?selected=${one === answer}>${WORDS[one]}</option>`)}</select></div>
      ${answer === 'reading' ? html`<div class="field"><label for="value">Reading</label><div class="with-unit">
        <input id="value" inputmode="decimal" autocomplete="off" .value=${typed} @input=${say('typed')}>
        <span>${this.unit(item)}</span></div></div>` : nothing}
      <div class="field"><label for="note">Note</label>${input('note', note)}</div>
      <div class="field"><label for="reason">Reason for the correction</label>${input('reason', reason)}
        ${this.error ? html`<p class="field-error" role="alert">${this.error}</p>` : nothing}</div>
      <div class="buttons"><button class="main" @click=${this.keep}>Keep the correction</button>
        <button @click=${() => { this.change = null; this.show(); }}>Leave it</button></div>`;
  }

  item(item) {
    const { signed } = this.held.body;
    const [now, bad] = [this.change?.item.id === item.id, isBad(item, item)];
    return html`<li class=${now ? 'now' : ''}><div class="line"><span><small>${item.where}</small><br>${item.ask}<br>
        <span class=${bad ? 'field-error' : ''}>${this.says(item)}</span>
        ${item.unit ? html`<br><small>${limitsText(item, this.unit(item))}</small>` : nothing}
        ${item.by && item.by !== signed?.by ? html`<br><small>${item.by}</small>` : nothing}
        ${bad ? html`<br><a href=${defectOf({ id: this.id, draft: { id: this.document } }, item.id)}>Raise a defect</a>` : nothing}</span>
      ${signed && !now ? html`<button class="quiet" aria-label="Correct ${item.ask}, ${item.where}"
        @click=${() => this.begin(item)}>Correct</button>` : nothing}</div>
      ${item.photos?.length ? this.photos.seen(item.id, item.photos, this.document, () => this.show()) : nothing}
      ${now ? this.correcting(this.change) : nothing}</li>`;
  }

  signedBy(words, { by, at, role, statement, drawn } = {}) {
    if (!by) return nothing;
    return html`<p>${words} <strong>${by}</strong>${role ? `, ${role}` : ''}, ${when(at)}.${statement ? ` “${statement}”` : ''}</p>
      ${signature(drawn)}`;
  }

  corrections(body) {
    if (!body.corrections?.length) return nothing;
    return html`<h2>Corrected since</h2><ul class="rows">${body.corrections.map((one) => html`<li><div class="row">
      <span>${fieldName(body.items, `items[${one.item}]`)}. It said: ${one.was}. ${one.reason}
        <small>${one.by}, ${when(one.at)}</small></span></div></li>`)}</ul>`;
  }

  show() {
    const { body, waiting, refused, clash } = this.held;
    const bad = body.items.filter((item) => isBad(item, item)).length;
    const day = new Date(body.made_at ?? this.held.madeAt).toLocaleDateString('en-GB', { dateStyle: 'medium' });
    const not = refused && { severity: 'stop', says: `The server did not accept it: ${refused.says}`, do: 'It stays on this phone.' };
    this.screen.show({
      above: this.system.body.name, title: `Round of ${day}`, tab: 'Systems', busy: Boolean(this.change),
      state: waiting ? 'phone' : 'server',
      body: html`${clash ? clashView(clash, (side) => settle(this.held, side), (path) => fieldName(body.items, path)) : nothing}
        ${not ? verdict(not) : nothing}
        ${this.signedBy('Signed off by', body.signed)}${this.signedBy('Counter-signed by', body.countersigned)}
        ${body.signed ? html`<p>${bad ? `${bad} of ${body.items.length} not ok.` : 'All ok, or with a reason.'}</p>`
    : html`<p>Under way, begun by ${body.made_by}.</p>
          <p><a class="button main" href="/app/systems/${this.id}/round">Go on in it</a></p>`}
        ${body.note ? html`<p class="notice">${body.note}</p>` : nothing}${this.corrections(body)}
        <ol class="spine round">${body.items.map((item) => this.item(item))}</ol>`,
    });
  }
}

export async function open({ id, document }, screen) {
  const page = new Walked(id, document, screen);
  if (!(await page.load())) return null;
  page.show();
  const stop = onChange(async () => { if (!page.change && await page.load()) page.show(); });
  return () => { stop(); page.photos.close(); };
}
