// photo-marks.js: marks on a photo, in shares of its width and height: their lines, and how they are moved without a pointer. Pure.

// of the picture's longer side: an arrow's head, as papers and the desk draw it (webapp/reports/photos.py)
const HEAD = 20;
const STEP = 0.03;
// what a mark shows, and what moves about it: an arrow's tip and its begin, a circle's middle and its edge
const ENDS = { arrow: ['x2', 'y2', 'x1', 'y1'], circle: ['x1', 'y1', 'x2', 'y2'] };

const within = (share, low, high) => Number(Math.min(high, Math.max(low, share)).toFixed(4));
/** A share that stays on the picture. */
export const onIt = (share) => within(share, 0, 1);
const near = (share) => within(share, -1, 2);

/** The lines of a mark on a picture of this size, as an SVG path. Arrow: 1 to its tip at 2. Circle: its middle at 1, its edge through 2. */
export function lines({ shape, x1, y1, x2, y2 }, { width, height }) {
  const [x, y, across, down] = [x1 * width, y1 * height, (x2 - x1) * width, (y2 - y1) * height];
  const long = Math.max(1, Math.hypot(across, down));
  if (shape === 'circle') return `M${x - long} ${y}a${long} ${long} 0 1 0 ${2 * long} 0a${long} ${long} 0 1 0 ${-2 * long} 0`;
  const head = Math.max(width, height) / HEAD / long;
  const [dx, dy, tipX, tipY] = [-across * head, -down * head, x + across, y + down];
  const barb = (side) => `${tipX + dx - side * dy} ${tipY + dy + side * dx}`;
  return `M${x} ${y}L${tipX} ${tipY}M${barb(0.6)}L${tipX} ${tipY}L${barb(-0.6)}`;
}

const MIDDLE = { arrow: { x1: 0.3, y1: 0.7, x2: 0.5, y2: 0.5 }, circle: { x1: 0.5, y1: 0.5, x2: 0.65, y2: 0.5 } };
/** A mark in the middle of the picture, to be moved from there. */
export const inTheMiddle = (shape) => ({ shape, ...MIDDLE[shape] });

/** A mark moved by a step; what it shows stays on the picture. */
function moved(mark, right, down) {
  const [x, y, farX, farY] = ENDS[mark.shape];
  const [toX, toY] = [onIt(mark[x] + right), onIt(mark[y] + down)];
  return { ...mark, [x]: toX, [y]: toY, [farX]: near(mark[farX] + toX - mark[x]), [farY]: near(mark[farY] + toY - mark[y]) };
}

/** A mark so many times as large, turned by an angle, about what it shows. */
function turned(mark, { width, height }, times, angle = 0) {
  const [x, y, farX, farY] = ENDS[mark.shape];
  const [across, down] = [(mark[farX] - mark[x]) * width, (mark[farY] - mark[y]) * height];
  const [cos, sin] = [times * Math.cos(angle), times * Math.sin(angle)];
  const [right, below] = [across * cos - down * sin, across * sin + down * cos];
  return { ...mark, [farX]: near(mark[x] + right / width), [farY]: near(mark[y] + below / height) };
}

/** What can be done with a mark: name, sign on its button (the name where it is none), key, and change(mark, picture's size). */
export const CHANGES = [
  ['Left', '←', 'ArrowLeft', (mark) => moved(mark, -STEP, 0)], ['Up', '↑', 'ArrowUp', (mark) => moved(mark, 0, -STEP)],
  ['Down', '↓', 'ArrowDown', (mark) => moved(mark, 0, STEP)], ['Right', '→', 'ArrowRight', (mark) => moved(mark, STEP, 0)],
  ['Larger', '', '+', (mark, size) => turned(mark, size, 1.25)], ['Smaller', '', '-', (mark, size) => turned(mark, size, 0.8)],
  ['Turn', '', '', (mark, size) => turned(mark, size, 1, Math.PI / 6)],
];

/** Where a mark is, in words. */
export function place(mark) {
  const [x, y] = ENDS[mark.shape].map((name) => `${Math.round(100 * mark[name])} %`);
  return `${mark.shape === 'arrow' ? 'Its tip' : 'Its middle'} is ${x} across and ${y} down.`;
}
