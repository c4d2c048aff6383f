// sign-off.js: a statement, a signature drawn with a finger where one is wanted, and who signs.
import { html, nothing, svg } from '../../vendor/lit-html/lit-html.js';

const ALL = 'I looked at each item myself; the answers are what I found.';
const TOGETHER = 'We walked it together; each answer names who gave it.';
const PART = 'What is answered here I looked at myself; what was not done has its reason.';
const STATEMENTS = [ALL, TOGETHER, PART];

/** The statement that fits these answers; what somebody put in words of their own before stays. */
export function fitting(answers, before = ALL) {
  if (!STATEMENTS.includes(before)) return before;
  if (new Set(answers.map(({ by }) => by)).size > 1) return TOGETHER;
  return answers.some(({ answer }) => answer === 'not done') ? PART : ALL;
}

const [WIDE, HIGH, NEAR, LONGEST, MOST] = [300, 100, 2, 280, 150];

/** A drawn signature: `drawn` are paths of at most 300 letters. */
export function signature(drawn) {
  return drawn?.length ? html`<svg class="signature" viewBox="0 0 ${WIDE} ${HIGH}" role="img" aria-label="Signature">${drawn.map((path) => svg`<path d=${path}/>`)}</svg>` : nothing;
}

/** Strokes as a finger draws them. `changed(whole)`: redraw; whole: a stroke ended, keep it. */
function pen(drawn, changed) {
  let at = null;
  const place = ({ currentTarget, clientX, clientY }) => {
    const box = currentTarget.getBoundingClientRect();
    return [Math.round(((clientX - box.left) / box.width) * WIDE), Math.round(((clientY - box.top) / box.height) * HIGH)];
  };
  return {
    down(event) {
      if (drawn.length >= MOST) return;
      event.currentTarget.setPointerCapture(event.pointerId);
      at = place(event);
      drawn.push(`M${at[0]} ${at[1]}l0 0`);
      changed(false);
    },
    move(event) {
      if (!at) return;
      const to = place(event);
      if (Math.hypot(to[0] - at[0], to[1] - at[1]) < NEAR) return;
      if (drawn.at(-1).length > LONGEST && drawn.length < MOST) drawn.push(`M${at[0]} ${at[1]}`);
      if (drawn.at(-1).length <= LONGEST) drawn[drawn.length - 1] += `L${to[0]} ${to[1]}`;
      at = to;
      changed(false);
    },
    up() { if (at) { at = null; changed(true); } },
  };
}

/** The sheet. `signing`: {statement, drawn}; `change(whole)` draws it anew and, when whole, keeps it. */
export class SignOff {
  constructor(signing, change) {
    Object.assign(this, { signing, change });
    this.pen = pen(signing.drawn, change);
  }

  say = (text) => { this.signing.statement = text; this.change(true); };

  clear = () => { this.signing.drawn.length = 0; this.change(true); };

  view({ name, role }) {
    const { statement, drawn } = this.signing;
    return html`<fieldset class="field"><legend>Statement</legend>${STATEMENTS.map((text) => html`
        <label class="check"><input type="radio" name="statement" .checked=${text === statement} @change=${() => this.say(text)}> ${text}</label>`)}
        <label for="statement">Or in your own words</label><textarea id="statement" rows="2" maxlength="300"
          .value=${STATEMENTS.includes(statement) ? '' : statement} @input=${(event) => this.say(event.target.value)}></textarea></fieldset>
      <div class="field"><p id="sign-here"><strong>Signature</strong> <small>(may stay empty)</small></p>
        <svg class="signature pad" viewBox="0 0 ${WIDE} ${HIGH}" role="img" aria-labelledby="sign-here" @pointerdown=${this.pen.down} @pointermove=${this.pen.move} @pointerup=${this.pen.up}
          @pointercancel=${this.pen.up}>${drawn.map((path) => svg`<path d=${path}/>`)}</svg>
        ${drawn.length ? html`<button class="quiet" @click=${this.clear}>Clear the signature</button>` : nothing}</div>
      <p>Signed by <strong>${name}</strong>, ${role}.</p>`;
  }

  /** {by, at, role, statement, drawn} as it is kept. */
  signed({ name, role }, at) {
    return {
      by: name,
      at,
      role,
      statement: this.signing.statement.trim(),
      ...(this.signing.drawn.length ? { drawn: this.signing.drawn } : {}),
    };
  }
}
