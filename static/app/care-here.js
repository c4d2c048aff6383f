// care-here.js: what somebody must still see to at a system: open defects, adjustments that differ from the settings sheet.
import { defectsOf } from './defects.js';
import { list } from './documents.js';
import { ask } from './engine.js';
import { adjustedView } from './views/adjusted.js';
import { openDefects } from './views/defects.js';

/** {defects, adjusted, open: is there anything}: two views; adjustments are looked at once the sheet's `settings` are worked. */
export async function careHere(system, settings = null) {
  const [{ open }, made, entries] = await Promise.all([
    defectsOf(system),
    ...['adjustment', 'settings-entry'].map((kind) => (settings ? list(kind, system) : [])),
  ]);
  const entered = entries.map(({ body }) => body).filter(({ signed }) => signed);
  const rows = made.length
    ? (await ask({ do: 'adjusted', adjustments: made.map(({ document, body }) => ({ ...body, document })), settings, entered }))
        .adjustments
    : [];
  return { defects: openDefects(open), adjusted: adjustedView(rows), open: open.length > 0 || rows.some(({ differs }) => differs) };
}
