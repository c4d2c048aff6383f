// round.js: walking a round along the line, alone or with others: one item in focus, one tap for ok, everything kept at once.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { repeat } from '../../vendor/lit-html/directives/repeat.js';
import { dueToday, itemsOfRound, planOf } from '../checklist.js';
import {
  draft as readDraft,
  dropDraft,
  get,
  keepDraft,
  lastAnswers,
  list,
  newId,
  onChange,
  roundsUnderWay,
  save,
  timeHere,
} from '../documents.js';
import { units } from '../engine.js';
import { go } from '../go.js';
import { RoundPhotos } from '../round-photos.js';
import { answersOf, corrected, isAsked, isBad, itemsOf, joined, same, takeOver, unsaved } from '../rounds.js';
import { current } from '../session.js';
import { settle } from '../settle.js';
import { loadUnits, preferred, read } from '../units.js';
import { answerText, defectOf, itemView } from '../views/round-item.js';
import { choiceView, headView, lateView, restView, sheetView } from '../views/round-parts.js';
import { SignOff, fitting } from '../views/sign-off.js';

// so many answers are on their way to the others before one taps for it
const MOST_UNSAVED = 10;
const rank = (item) => (item.was_not_ok ? 0 : item.due && item.every !== 'round' ? 1 : 2);

class Round {
  constructor(id, screen) {
    Object.assign(this, {
      id,
      screen,
      error: '',
      lost: '',
      others: [],
      doc: null,
      reason: '',
      over: false,
      photos: new RoundPhotos(this),
    });
  }

  async load() {
    this.held = await get(this.id);
    if (!this.held) { await go(`/app/systems/${this.id}`, { replace: true }); return false; }
    const [draft, items] = this.keys = [`round:${this.id}`, `items:round:${this.id}`];
    [this.units, this.before, this.plan, this.draft, this.items] = await Promise.all([units(), lastAnswers(this.id), planOf(this.id), readDraft(draft), readDraft(items), loadUnits()]);
    this.me = current().name;
    if (this.draft) {
      this.items = this.draft.items ?? this.items ?? (await this.list());
      this.draft = { raise: {}, shared: null, ...this.draft, head: this.draft.head ?? this.head() };
      await this.meet();
      for (const { body } of await list('defect', this.id)) if (body.from_record === this.draft.id) delete this.draft.raise[body.from_item];
    } else {
      const open = Object.entries(await roundsUnderWay()).filter(([, { system }]) => system === this.id);
      this.others = (await Promise.all(open.map(([document]) => get(document)))).filter(Boolean);
      if (!this.others.length) await this.begin();
    }
    return true;
  }

  head() {
    return {
      system_revision: this.held.revision,
      made_by: this.me,
      begun_at: this.draft?.begun ?? timeHere(),
      ...(this.plan ? { checklist_revision: this.plan.revision } : {}),
    };
  }

  async list() { return dueToday(await itemsOfRound(this.held, this.plan)).filter((item) => !item.left_out); }

  /** A new round, or one of others to go on in. */
  begin = async (shared = null) => {
    const list = await this.list();
    const { body } = shared ?? {};
    this.items = shared ? joined(body, list) : list;
    this.draft = {
      id: shared?.document ?? newId(),
      answers: shared ? answersOf(body) : {},
      typed: {},
      why: {},
      asking: null,
      raise: {},
      note: '',
      shared: shared && { from: shared.revision, base: answersOf(body) },
      head: shared
        ? {
            system_revision: body.system_revision,
            made_by: body.made_by,
            begun_at: body.begun_at,
            checklist_revision: body.checklist_revision,
          }
        : this.head(),
    };
    this.doc = shared;
    this.others = [];
    this.listKept = this.keepList();
    if (shared) await this.keep();
  };

  start = async (shared) => { await this.begin(shared); this.focusOn(); this.show(); };

  /** What came of the round on other phones meanwhile. */
  async meet() {
    this.doc = await get(this.draft.id);
    if (!this.doc || this.over) return;
    this.draft.shared ??= { from: this.doc.revision, base: answersOf(this.doc.body) };
    if (this.doc.revision === this.draft.shared.from) return;
    takeOver(this.draft, this.doc);
    await this.keep();
  }

  /** The list lies beside the draft, so that an answer is quickly on disk however long the list is. */
  keepList() { return keepDraft(this.keys[1], this.items).then(() => { this.lost = ''; }, this.notKept); }

  keep() { return Promise.all([this.listKept, keepDraft(this.keys[0], this.draft)]).then(() => { this.lost = ''; }, this.notKept); }

  notKept = (error) => { this.lost = `This phone could not keep the answer: ${error.message}. Note it before you walk on.`; };

  /** The items in the order in which they are walked now. */
  way() {
    const { items, draft: { answers, order, all } } = this;
    const shown = all ? items : items.filter((item) => isAsked(item, answers));
    return order === 'due' ? [...shown].sort((one, other) => rank(one) - rank(other)) : shown;
  }

  /** The next item without an answer that is asked for, from behind a key on. */
  focusOn(key = null) {
    const way = this.way();
    const from = way.findIndex((item) => item.key === key) + 1;
    const open = (item) => item.due !== false && !this.draft.answers[item.key]?.answer;
    this.focus = ([...way.slice(from), ...way.slice(0, from)].find(open) ?? {}).key ?? null;
  }

  answer = async (key, answer, more = {}, raise = false) => {
    const { answers } = this.draft;
    const { photos } = answers[key] ?? {};
    answers[key] = { answer, at: timeHere(), by: this.me, ...more, ...(photos ? { photos } : {}) };
    this.draft.raise[key] = raise;
    this.draft.asking = null;
    this.error = '';
    if (key.startsWith('line_temperature:') && answer === 'reading') this.warmth(more.value);
    this.focusOn(key);
    await this.keep();
    this.show();
    requestAnimationFrame(() => document.querySelector('.spine > li.now')?.scrollIntoView({ block: 'center', behavior: 'instant' }));
    if (unsaved(this.draft).length >= MOST_UNSAVED) await this.share();
  };

  /** Colder than ever: what is only looked at in the cold is due. */
  warmth(value) {
    const due = (item) => !item.due && typeof item.below_c === 'number' && value < item.below_c;
    if (!this.items.some(due)) return;
    this.items = this.items.map((item) => (due(item) ? { ...item, due: true } : item));
    this.listKept = this.keepList();
  }

  value = (item) => read(this.draft.typed[item.key] ?? '', item.unit, preferred(item.unit, this.units));

  unit = (item) => preferred(item.unit, this.units);

  /** A reading typed: outside its limit it asks at once. */
  reading = (item) => {
    let value;
    try { value = this.value(item); } catch (error) { this.error = error.message; this.show(); return; }
    if (isBad(item, { answer: 'reading', value })) this.ask(item, 'outside'); else this.answer(item.key, 'reading', { value });
  };

  ask = (item, what) => { this.draft.asking = { key: item?.key, what }; this.error = ''; this.keep(); this.show(); };

  /** Words for an answer that needs some; with `raise`, on to a defect of it, which is offered until it is raised. */
  explain = (item, raise = false) => {
    const what = this.draft.asking?.what ?? 'text';
    const note = (this.draft.why[item.key] ?? '').trim();
    if (!note && !(what === 'outside' && raise)) { this.error = 'Say it in a few words.'; this.show(); return; }
    const more = { ...(what === 'outside' ? { value: this.value(item) } : {}), ...(note ? { note } : {}) };
    return this.answer(item.key, what === 'outside' ? 'reading' : what, more, raise).then(() =>
      raise ? go(defectOf(this, item.key)) : null,
    );
  };

  /** All that is still open is not done today, for one reason. */
  leaveRest = async () => {
    const note = (this.draft.why.rest ?? '').trim();
    if (!note) { this.error = 'Say it in a few words.'; this.show(); return; }
    for (const item of this.items) {
      if (item.due !== false && !this.draft.answers[item.key]?.answer)
        this.draft.answers[item.key] = { answer: 'not done', at: timeHere(), by: this.me, note };
    }
    this.again(null);
  };

  again = (key) => { this.focus = key; this.draft.asking = null; this.error = ''; this.keep(); this.show(); };

  type = (key, text) => { this.draft.typed[key] = text; this.keep(); };

  because = (key, text) => { this.draft.why[key] = text; this.keep(); };

  set = (name, value) => { this.draft[name] = value; this.focusOn(); this.keep(); this.show(); };

  /** The round as a record: `whole` with what nobody has answered yet; the note is for whoever signs it off. */
  record(whole) {
    const { id, head, note } = this.draft;
    return {
      format: 'round/1',
      id,
      system: this.id,
      ...head,
      made_at: head.begun_at,
      ...(note && !whole ? { note } : {}),
      items: itemsOf(this.items, this.draft.answers, whole),
    };
  }

  /** Save the round for the others who walk it. */
  share = async () => {
    const { draft } = this;
    const base = structuredClone(draft.answers);
    try {
      const revision = await save('round', draft.id, this.record(true), { from: draft.shared?.from });
      draft.shared = { from: revision.id, base };
      await this.keep();
    } catch (error) { this.notKept(error); }
    this.show();
  };

  settle = (side) => settle(this.doc, side);

  /** Answers of this phone that came too late become a correction. */
  addLate = async () => {
    const reason = this.reason.trim();
    if (!reason) { this.error = 'Say why in a few words.'; this.show(); return; }
    const late = this.late();
    const { body, revision } = this.doc.server ?? this.doc;
    const known = new Set(body.items.map((item) => item.id));
    const whole = { ...body, items: [...body.items, ...itemsOf(late.filter((item) => !known.has(item.key)), {}, true)] };
    const changes = Object.fromEntries(late.map(({ key }) => [key, this.draft.answers[key]]));
    this.over = true;
    await save(
      'round',
      this.draft.id,
      corrected(whole, changes, reason, this.me, timeHere(), (item) => answerText(item, item, this.unit)),
      { from: revision, reason, dropDraft: this.keys },
    );
    await go(`/app/systems/${this.id}/rounds/${this.draft.id}`);
  };

  dropLate = async () => { this.over = true; await dropDraft(this.keys[0]); await go(`/app/systems/${this.id}/rounds/${this.draft.id}`); };

  /** Items to which the round that somebody signed off has no answer of this person's, or another one. */
  late() {
    const theirs = answersOf((this.doc.server ?? this.doc).body);
    const { answers } = this.draft;
    return this.items.filter(({ key }) => answers[key]?.answer && answers[key].by === this.me && !same(answers[key], theirs[key]));
  }

  sign = async () => {
    const made = timeHere();
    const { shared, id } = this.draft;
    this.over = true; // the draft goes: nothing that comes of others meanwhile may bring it back
    try {
      await save(
        'round',
        id,
        { ...this.record(false), made_at: made, signed: this.sheet.signed(current(), made) },
        { from: shared?.from, dropDraft: this.keys },
      );
    } catch (error) {
      this.over = false;
      this.notKept(error);
      this.show();
      return;
    }
    itemsOfRound(this.held, this.plan); // so that the next round opens at once
    await go(`/app/systems/${this.id}`);
  };

  toSheet = () => {
    this.draft.signing = {
      drawn: [],
      ...this.draft.signing,
      statement: fitting(Object.values(this.draft.answers), this.draft.signing?.statement),
    };
    this.sheet = null;
    this.set('atSheet', true);
  };

  show() {
    const above = `${this.held.body.name} · round`;
    if (this.others.length) { this.screen.show({ above, title: 'A round is under way', tab: 'Systems', body: choiceView(this) }); return; }
    const over = (this.doc?.server ?? this.doc)?.body.signed;
    if (over) {
      this.screen.show({
        above,
        title: 'Signed off meanwhile',
        tab: 'Systems',
        state: this.lost || 'draft',
        body: lateView(over, this.late(), this),
      });
      return;
    }
    if (this.draft.atSheet) this.showSheet(above);
    else this.showWalk(above);
  }

  showSheet(above) {
    this.sheet ??= new SignOff(this.draft.signing, (whole) => { if (whole) this.keep(); this.show(); });
    this.screen.show({ above, title: 'Sign off', tab: 'Systems', busy: true, state: this.lost || 'draft', body: sheetView(this, current()),
      foot: html`<button class="main" ?disabled=${!this.draft.signing.statement.trim()} @click=${this.sign}>Sign off the round</button>` });
  }

  showWalk(above) {
    const { items, draft: { answers } } = this;
    const asked = items.filter((item) => isAsked(item, answers));
    const done = asked.filter((item) => answers[item.key]?.answer).length;
    this.screen.show({
      above, title: `${done} of ${asked.length}`, tab: 'Systems', busy: true, state: this.lost || 'draft',
      body: html`${headView(this, items.length - asked.length)}
        <ol class="spine round">${repeat(
          this.way(),
          (item) => item.key,
          (item) => itemView(item, answers[item.key], item.key === this.focus, this),
        )}</ol>
        ${done < asked.length ? restView(this, asked.length - done) : nothing}`,
      foot: done === asked.length && !this.doc?.clash ? html`<button class="main" @click=${this.toSheet}>Go to sign-off</button>` : nothing,
    });
  }
}

export async function open({ id }, screen) {
  const page = new Round(id, screen);
  if (!(await page.load())) return null;
  if (page.draft) page.focusOn();
  page.focus = page.draft?.asking?.key ?? page.focus;
  page.show();
  const stop = onChange(async () => {
    const held = page.draft && (await get(page.draft.id));
    if (
      !held ||
      page.over ||
      ['revision', 'waiting', 'refused', 'clash'].every((name) => JSON.stringify(held[name]) === JSON.stringify(page.doc?.[name]))
    )
      return;
    await page.meet();
    if (!page.over) page.show();
  });
  return async () => { stop(); page.photos.close(); if (page.draft && !page.over && unsaved(page.draft).length) await page.share(); };
}
