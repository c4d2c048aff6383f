// edit.js: a system's form in five parts; a draft is kept at every change, figures follow while typing.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { guard } from '../../vendor/lit-html/directives/guard.js';
import * as blocks from '../blocks.js';
import { draft as readDraft, dropDraft, get, keepDraft, keepSaid, said, save } from '../documents.js';
import { ask, units } from '../engine.js';
import { Form, SIMPLE, loadKinds, partOf, stillSaid } from '../form.js';
import { go } from '../go.js';
import { field } from '../views/fields.js';
import { needFields } from '../views/need.js';
import { verdicts } from '../views/verdict.js';
import { walkView } from '../views/walk.js';
import * as walk from '../walk.js';
import { keepOutline, lastOutline } from '../worked.js';

const PARTS = [['machine', 'Machine and points'], ['lubricant', 'Grease and temperatures'], ['line', 'Pump and pipe'],
  ['sensing', 'Switches and controller'], ['wiring', 'Wiring']];
const NOT_HERE = ['id', 'baseline_run', 'controller.wording', 'controller.order', 'controller.shown_in'];
/** Deeds after which things stand at other places than they did. */
const SHIFTING = ['remove', 'remove point', 'remove outlet', 'feeds', 'hang', 'nearer', 'farther'];

class Editor {
  constructor(id, part, screen) {
    Object.assign(this, {
      id,
      part,
      screen,
      open: null,
      branching: false,
      undo: null,
      whole: false,
      findings: [],
      answer: null,
      turn: 0,
      lost: '',
      touched: false,
      dropping: false,
    });
  }

  async load() {
    const [kinds, held, kept, last, texts, reader] = await Promise.all([
      loadKinds(), get(this.id), readDraft(`edit:${this.id}`), lastOutline(this.id), said(this.id), units()]);
    Object.assign(this, { catalogue: kinds.get('system').fields, last, saved: Boolean(held), touched: Boolean(kept) });
    this.draft = kept ?? { body: structuredClone(held?.body ?? null), from: held?.revision, ...stillSaid(held?.body ?? {}, texts, reader) };
    if (!this.draft.body) { await go('/app/systems/new', { replace: true }); return false; }
    this.form = await Form.of(this.draft);
    walk.prepare(this.form.body);
    this.draft.at ??= walk.farEnd(this.form.body);
    return true;
  }

  changed = () => {
    this.touched = true;
    this.keeping = keepDraft(`edit:${this.id}`, this.draft).then(() => { this.lost = ''; }, () => {
      this.lost = 'This phone could not keep the last change. Free some space before you walk on.';
      this.show();
    });
    this.work();
    this.show();
  };

  /** Figures for what is there now, those at the foot first, then what it all means; an older answer never replaces a newer one. */
  async work() {
    const turn = ++this.turn;
    const request = { document: this.form.body, units: this.form.units, detail: false };
    const body = JSON.stringify(request.document);
    const outline = await ask({ ...request, do: 'outline' });
    if (turn !== this.turn) return;
    this.answered(outline);
    performance.mark('figures worked');
    if (!this.answer) return;
    keepOutline(this.id, body, request.units, outline).catch(() => null); // what cannot be kept is worked again
    const worked = await ask({ ...request, do: 'work', simulate: false });
    if (turn !== this.turn) return;
    this.findings = worked.findings;
    this.form.worked = worked;
    this.show();
  }

  answered(outline) {
    this.answer = outline.interval ? outline : null;
    if (!this.answer || !this.form.worked) this.findings = outline.findings;
    if (!this.answer) this.form.worked = null;
    this.show();
    performance.mark('figures shown');
  }

  /** The page comes in two strokes, figures and parts before the long form; the last figures stand until the engine runs. */
  async begin() {
    const { last } = this;
    if (last?.units === this.form.units && last.body === JSON.stringify(this.form.body)) this.answered(last.outline);
    const figures = this.work(); // asked before the form is drawn: the engine works meanwhile
    this.show();
    await firstPaint();
    this.whole = true;
    this.show();
    await figures;
  }

  errors() {
    return new Map(this.findings.filter((one) => one.severity === 'stop').map((one) => [one.where, `${one.says} ${one.do}`]));
  }

  openCount(part) {
    const wrong = [...this.form.errors.keys()].filter((place) => partOf(place) === part).length;
    return wrong + (this.answer ? 0 : this.findings.filter((one) => one.severity === 'stop' && partOf(one.where) === part).length);
  }

  act = (what, thing) => {
    const { body } = this.form;
    this.undo = what.startsWith('remove') ? structuredClone(this.draft) : what === 'undo' ? this.undo : null;
    const opened = (kind, list) => { this.open = `${kind}:${body[list].length - 1}`; };
    const deeds = {
      open: () => {
        this.open = thing;
      },
      close: () => {
        this.open = null;
      },
      branching: () => {
        this.branching = true;
      },
      'branch from': () => {
        this.branching = false;
        this.draft.at = thing;
      },
      pipe: () => {
        this.draft.at = walk.addPipe(body, this.draft.at);
        opened('pipe', 'sections');
      },
      device: () => {
        (body.kind === 'progressive' ? blocks.addBlock : walk.addDevice)(body, this.draft.at);
        opened('device', 'devices');
      },
      switch: () => {
        walk.addSwitch(body, this.draft.at);
        opened('switch', 'switches');
      },
      'add point': () => walk.addPoint(body, thing, body.kind === 'dual-line' ? { side: 'A' } : {}),
      'add outlet': () => blocks.addOutlet(body, thing),
      'remove outlet': () => blocks.removeOutlet(body, ...thing),
      feeds: () => blocks.setFeeds(body, ...thing),
      hang: () => blocks.hang(body, ...thing),
      counts: () => {
        const [index, block] = thing;
        body.switches[index].counts = block;
      },
      'remove point': () => walk.removePoint(body, thing),
      nearer: () => walk.move(body, thing, -1),
      farther: () => walk.move(body, thing, 1),
      remove: () => {
        walk.remove(body, thing);
        this.open = null;
      },
      undo: () => {
        Object.assign(this.draft, this.undo);
        this.form.readAll();
        this.undo = null;
      },
    };
    if (SHIFTING.includes(what)) this.form.shift(deeds[what]); else deeds[what]();
    if (!walk.places(this.form.body).some(({ node }) => node === this.draft.at)) this.draft.at = 'pump';
    this.changed();
  };

  /** Leave the form without what was changed in it. */
  drop = async () => {
    await this.keeping;
    await dropDraft(`edit:${this.id}`);
    await go(this.saved ? `/app/systems/${this.id}` : '/app/systems', { replace: true });
  };

  dropView() {
    if (!this.touched) return nothing;
    const sure = (dropping) => () => { this.dropping = dropping; this.show(); };
    if (!this.dropping) return html`<p><button class="quiet" @click=${sure(true)}>Drop what was changed…</button></p>`;
    return html`<div class="notice"><p>${this.saved ? 'All that was changed here since it was last saved goes.' : 'All that was entered here goes.'} It cannot be brought back.</p>
      <div class="buttons"><button @click=${this.drop}>Drop it</button><button @click=${sure(false)}>Keep it</button></div></div>`;
  }

  async save() {
    await this.keeping;
    try {
      await keepSaid(this.id, this.form.said());
      await save('system', this.id, this.form.body, { from: this.draft.from, dropDraft: `edit:${this.id}` });
      await go(`/app/systems/${this.id}`);
    } catch (error) {
      this.lost = `This phone could not save it (${error.message}). Nothing is lost while this page stays open.`;
      this.show();
    }
  }

  fields() {
    const errors = this.errors();
    const groups = [];
    for (const entry of this.catalogue.values()) {
      if (
        entry.part !== this.part ||
        !this.form.applies(entry.path) ||
        NOT_HERE.includes(entry.path) ||
        entry.path.includes('[]') ||
        entry.path.startsWith('measured')
      )
        continue;
      if (entry.kind === 'group') groups.push(html`<h2>${entry.label}</h2>`);
      if (entry.kind === 'ranges') groups.push(this.ranges(entry, errors));
      if (SIMPLE.includes(entry.kind)) groups.push(field(this.form, entry.path, errors, this.changed));
    }
    return groups;
  }

  ranges(entry, errors) {
    const value = entry.path.split('.').reduce((thing, step) => thing?.[step], this.form.body);
    const places = Array.isArray(value) ? value.map((_, number) => `${entry.path}[${number}]`) : [entry.path];
    return html`<h3>${entry.label}: what the controller accepts</h3>
      ${places.map((place) => ['min_s', 'max_s', 'step_s'].map((one) => field(this.form, `${place}.${one}`, errors, this.changed)))}`;
  }

  walking() {
    const { body } = this.form;
    const state = { open: this.open, at: this.draft.at, branching: this.branching, places: walk.places(body), undo: this.undo };
    const errors = this.errors();
    return html`<h2>Walk the line</h2>${guard(this.walked(state, errors), () => walkView(this.form, walk.entries(body), state, errors, this.changed, this.act))}`;
  }

  /** Everything that the walk shows: drawn anew only when some of it changed, since a key in another field changes none. */
  walked({ open, at, branching, undo }, errors) {
    const { body, draft, units } = this.form;
    const along = ([place]) => /^(sections|devices|points|switches)\b/.test(place);
    return [JSON.stringify([body.kind, body.sections, body.devices, body.points, body.switches, units, open, at, branching, Boolean(undo),
      ...[Object.entries(draft.typed), Object.entries(draft.chosen), [...this.form.errors], [...errors]].map((one) => one.filter(along))])];
  }

  /** One bore more, or the one at `index` taken away. */
  price(index = null) {
    this.form.shift(() => {
      const choices = (this.form.body.choices ??= {});
      choices.pipe_prices ??= [];
      if (index === null) choices.pipe_prices.push({}); else choices.pipe_prices.splice(index, 1);
      if (!choices.pipe_prices.length) delete choices.pipe_prices;
    });
    this.changed();
  }

  prices() {
    const errors = this.errors();
    return html`<h2>Pipe that can be bought</h2><p class="small">For the drawing board: bores to choose from, and what they cost. May stay empty.</p>
      ${(this.form.body.choices?.pipe_prices ?? []).map((_, index) => html`
        ${['bore_mm', 'price_per_m'].map((one) => field(this.form, `choices.pipe_prices[${index}].${one}`, errors, this.changed))}
        <p><button class="quiet" @click=${() => this.price(index)}>Take this bore away</button></p>`)}
      <p><button @click=${() => this.price()}>One more bore</button></p>`;
  }

  points() {
    const { points } = this.form.body;
    if (!points.length) return html`<h2>Lubrication points</h2><p>Points are entered while walking the line, under <a href="/app/systems/${this.id}/edit/line">Pump and pipe</a>.</p>`;
    return html`<h2>Lubrication points</h2>${points.map((point, index) => html`<details><summary class="check">${point.name || `Point ${index + 1}`}</summary>
      ${field(this.form, `points[${index}].name`, this.errors(), this.changed)}
      ${this.form.body.kind === 'dual-line' ? field(this.form, `points[${index}].side`, this.errors(), this.changed) : nothing}${needFields(this.form, index, this.errors(), this.changed)}</details>`)}`;
  }

  body() {
    return html`${this.fields()}${this.part === 'line' ? html`${this.walking()}${this.prices()}` : nothing}${this.part === 'machine' ? this.points() : nothing}`;
  }

  foot() {
    const open = PARTS.reduce((sum, [part]) => sum + this.openCount(part), 0);
    const stops = this.findings.filter((one) => one.severity === 'stop').length;
    const known = this.answer && !this.form.errors.size; // figures of what was there before say nothing of what cannot be read
    const { time_frictionless: builds, cycle_time: cycle } = this.answer?.build ?? {};
    return html`<div class="answer" aria-live="polite"><span>${known ? `${cycle ? 'Cycle' : 'Build-up'}, pause` : `${open} still to enter`}</span>
      <span class="value">${known ? `${(cycle ?? builds).shown}, ${this.answer.interval.pause.shown}` : ''}</span></div>
      <button class="main" ?disabled=${!known} @click=${() => this.save()}>
        ${known ? (stops ? `Save with ${stops} to stop for` : 'Save') : 'Save when all is entered'}</button>`;
  }

  show() {
    const name = this.form.body.name || 'New system';
    const number = PARTS.findIndex(([part]) => part === this.part);
    this.screen.show({
      above: `${name} · ${number + 1} of ${PARTS.length}`, title: PARTS[number][1], tab: 'Systems', busy: true,
      state: this.lost || 'draft',
      body: html`${this.lost ? html`<p class="field-error" role="alert">${this.lost}</p>` : nothing}
        <nav class="parts" aria-label="Parts of the form">${PARTS.map(([part, title]) => {
          const open = this.openCount(part);
          return html`<a href="/app/systems/${this.id}/edit/${part}" aria-current=${part === this.part ? 'step' : nothing}>
            <span>${title}</span><small>${open ? `${open} to enter` : 'complete'}</small></a>`;
        })}</nav>
        ${this.whole ? this.body() : nothing}
        ${this.form.worked ? html`<h2>What it means so far</h2>${verdicts(this.findings)}` : nothing}
        ${this.whole ? this.dropView() : nothing}`,
      foot: this.foot(),
    });
  }
}

/** After the next frame, or soon where no frame comes (a page in the background draws none). */
function firstPaint() {
  return new Promise((goOn) => { requestAnimationFrame(goOn); setTimeout(goOn, 100); });
}

export async function open({ id, part }, screen) {
  const editor = new Editor(id, part, screen);
  if (!(await editor.load())) return null;
  await editor.begin();
  const flush = () => (editor.touched ? keepDraft(`edit:${id}`, editor.draft) : null);
  window.addEventListener('pagehide', flush);
  return async () => { window.removeEventListener('pagehide', flush); await editor.keeping; };
}
