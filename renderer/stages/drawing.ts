import fontUrl from 'dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf?url';
import { type Sheet, writeDxf, writeSvg } from '../../core/drawing';
import type { Outcome } from '../../core/findings';
import type { Bracket, ResolvedJob } from '../../core/job';
import type { WedgeSpec } from '../../core/joint';
import {
  bracketSheet,
  type Paper,
  papersOf,
  purchaseSheet,
  templateSheets,
  wedgeSheet,
  wedgeTemplate,
} from '../../core/papers';
import { version } from '../../package.json';
import { exportBytes } from '../state/files';

/** Today as YYYY-MM-DD, where the person is. */
export function today(): string {
  const d = new Date();
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${d.getFullYear()}-${two(d.getMonth() + 1)}-${two(d.getDate())}`;
}

/** Every paper of the job, dated today. */
export const allPapers = (job: ResolvedJob, outcome: Outcome | null): Paper[] =>
  papersOf(job, outcome, { date: today(), program: `Lidwright ${version}` });

/** The drawing of one of the job's brackets. Throws a LidwrightError when it can't be drawn. */
export const drawBracket = (job: ResolvedJob, bracket: Bracket): Sheet => bracketSheet(job, bracket, { date: today() });

/** What to order for one of the job's struts, and what to check when it comes. */
export const drawPurchase = (job: ResolvedJob, strutId: string): Sheet =>
  purchaseSheet(job, strutId, { date: today() });

/** The drawing of a wedge, its title block filled from the job's papers. Throws a LidwrightError when it can't be drawn. */
export const drawWedge = (job: ResolvedJob, wedge: WedgeSpec): Sheet => wedgeSheet(job, wedge, { date: today() });

/** The drill template of a wedge, 1:1. Throws a LidwrightError when it can't be drawn. */
export const drawWedgeTemplate = (job: ResolvedJob, wedge: WedgeSpec): Sheet[] =>
  templateSheets(job, wedgeTemplate(wedge), wedge.id, { date: today() });

let font: Promise<Uint8Array> | null = null;
const fontBytes = (): Promise<Uint8Array> =>
  (font ??= fetch(fontUrl)
    .then((answer) => answer.arrayBuffer())
    .then((buffer) => new Uint8Array(buffer)));

/** A text as a part of a file name: letters, digits, "-" and "_". */
const clean = (text: string): string =>
  text
    .replace(/[^\p{L}\p{N} _-]+/gu, '')
    .trim()
    .replace(/\s+/g, '-')
    .slice(0, 60);

/** "LW-0042-template-b1-2" or "Engine-hatch-report": the drawing number, else the job's title; then the paper, then the page of several. */
export function paperFileStem(job: Pick<ResolvedJob, 'title' | 'papers'>, id: string, page?: number): string {
  const head = clean(job.papers?.number ?? '') || clean(job.title) || 'Lid';
  return [head, clean(id), ...(page === undefined ? [] : [String(page)])].join('-');
}

const ownName = (sheet: Sheet): string => clean(sheet.title) || 'drawing';

export async function exportSvg(sheet: Sheet, stem = ownName(sheet)): Promise<void> {
  const text = writeSvg(sheet, { fontBytes: await fontBytes() });
  await exportBytes(`${stem}.svg`, new TextEncoder().encode(text), 'image/svg+xml');
}

export async function exportDxf(sheet: Sheet, stem = ownName(sheet)): Promise<void> {
  await exportBytes(`${stem}.dxf`, new TextEncoder().encode(writeDxf(sheet)), 'image/vnd.dxf');
}

/** The PDF writer is large and seldom needed: it is loaded when asked for. */
export async function exportPdf(sheets: Sheet | readonly Sheet[], stem?: string): Promise<void> {
  const { writePdf } = await import('../../core/drawing/pdf');
  const all = 'parts' in sheets ? [sheets] : sheets;
  await exportBytes(
    `${stem ?? ownName(all[0]!)}.pdf`,
    await writePdf(all, { fontBytes: await fontBytes(), date: today() }),
    'application/pdf',
  );
}
