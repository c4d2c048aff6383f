// blocks.js: blocks of a progressive system: their outlets, what each outlet feeds. Pure functions on a system's body.
import { addPoint, freeName } from './walk.js';

const FIRST_OUTLETS = ['O1', 'O2', 'O3', 'O4'];

/** A block at a node with as many outlets as the last one, each feeding a point. */
export function addBlock(body, node) {
  const last = body.devices.at(-1);
  const outlets = (last?.outlets ?? FIRST_OUTLETS.map((id) => ({ id }))).map(({ joined_to: closed, ...outlet }) => outlet);
  const block = { ...(last?.fires_bar ? { fires_bar: last.fires_bar } : {}), id: freeName(body.devices, 'B'), at: node, outlets };
  body.devices.push(block);
  for (const { id } of outlets) addPoint(body, block.id, { outlet: id });
}

/** One more outlet like the last one, feeding a point. */
export function addOutlet(body, block) {
  block.outlets ??= [];
  const id = freeName(block.outlets, 'O');
  const { joined_to: closed, ...last } = block.outlets.at(-1) ?? {};
  block.outlets.push({ ...last, id });
  addPoint(body, block.id, { outlet: id });
}

/** Take an outlet away, with its point and with what was joined to it or hung on it. */
export function removeOutlet(body, block, id) {
  setFeeds(body, block, id, '');
  block.outlets = block.outlets.filter((outlet) => outlet.id !== id);
  for (const outlet of block.outlets) if (outlet.joined_to === id) delete outlet.joined_to;
  const hung = hangingOn(body, block, id);
  if (hung) delete hung.hangs_from;
}

/** The block that hangs on an outlet. */
export function hangingOn(body, block, id) {
  return body.devices.find(({ hangs_from: above }) => above?.block === block.id && above.outlet === id);
}

/** Index of the point on an outlet, -1 where there is none. */
export function pointOn(body, block, id) {
  return body.points.findIndex((point) => point.device === block.id && point.outlet === id);
}

/** What an outlet does: 'point', the outlet it is joined to, or ''. */
export function feeds(body, block, { id, joined_to: other }) {
  return other ?? (pointOn(body, block, id) < 0 ? '' : 'point');
}

/** Let an outlet feed a point ('point'), hand its output to another outlet of its block, or feed nothing (''). */
export function setFeeds(body, block, id, what) {
  const outlet = block.outlets.find((one) => one.id === id);
  delete outlet.joined_to;
  const index = pointOn(body, block, id);
  if (what === 'point') {
    if (index < 0) addPoint(body, block.id, { outlet: id });
    return;
  }
  if (index >= 0) body.points.splice(index, 1);
  if (what) outlet.joined_to = what;
}

/** Outlets of other blocks on which a block may hang: [[value, text]]. */
export function places(body, block) {
  return body.devices.filter((other) => other !== block).flatMap((other) => (other.outlets ?? [])
    .filter(({ id, joined_to: closed }) => !closed && [undefined, block].includes(hangingOn(body, other, id)))
    .map(({ id }) => [`${other.id} ${id}`, `Block ${other.id}, outlet ${id}`]));
}

/** Hang a block on an outlet ("B1 O3"), which then feeds no point; '' makes it the first block. */
export function hang(body, block, text) {
  if (!text) { delete block.hangs_from; return; }
  const [other, outlet] = text.split(' ');
  setFeeds(body, body.devices.find((one) => one.id === other), outlet, '');
  block.hangs_from = { block: other, outlet };
}
