// record.js: a record that is added as it stands (a refill, a note): typed into the fields of its kind and kept.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { draft as readDraft, get, newId, save, timeHere } from '../documents.js';
import { DraftPage } from '../draft-page.js';
import { ask } from '../engine.js';
import { Form, loadKinds } from '../form.js';
import { go } from '../go.js';
import { current } from '../session.js';
import { field } from '../views/fields.js';

class NewRecord extends DraftPage {
  constructor(id, kind, screen) { super(screen, `add/${kind}:${id}`); Object.assign(this, { id, kind, findings: [] }); }

  async load() {
    this.held = await get(this.id);
    const { name, add } = (await loadKinds()).get(this.kind) ?? {};
    if (!this.held || !add) { await go(`/app/systems/${this.id}`, { replace: true }); return false; }
    Object.assign(this, { name, before: add[1] });
    this.draft = (await readDraft(this.key)) ?? { body: { id: newId() } };
    this.form = await Form.of(this.draft, this.kind);
    await this.check();
    return true;
  }

  /** The whole record as it would be kept now. */
  record() {
    const head = { format: `${this.kind}/1`, system: this.id, system_revision: this.held.revision, made_at: timeHere(), made_by: current().name };
    return { ...this.draft.body, ...head };
  }

  async check() {
    ({ findings: this.findings } = await ask({ do: 'check', document: this.record() }));
  }

  /** What was typed is in the draft already. */
  typed = async () => {
    await this.changed(() => {});
    await this.check();
    this.show();
  };

  async save() {
    await this.keeping;
    await this.check(); // of what was typed last
    if (this.findings.length) { this.show(); return; }
    const record = this.record();
    await save(this.kind, record.id, record, { dropDraft: this.key });
    await go(`/app/systems/${this.id}`);
  }

  show() {
    const wrong = new Map(this.findings.filter(({ id }) => id !== 'check.missing').map((one) => [one.where, `${one.says} ${one.do}`]));
    this.screen.show({
      above: this.held.body.name, title: this.name, tab: 'Systems', busy: true, state: this.lost || 'draft',
      body: html`${this.before ? html`<p class="notice">${this.before}</p>` : nothing}
        ${[...this.form.fields.keys()].map((path) => field(this.form, path, wrong, this.typed))}`,
      foot: html`<button class="main" ?disabled=${this.findings.length + this.form.errors.size > 0} @click=${() => this.save()}>Keep it</button>`,
    });
  }
}

export async function open({ id, kind }, screen) {
  const page = new NewRecord(id, kind, screen);
  if (!(await page.load())) return null;
  page.show();
  return async () => { await page.keeping; };
}
