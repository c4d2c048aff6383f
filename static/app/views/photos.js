// photos.js: photos of a record as small pictures, one of them large to be marked, and which of them are not on the server yet.
import { html, nothing, svg } from '../../vendor/lit-html/lit-html.js';

const HINTS = {
  arrow: ['Tap where the arrow begins.', 'Tap what it points at.'],
  circle: ['Tap the middle of the circle.', 'Tap where its edge goes.'],
};

/** The lines of one mark on a picture of this size. Arrow: from 1 to its tip at 2. Circle: its middle at 1, its edge through 2. */
function lines({ shape, x1, y1, x2, y2 }, { width, height }) {
  const [x, y, across, down] = [x1 * width, y1 * height, (x2 - x1) * width, (y2 - y1) * height];
  if (shape === 'circle') {
    const r = Math.hypot(across, down);
    return `M${x - r} ${y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0`;
  }
  const head = Math.max(width, height) / 16;
  const angle = Math.atan2(down, across);
  const side = (turn) => `M${x + across} ${y + down}l${head * Math.cos(angle + turn)} ${head * Math.sin(angle + turn)}`;
  return `M${x} ${y}l${across} ${down}${side(2.6)}${side(-2.6)}`;
}

function drawing(entry, url, name, start = null, whole = true) {
  const { width, height } = entry;
  return html`<svg viewBox="0 0 ${width} ${height}" width=${width} height=${height} preserveAspectRatio="xMidYMid ${whole ? 'meet' : 'slice'}"
    role="img" aria-label=${name}>
    <image href=${url} width=${width} height=${height}></image>
    ${(entry.marks ?? []).map((mark) => svg`<path class="under" d=${lines(mark, entry)}></path><path d=${lines(mark, entry)}></path>`)}
    ${start ? svg`<circle cx=${start.x * width} cy=${start.y * height} r=${Math.max(width, height) / 60}></circle>` : nothing}</svg>`;
}

const stateOf = ({ waiting, says } = {}) => says || (waiting ? 'Not sent yet' : '');

function small(photos, entry, index) {
  const seen = photos.seen.get(entry.sha256);
  const name = `Photo ${index + 1} of ${photos.list.length}`;
  return html`<li>${seen?.url
    ? html`<button @click=${() => photos.show(index)} aria-label="${name}, look at it">${drawing(entry, seen.url, name, null, false)}</button>`
    : html`<p class="no-picture">${name}</p>`}<small>${stateOf(seen)}</small></li>`;
}

function marking(photos) {
  const { tool, start, marks } = photos;
  const button = (name, words) => html`
    <button aria-pressed=${tool === name} ?disabled=${!photos.mayMark} @click=${() => photos.use(name)}>${words}</button>`;
  return html`<p role="status">${tool ? HINTS[tool][start ? 1 : 0] : 'Arrow or circle: then two taps on the photo.'}</p>
    <div class="buttons">${button('arrow', 'Arrow')}${button('circle', 'Circle')}
      <button ?disabled=${!marks.length} @click=${photos.undo}>Undo the last</button>
      <button class="quiet" @click=${() => photos.set({ removing: true, tool: null })}>Take it out…</button></div>`;
}

function large(photos) {
  const entry = photos.list[photos.open];
  const seen = photos.seen.get(entry.sha256);
  const name = `Photo ${photos.open + 1} of ${photos.list.length}`;
  return html`<div class="photo"><div class="${photos.tool ? 'tapped' : ''}" @click=${photos.tap}>${drawing(entry, seen.url, name, photos.start)}</div>
    ${photos.removing ? html`<p role="alert">Take this photo out? It is not kept elsewhere on this phone.</p>
      <div class="buttons"><button @click=${photos.remove}>Take it out</button><button @click=${() => photos.set({ removing: false })}>Leave it</button></div>`
    : html`${photos.mayChange ? marking(photos) : nothing}<p><button class="wide" @click=${() => photos.show(null)}>Back to the photos</button></p>`}</div>`;
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
    ${photos.open === null || !list[photos.open] ? html`
      ${list.length ? html`<ul>${list.map((one, index) => small(photos, one, index))}</ul>` : nothing}
      ${waiting ? html`<p class="small" role="status">${list.length - waiting} of ${list.length} photos on the server.</p>` : nothing}
      ${photos.busy ? html`<p class="small" role="status">Keeping the photo…</p>` : nothing}
      ${mayChange ? adding(photos) : nothing}` : large(photos)}
    ${photos.error ? html`<p class="field-error" role="alert">${photos.error}</p>` : nothing}</div>`;
}
