// run.js: the large buttons of a timed run, and the table of runs.
import { html, nothing } from '/static/vendor/lit-html/lit-html.js';

const NEXT = { first: 'Switch tripped', second: 'Second switch tripped', rest: 'Back at rest' };
const TITLES = { first: 'Pressure is building', second: 'Waiting for the second switch', rest: 'Venting' };

/** Which mark comes next in a run, null when all are there. */
export function nextMark(run, two) {
  return ['first', ...(two ? ['second'] : []), 'rest'].find((name) => !(name in run.marks)) ?? null;
}

/** What happens now, in words. */
export function runTitle(run, two) {
  return TITLES[nextMark(run, two)];
}

/** The running stopwatch: seconds large, the next mark as one very large button. */
export function runningView(seconds, run, two, { onMark, onStop, resumed, expected }) {
  const next = nextMark(run, two);
  return html`<p class="seconds" role="timer" aria-live="off"><span>${seconds.toFixed(1)}</span> <small>s</small></p>
    <p class="expected">${expected ?? ''}${resumed ? ' By the wall clock alone: the phone slept or was restarted.' : ''}</p>
    <p><button class="main huge" @click=${() => onMark(next)}>${NEXT[next]}</button></p>
    <p><button class="wide" @click=${onStop}>Stop, this run does not count</button></p>
    <p class="small">Keep hands off hoses and fittings under pressure.</p>`;
}

/** The runs so far; `onToggle` decides whether one counts. */
export function runsTable(runs, two, onToggle) {
  if (!runs.length) return nothing;
  return html`<h2>Runs</h2><div class="scroll"><table><thead><tr><th>Run</th><th>To trip</th>${two ? html`<th>Second</th>` : nothing}<th>To rest</th><th>Counts</th></tr></thead>
    <tbody>${runs.map((run, index) => html`<tr><th scope="row">${index + 1}</th><td>${run.build_s.toFixed(1)} s</td>
      ${two ? html`<td>${run.second_s?.toFixed(1) ?? '–'} s</td>` : nothing}<td>${run.vent_s?.toFixed(1) ?? '–'} s</td>
      <td><label class="check"><input type="checkbox" aria-label="Run ${index + 1} counts" .checked=${run.counts !== false} @change=${() => onToggle(index)}></label></td></tr>`)}</tbody></table></div>`;
}
