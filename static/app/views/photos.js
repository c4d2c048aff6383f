// photos.js: photos of a record as small pictures, one of them large to be marked, and which of them are not on the server yet.
import { html, nothing, svg } from '../../vendor/lit-html/lit-html.js';
import { CHANGES, lines, place } from '../photo-marks.js';

const HINTS = {
  arrow: ['Tap where the arrow begins.', 'Tap what it points at.'],
  circle: ['Tap the middle of the circle.', 'Tap where its edge goes.'],
};
const NAMES = { arrow: 'Arrow', circle: 'Circle' };

/** A photo with its marks. `whole`: all of it, or as much as fills a square; `start`, `chosen`: of a mark that is being made or moved. */
function drawing(entry, url, name, { whole = true, start = null, chosen = null } = {}) {
  const { width, height, marks = [] } = entry;
  return html`<svg viewBox="0 0 ${width} ${height}" width=${width} height=${height} role="img" aria-label=${name}
    preserveAspectRatio="xMidYMid ${whole ? 'meet' : 'slice'}"><image href=${url} width=${width} height=${height}></image>
    ${marks.map((mark, index) => svg`<path class=${index === chosen ? 'under chosen' : 'under'} d=${lines(mark, entry)}></path>
      <path d=${lines(mark, entry)}></path>`)}
    ${start ? svg`<circle cx=${start.x * width} cy=${start.y * height} r=${Math.max(width, height) / 60}></circle>` : nothing}</svg>`;
}

const stateOf = ({ waiting, says } = {}) => says || (waiting ? 'Not sent yet' : '');

const nameOf = ({ list }, entry) => `Photo ${list.indexOf(entry) + 1} of ${list.length}`;

function small(photos, entry) {
  const seen = photos.seen.get(entry.sha256);
  const name = nameOf(photos, entry);
  return html`<li>${seen?.url
    ? html`<button data-photo=${entry.sha256} @click=${(event) => photos.show(event, entry.sha256)} aria-label="${name}, look at it">${
      drawing(entry, seen.url, name, { whole: false })}</button>`
    : html`<p class="no-picture">${name}</p>`}<small>${stateOf(seen)}</small></li>`;
}

/** The chosen mark: moved by buttons or by the keys of arrows, made larger, turned, taken away. */
function moving(photos, mark, name) {
  const button = (change) => html`<button aria-label=${change[0]} @click=${() => photos.move(change)}>${change[1] || change[0]}</button>`;
  return html`<div class="moving" role="group" aria-label=${name} @keydown=${photos.key}>
    <p class="small" role="status">${place(mark)}</p>
    <div class="buttons">${CHANGES.filter(([change]) => change !== 'Turn' || mark.shape === 'arrow').map(button)}</div>
    <p><button class="wide" @click=${photos.takeAway}>Take this ${mark.shape} away</button></p></div>`;
}

function marking(photos) {
  const { tool, start, marks, chosen, mayMark } = photos;
  const shape = (name) => html`
    <button aria-pressed=${tool === name} ?disabled=${!mayMark} @click=${() => photos.use(name)}>${NAMES[name]}</button>`;
  const nameAt = (index) => `${NAMES[marks[index].shape]} ${index + 1}`;
  return html`${marks.length ? html`<div class="buttons spans marks" role="group" aria-label="Marks on it">${marks.map((_, index) => html`
      <button aria-pressed=${index === chosen} @click=${() => photos.choose(index)}>${nameAt(index)}</button>`)}</div>` : nothing}
    ${chosen === null ? nothing : moving(photos, marks[chosen], nameAt(chosen))}
    <p role="status">${tool ? HINTS[tool][start ? 1 : 0] : 'Arrow or circle: then two taps on the photo.'}</p>
    <div class="buttons">${Object.keys(NAMES).map(shape)}</div>
    ${tool && !start ? html`<p><button class="wide" @click=${photos.middle}>Put it in the middle, then move it</button></p>` : nothing}`;
}

function large(photos) {
  const { entry, mayChange, removing, tool } = photos;
  const marked = entry.marks?.length ? `, marked with ${entry.marks.map(({ shape }) => shape).join(', ')}` : '';
  return html`<div class="photo"><div class=${tool ? 'tapped' : ''} @click=${photos.tap}>
      ${drawing(entry, photos.seen.get(entry.sha256).url, nameOf(photos, entry) + marked, photos)}</div>
    ${removing ? html`<p role="alert">Take this photo out? It is not kept elsewhere on this phone.</p>
      <div class="buttons"><button @click=${photos.remove}>Take it out</button>
        <button @click=${(event) => photos.then(event, { removing: false }, '.back')}>Leave it</button></div>`
    : html`${mayChange ? marking(photos) : nothing}
      <div class="buttons"><button class="back" @click=${(event) => photos.show(event, null)}>Back to the photos</button>
        ${mayChange ? html`<button class="quiet" @click=${(event) => photos.then(event, { removing: true }, 'button')}>
          Take the photo out…</button>` : nothing}</div>`}</div>`;
}

function adding(photos) {
  const choose = (words, capture) => html`
    <button ?disabled=${photos.busy} @click=${(event) => event.currentTarget.nextElementSibling.click()}>${words}</button><input
      type="file" hidden accept="image/*" capture=${capture ?? nothing} @change=${(event) => photos.add(event.target)}>`;
  if (!photos.room) return html`<p class="small">${photos.list.length} photos are the most here.</p>`;
  return html`<div class="buttons">${choose('Take a photo', 'environment')}${choose('Choose one')}</div>`;
}

/** `photos`: a Photos of photo-form.js. */
export function photosView(photos) {
  const { list, seen, mayChange } = photos;
  const waiting = list.filter((one) => seen.get(one.sha256)?.waiting).length;
  return html`<div class="photos">
    ${photos.entry ? large(photos) : html`
      ${list.length ? html`<ul>${list.map((one) => small(photos, one))}</ul>` : nothing}
      ${waiting ? html`<p class="small" role="status">${list.length - waiting} of ${list.length} photos on the server.</p>` : nothing}
      ${photos.busy ? html`<p class="small" role="status">Keeping the photo…</p>` : nothing}
      ${mayChange ? adding(photos) : nothing}`}
    ${photos.error ? html`<p class="field-error" role="alert">${photos.error}</p>` : nothing}</div>`;
}
