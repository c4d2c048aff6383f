// defects.js (page): all defects of a system: what is open in the order in which to see to it, what is closed folded away.
import { html, nothing } from '../../vendor/lit-html/lit-html.js';
import { defectsOf } from '../defects.js';
import { get, list, onChange } from '../documents.js';
import { go } from '../go.js';
import { dayText, defectRow } from '../views/defects.js';

const closedRow = ({ document, body }) => html`<li><a href="/app/systems/${body.system}/defects/${document}"><span class="grow"><strong>${body.where}: ${body.what}</strong>
  <span class="small">Closed ${dayText(body.closed.at)} by ${body.closed.by}: ${body.closed.how}</span></span></a></li>`;

const caseRow = ({ document, body }) => html`<li><a href="/app/systems/${body.system}/defects/new?case=${document}"><span class="grow">
  <strong>${body.symptom || 'Fault'}</strong><span class="small">Found ${dayText(body.made_at)}, neither closed nor a defect yet: make it one</span></span></a></li>`;

export async function open({ id }, screen) {
  let left = false;
  const load = async () => {
    const held = await get(id);
    if (!held) { await go(`/app/systems/${id}`, { replace: true }); return; }
    const [{ open: rows, closed, overdue }, cases] = await Promise.all([defectsOf(id), list('fault-case', id)]);
    const loose = cases.filter(({ body }) => !body.closed && !body.defect);
    if (left) return;
    screen.show({
      above: `${held.body.name} · defects`, title: rows.length ? `${rows.length} open${overdue ? `, ${overdue} overdue` : ''}` : 'No open defect', tab: 'Systems',
      body: html`${rows.length ? html`<ul class="rows defects">${rows.map((row) => defectRow(row))}</ul>` : html`<p>What is found wrong here is raised below; it stays in this list until somebody closes it with evidence.</p>`}
        ${loose.length ? html`<h2>Causes found</h2><ul class="rows">${loose.map(caseRow)}</ul>` : nothing}
        ${closed.length ? html`<details><summary class="figure-button"><span class="name">Closed</span><span class="value">${closed.length}</span></summary>
          <ul class="rows">${closed.map(closedRow)}</ul></details>` : nothing}
        <p><a href="/app/systems/${id}">${held.body.name}</a></p>`,
      foot: html`<a class="button main" href="/app/systems/${id}/defects/new">Raise a defect</a>`,
    });
  };
  const stop = onChange(load);
  await load();
  return () => { left = true; stop(); };
}
