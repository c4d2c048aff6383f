// walk.js: the line as one walks it: pipes, devices with their points, switches. Pure functions on a system's body.

const PUMP = 'pump';

/** A name that no thing has yet: a letter and a number. */
export function freeName(things, letter, key = 'id') {
  const names = new Set(things.map((thing) => thing[key]));
  let number = things.length + 1;
  while (names.has(letter + number)) number += 1;
  return letter + number;
}

const nodes = (body) => [PUMP, ...body.sections.map((section) => section.to)];

/** What the form needs to be there. */
export function prepare(body) {
  for (const list of ['sections', 'devices', 'points', 'switches']) body[list] ??= [];
}

/** Where the walk goes on: the end of the pipe that was entered last. */
export const farEnd = (body) => body.sections?.at(-1)?.to ?? PUMP;

/** Entries in walking order: {kind: 'pipe'|'device'|'switch', index, node, branch}. Unconnected things come last. */
export function entries(body) {
  const out = [];
  const seen = new Set();
  const at = (node, branch) => {
    for (const kind of body.kind === 'time-only' ? ['device'] : ['device', 'switch']) {
      body[kind === 'device' ? 'devices' : 'switches'].forEach((thing, index) => {
        if (thing.at === node) out.push({ kind, index, node, branch });
      });
    }
  };
  const stack = [{ node: PUMP, branch: false }];
  while (stack.length) {
    const { node, branch, index } = stack.pop();
    if (seen.has(node)) continue;
    seen.add(node);
    if (index !== undefined) out.push({ kind: 'pipe', index, node, branch });
    at(node, branch);
    const from = body.sections.map((section, number) => ({ section, number })).filter(({ section }) => section.from === node);
    from.reverse().forEach(({ section, number }, place) => {
      stack.push({ node: section.to, index: number, branch: branch || place < from.length - 1 });
    });
  }
  body.sections.forEach((section, index) => {
    if (!seen.has(section.to)) out.push({ kind: 'pipe', index, node: section.to, branch: false });
  });
  return out;
}

/** Points of a device with their places in the list. */
export function pointsOf(body, deviceId) {
  return body.points.map((point, index) => ({ point, index })).filter(({ point }) => point.device === deviceId);
}

/** More pipe from a node, like the last one; returns its end. */
export function addPipe(body, from) {
  const last = body.sections.at(-1);
  const to = freeName(body.sections, 'N', 'to');
  body.sections.push({ ...structuredClone(last ?? { wall: 'steel' }), id: freeName(body.sections, 'S'), from, to });
  return to;
}

/** A device at a node, like the last one, with as many points, each needing what the last point needs. */
export function addDevice(body, node) {
  const last = body.devices.at(-1);
  const device = { ...(last ?? { stroke_s: 1 }), id: freeName(body.devices, 'D'), at: node };
  body.devices.push(device);
  const sides = last ? pointsOf(body, last.id).map(({ point }) => point.side) : ['A', 'B'].slice(body.kind === 'dual-line' ? 0 : 1);
  for (const side of sides.length ? sides : ['A']) addPoint(body, device.id, body.kind === 'dual-line' ? { side: side ?? 'A' } : {});
  return device;
}

/** One more point on a device; `more`: its outlet or side. */
export function addPoint(body, deviceId, more = {}) {
  const last = body.points.at(-1);
  const id = freeName(body.points, 'P');
  body.points.push({ id, name: `Point ${id.slice(1)}`, device: deviceId, ...more, need: structuredClone(last?.need ?? { method: 'stated' }) });
}

/** A switch at a node, like the last one. */
export function addSwitch(body, node) {
  const last = body.switches.at(-1);
  const counts = body.kind === 'progressive';
  body.switches.push({ ...(last ?? { contact: 'normally open' }), id: freeName(body.switches, counts ? 'CS' : 'PS'), at: node,
    ...(counts ? { counts: body.devices[0]?.id } : {}) });
}

/** Take an entry away; what hung on a pipe's end moves to its start. */
export function remove(body, { kind, index }) {
  if (kind === 'device') {
    const [device] = body.devices.splice(index, 1);
    body.points = body.points.filter((point) => point.device !== device.id);
    for (const other of body.devices) if (other.hangs_from?.block === device.id) delete other.hangs_from;
  } else if (kind === 'switch') {
    body.switches.splice(index, 1);
  } else {
    const [section] = body.sections.splice(index, 1);
    for (const other of body.sections) if (other.from === section.to) other.from = section.from;
    for (const thing of [...body.devices, ...body.switches]) if (thing.at === section.to) thing.at = section.from;
  }
}

/** Take one point away. */
export function removePoint(body, index) {
  body.points.splice(index, 1);
}

/** Move a device or switch to the next place nearer the pump (-1) or farther (+1); a pipe changes places with its neighbour. */
export function move(body, { kind, index }, direction) {
  if (kind === 'pipe') {
    const { sections } = body;
    const mine = sections[index];
    const other =
      direction < 0 ? sections.find((section) => section.to === mine.from) : sections.find((section) => section.from === mine.to);
    if (!other) return;
    const place = sections.indexOf(other);
    for (const field of ['from', 'to']) [mine[field], other[field]] = [other[field], mine[field]];
    [sections[index], sections[place]] = [other, mine];
    return;
  }
  const thing = (kind === 'device' ? body.devices : body.switches)[index];
  const way = nodes(body);
  const place = way.indexOf(thing.at) + direction;
  if (place >= 0 && place < way.length) thing.at = way[place];
}

/** Names of places for "branch from": the pump, and every node with what is there. */
export function places(body) {
  return nodes(body).map((node) => {
    const there = [...body.devices.filter((one) => one.at === node).map((one) => pointsOf(body, one.id)[0]?.point.name ?? one.id),
      ...body.switches.filter((one) => one.at === node).map((one) => one.id)];
    return { node, name: node === PUMP ? 'Pump' : there.join(', ') || `The end of pipe ${body.sections.find(({ to }) => to === node).id}` };
  });
}
