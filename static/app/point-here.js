// point-here.js: one point of a system, as its label names it: where it is, the last answers and the open defects that concern it.
import { defectsOf } from './defects.js';
import { lastAnswers } from './documents.js';

/** Metres of pipe from the pump to a node. */
function pipeTo(sections, node) {
  let metres = 0;
  for (let at = node, left = sections.length; left >= 0 && at !== 'pump'; left -= 1) {
    const pipe = sections.find(({ to }) => to === at);
    if (!pipe) return null;
    metres += pipe.length_m;
    at = pipe.from;
  }
  return metres;
}

/** {point, device, metres, answers, defects} of a point of a saved system, or null where it has none of that id; `metres`: null without a pipe to it. */
export async function pointHere({ document, body }, id) {
  const point = body.points.find((one) => one.id === id);
  if (!point) return null;
  const device = body.devices.find((one) => one.id === point.device);
  const [answers, { open }] = await Promise.all([lastAnswers(document), defectsOf(document)]);
  const mine = new Set([`point:${id}`, ...(device ? [`device:${device.id}`] : [])]);
  return { point, device, metres: device && pipeTo(body.sections, device.at),
    answers: Object.values(answers).filter(({ component, place }) => mine.has(`${component}:${place}`)),
    defects: open.filter(({ held }) => held.body.points?.includes(id)) };
}
