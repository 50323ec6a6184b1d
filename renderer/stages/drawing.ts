import fontUrl from 'dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf?url';
import { type Sheet, writeSvg } from '../../core/drawing';
import type { Bracket, ResolvedJob } from '../../core/job';
import type { WedgeSpec } from '../../core/joint';
import { bracketSheet, purchaseSheet, wedgeDrawing } from '../../core/papers';
import { exportBytes } from '../state/files';

/** Today as YYYY-MM-DD, where the person is. */
export function today(): string {
  const d = new Date();
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${d.getFullYear()}-${two(d.getMonth() + 1)}-${two(d.getDate())}`;
}

/** The drawing of one of the job's brackets. Throws a LidwrightError when it can't be drawn. */
export const drawBracket = (job: ResolvedJob, bracket: Bracket): Sheet => bracketSheet(job, bracket, { date: today() });

/** What to order for one of the job's struts, and what to check when it comes. */
export const drawPurchase = (job: ResolvedJob, strutId: string): Sheet =>
  purchaseSheet(job, strutId, { date: today() });

/** The drawing of a wedge, its title block filled from the job's papers. Throws a LidwrightError when it can't be drawn. */
export function drawWedge(job: ResolvedJob, wedge: WedgeSpec): Sheet {
  const papers = job.papers ?? {};
  return wedgeDrawing(
    wedge,
    {
      title: wedge.name,
      number: papers.number ? `${papers.number}-${wedge.id}` : wedge.id,
      creator: papers.creator ?? '',
      approver: papers.approver ?? '',
      owner: papers.owner ?? '',
      date: today(),
      notes: job.title === '' ? [] : [`For: ${job.title}`.slice(0, 120)],
    },
    { paper: papers.paper ?? 'A4', projection: papers.projection ?? 'first' },
  );
}

let font: Promise<Uint8Array> | null = null;
const fontBytes = (): Promise<Uint8Array> =>
  (font ??= fetch(fontUrl)
    .then((answer) => answer.arrayBuffer())
    .then((buffer) => new Uint8Array(buffer)));

const fileName = (sheet: Sheet, ending: string): string =>
  `${
    sheet.title
      .replace(/[^\p{L}\p{N} _-]+/gu, '')
      .trim()
      .replace(/\s+/g, '-')
      .slice(0, 60) || 'drawing'
  }.${ending}`;

export async function exportSvg(sheet: Sheet): Promise<void> {
  const text = writeSvg(sheet, { fontBytes: await fontBytes() });
  await exportBytes(fileName(sheet, 'svg'), new TextEncoder().encode(text), 'image/svg+xml');
}

/** The PDF writer is large and seldom needed: it is loaded when asked for. */
export async function exportPdf(sheet: Sheet): Promise<void> {
  const { writePdf } = await import('../../core/drawing/pdf');
  await exportBytes(
    fileName(sheet, 'pdf'),
    await writePdf([sheet], { fontBytes: await fontBytes(), date: today() }),
    'application/pdf',
  );
}
