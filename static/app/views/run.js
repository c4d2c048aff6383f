// run.js: the large buttons of a timed run, the table of runs, the points looked at.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { nextMark } from '../marks.js';

/** The running stopwatch: seconds large, the next mark as one very large button. */
export function runningView(seconds, run, timed, { onMark, onStop, resumed, expected }) {
  const next = nextMark(run, timed);
  return html`<p class="seconds" role="timer" aria-live="off"><span>${seconds.toFixed(1)}</span> <small>s</small></p>
    <p class="expected">${expected ?? ''}${resumed ? ' By the wall clock alone: the phone slept or was restarted.' : ''}</p>
    <p><button class="main huge" @click=${() => onMark(next.name)}>${next.button}</button></p>
    <p><button class="wide" @click=${onStop}>Stop, this run does not count</button></p>
    <p class="small">Keep hands off hoses and fittings under pressure.</p>`;
}

/** The runs so far; `onToggle` decides whether one counts. */
export function runsTable(runs, { columns }, onToggle) {
  if (!runs.length) return nothing;
  return html`<h2>Runs</h2><div class="scroll"><table><thead><tr><th>Run</th>${columns.map(([, text]) => html`<th>${text}</th>`)}<th>Counts</th></tr></thead>
    <tbody>${runs.map((run, index) => html`<tr><th scope="row">${index + 1}</th>${columns.map(([name]) => html`<td>${run[name]?.toFixed(1) ?? '–'} s</td>`)}
      <td><label class="check"><input type="checkbox" aria-label="Run ${index + 1} counts" .checked=${run.counts !== false} @change=${() => onToggle(index)}></label></td></tr>`)}</tbody></table></div>`;
}

/** The points one by one: fed or dry. `seen`: {point id: bool}. */
export function seenView(points, seen, onSeen) {
  return html`<h2>Look at each point</h2><p class="small">Nothing confirms this system: only fresh lubricant at the point does.</p>
    <ul class="rows">${points.map(({ id, name }) => html`<li class="row"><span class="grow">${name}</span>
      <button aria-pressed=${seen[id] === true} aria-label="${name}: fed" @click=${() => onSeen(id, true)}>Fed</button>
      <button aria-pressed=${seen[id] === false} aria-label="${name}: dry" @click=${() => onSeen(id, false)}>Dry</button></li>`)}</ul>`;
}
