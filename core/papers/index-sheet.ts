import type { Sheet } from '../drawing';
import type { ResolvedJob } from '../job';
import { CAUTIONS } from './cautions';
import { Flow } from './flow';
import { formatOf } from './formats';
import { slimHeadOf } from './numbers';
import type { SheetOptions } from './bracket-sheet';

/** One paper of a set: what it is, its pages, and the files it is written as. */
export interface SetEntry {
  readonly title: string;
  readonly pages: number;
  readonly files: readonly string[];
}

/** The first page of a whole set: every paper with its pages and files, what was left out and why, cautions. */
export function indexSheets(
  job: ResolvedJob,
  entries: readonly SetEntry[],
  leftOut: readonly { readonly title: string; readonly why: string }[],
  options: Pick<SheetOptions, 'date' | 'paper'>,
): Sheet[] {
  const flow = new Flow(
    slimHeadOf(job, 'I', 'Index of the set', options.date),
    formatOf(options.paper ?? job.papers?.paper ?? 'A4'),
  );
  flow.table(
    { 'No.': 9, Paper: 60, Pages: 13, Files: 86 },
    entries.map(({ title, pages, files }, i) => [String(i + 1), title, String(pages), files.join(' ')]),
  );
  if (leftOut.length > 0) {
    flow.heading('Left out, because it can’t be drawn');
    flow.table(
      { Paper: 60, Why: 108 },
      leftOut.map(({ title, why }) => [title, why]),
    );
  }
  flow.text([
    'Print at 100 %, and measure the bar on every sheet at 1:1 before anything is cut or drilled by it.',
    ...CAUTIONS,
  ]);
  return flow.sheets();
}
