// record.js: a refill or a note, typed into the fields of its kind and kept as a record of its own.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { draft as readDraft, get, keepDraft, newId, save, timeHere } from '../documents.js';
import { ask } from '../engine.js';
import { Form, loadKinds } from '../form.js';
import { go } from '../go.js';
import { current } from '../session.js';
import { field } from '../views/fields.js';

const BEFORE = {
  refill: 'Clean around the fill port first: dirt at filling is where much trouble begins. Fill in only what the settings sheet names; greases that do not go together can stop a line.',
};

class NewRecord {
  constructor(id, kind, screen) { Object.assign(this, { id, kind, screen, key: `add/${kind}:${id}`, findings: [], lost: '' }); }

  async load() {
    this.held = await get(this.id);
    if (!this.held) { await go(`/app/systems/${this.id}`, { replace: true }); return false; }
    this.name = (await loadKinds()).get(this.kind).name;
    this.draft = (await readDraft(this.key)) ?? { body: { id: newId() } };
    this.form = await Form.of(this.draft, this.kind);
    await this.check();
    return true;
  }

  /** The whole record as it would be kept now. */
  record() {
    return { ...this.draft.body, format: `${this.kind}/1`, system: this.id, system_revision: this.held.revision, made_at: timeHere(), made_by: current().name };
  }

  async check() {
    ({ findings: this.findings } = await ask({ do: 'check', document: this.record() }));
  }

  changed = async () => {
    this.keeping = keepDraft(this.key, this.draft).then(() => { this.lost = ''; }, () => { this.lost = 'This phone could not keep what was typed. Free some space before you go on.'; });
    await Promise.all([this.keeping, this.check()]);
    this.show();
  };

  async save() {
    await this.keeping;
    const record = this.record();
    await save(this.kind, record.id, record, { dropDraft: this.key });
    await go(`/app/systems/${this.id}`);
  }

  show() {
    const wrong = new Map(this.findings.filter(({ id }) => id !== 'check.missing').map((one) => [one.where, `${one.says} ${one.do}`]));
    this.screen.show({
      above: this.held.body.name, title: this.name, tab: 'Systems', busy: true, state: this.lost || 'draft',
      body: html`${BEFORE[this.kind] ? html`<p class="notice">${BEFORE[this.kind]}</p>` : nothing}
        ${[...this.form.fields.keys()].map((path) => field(this.form, path, wrong, this.changed))}`,
      foot: html`<button class="main" ?disabled=${this.findings.length > 0 || this.form.errors.size > 0} @click=${() => this.save()}>Keep it</button>`,
    });
  }
}

export async function open({ id, kind }, screen) {
  const page = new NewRecord(id, kind, screen);
  if (!(await page.load())) return null;
  page.show();
  return async () => { await page.keeping; };
}
