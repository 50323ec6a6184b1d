import { formatOf } from './formats';
import { Flow } from './flow';
import type { ResolvedJob } from '../job';
import type { Sheet } from '../drawing';
import type { SheetOptions } from './bracket-sheet';
import { CAUTIONS } from './cautions';
import { shoppingRows } from './parts';
import { slimHeadOf } from './numbers';

/** The list as a table to be written as separated values, its heading first. */
export const shoppingTable = (job: ResolvedJob): string[][] => [
  ['No.', 'What', 'Quantity', 'Order', 'Remark'],
  ...shoppingRows(job).map((r, i) => [`${i + 1}`, r.what, `${r.quantity}`, r.order, r.remark]),
];

/** The shopping list as sheets; first of all what stands `against` ordering. */
export function shoppingList(job: ResolvedJob, options: SheetOptions & { readonly against?: string }): Sheet[] {
  const papers = job.papers ?? {};
  const flow = new Flow(
    slimHeadOf(job, 'S', 'Shopping list', options.date),
    formatOf(options.paper ?? papers.paper ?? 'A4'),
  );
  if (options.against !== undefined)
    flow.text([`NOT READY TO ORDER when this was written. ${options.against}: see the report.`]);
  const [, ...rows] = shoppingTable(job);
  flow.table({ 'No.': 9, What: 32, Qty: 9, Order: 47, Remark: 61 }, rows);
  flow.text([
    'Bolt lengths: grip, nut and two threads out of it, to the next length sold (ISO 888, not checked against its text). A torque is for that thread, class and friction alone; a softer mount, an insert or wood takes less: its maker’s figure comes first.',
    ...CAUTIONS,
  ]);
  return flow.sheets();
}
