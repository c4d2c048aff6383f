// round-parts.js: what stands around the items of a round: how it is walked, with whom, what is left, and the sheet at its end.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { unsaved } from '../rounds.js';
import { clashView } from './clash.js';
import { answerText, defectOf } from './round-item.js';

/** What a reader calls a field of a round: items[KEY].answer is what was asked there. */
export function fieldName(items, path) {
  const [, key, name] = /^items\[([^\]]+)\]\.?(.*)$/.exec(path) ?? [];
  const item = items.find((one) => (one.key ?? one.id) === key);
  return item ? `${item.where}: ${item.says ?? item.ask}${name ? `, ${name}` : ''}` : path;
}

/** Rounds of others to go on in, or one of one's own. */
export function choiceView(page) {
  return html`${page.others.map((other) => html`<p>Begun by <strong>${other.body.made_by}</strong>, ${new Date(other.body.begun_at ?? other.madeAt).toLocaleString('en-GB', { dateStyle: 'medium', timeStyle: 'short' })}.</p>
    <p><button class="main" @click=${() => page.start(other)}>Go on in it</button></p>`)}
    <p><button class="wide" @click=${() => page.start(null)}>Begin another round</button></p>`;
}

/** Above the items: the order, what is not due, and the others. */
export function headView(page, folded) {
  const { draft, doc } = page;
  const waiting = unsaved(draft).length;
  const others = [...new Set(Object.values(draft.answers).map(({ by }) => by))].filter((by) => by && by !== page.me);
  const pressed = (on) => (on ? 'true' : 'false');
  return html`${doc?.clash ? clashView(doc.clash, page.settle, (path) => fieldName(page.items, path)) : nothing}
    <div class="buttons"><button aria-pressed=${pressed(draft.order === 'due')} @click=${() => page.set('order', draft.order === 'due' ? 'walk' : 'due')}>Due and not ok first</button>
    ${folded ? html`<button aria-pressed=${pressed(draft.all)} @click=${() => page.set('all', !draft.all)}>${folded} not due today</button>` : nothing}
    <button @click=${page.share} ?disabled=${draft.shared && !waiting}>${!draft.shared ? 'Walk it with others' : waiting ? `Share ${waiting} now` : 'All shared'}</button></div>
    ${others.length ? html`<p class="small">With ${others.join(', ')}.</p>` : nothing}`;
}

/** Below them: leave what is still open for another day. */
export function restView(page, open) {
  if (page.draft.asking?.what !== 'rest') return html`<p><button class="quiet wide" @click=${() => page.ask(null, 'rest')}>Leave the other ${open} for another day…</button></p>`;
  return html`<div class="field"><label for="rest">Why are they not done today?</label><textarea id="rest" rows="2" maxlength="300" .value=${page.draft.why.rest ?? ''}
    @input=${(event) => page.because('rest', event.target.value)}></textarea>${page.error ? html`<p class="field-error" role="alert">${page.error}</p>` : nothing}</div>
    <div class="buttons"><button class="main" @click=${page.leaveRest}>Keep it</button><button @click=${() => { page.again(null); page.focusOn(); page.show(); }}>Back</button></div>`;
}

/** Defects that were offered while walking and are still to be raised. */
function toRaise(page) {
  const found = page.items.filter((item) => page.draft.raise[item.key]);
  return found.length ? html`<h2>Defects to raise</h2><ul class="rows">${found.map((item) => html`<li><a href=${defectOf(page, item.key)}>${item.where}: ${item.says}</a></li>`)}</ul>` : nothing;
}

/** The last page of a round. */
export function sheetView(page, person) {
  return html`<p><button class="quiet" @click=${() => page.set('atSheet', false)}>Back to the items</button></p>${toRaise(page)}
    <div class="field"><label for="note">Note on the whole round</label><textarea id="note" rows="2" maxlength="300" .value=${page.draft.note} @input=${(
      event,
    ) => {
      page.draft.note = event.target.value;
      page.keep();
    }}></textarea></div>
    ${page.sheet.view(person)}`;
}

/** Somebody signed it off: what was answered here and came too late. */
export function lateView(signed, late, page) {
  return html`<p>${signed.by} signed this round off.</p>${late.length ? html`
    <p>${late.length} ${late.length === 1 ? 'answer' : 'answers'} of this phone came too late for it. They can be added as a correction, with a reason.</p>
    <ul class="rows">${late.map((item) => html`<li><div class="row"><span><small>${item.where}</small><br>${item.says}<br>${answerText(item, page.draft.answers[item.key], page.unit)}</span></div></li>`)}</ul>
    <div class="field"><label for="reason">Reason</label><textarea id="reason" rows="2" maxlength="300" .value=${page.reason} @input=${(
      event,
    ) => {
      page.reason = event.target.value;
    }}></textarea>
      ${page.error ? html`<p class="field-error" role="alert">${page.error}</p>` : nothing}</div>
    <p><button class="main" @click=${page.addLate}>Add them</button></p>` : html`<p>All that was answered here is in it.</p>`}
    <p><button class="wide" @click=${page.dropLate}>${late.length ? 'Leave them out' : 'Show the round'}</button></p>`;
}
