import { type Sheet, writeDxf, writeSvg } from '../drawing';
import { attempt, type LidwrightError } from '../error';
import type { ResolvedJob } from '../job';
import { stlBinary } from '../solid';
import { PAPER_FORMATS, type PaperFormatName } from './kinds';
import { type Paper, fileStems } from './paper';

export interface PaperFile {
  readonly name: string;
  /** Media type. */
  readonly type: string;
  readonly content: Uint8Array | string;
}

/** What of a paper goes into files. */
type Writable = Pick<Paper, 'stem' | 'draw' | 'solid'>;

/** What goes into files besides the paper: its day (YYYY-MM-DD) and the drawing font's bytes. */
export interface FileWishes {
  readonly date: string;
  readonly font: Uint8Array;
}

/** A paper that can't be drawn, and why. */
export interface LeftOut {
  readonly paper: Paper;
  readonly why: LidwrightError;
}

const TYPES: Readonly<Record<PaperFormatName, string>> = {
  pdf: 'application/pdf',
  svg: 'image/svg+xml',
  dxf: 'image/vnd.dxf',
  stl: 'model/stl',
};

/** The sheets of a paper, or why it can't be drawn. */
export function sheetsOf(paper: Paper): { readonly sheets: readonly Sheet[]; readonly why: LidwrightError | null } {
  const { value, error } = attempt(() => paper.draw());
  return { sheets: value ?? [], why: error };
}

/** The PDF writer is large and seldom needed: it is loaded when asked for. */
async function written(paper: Writable, format: PaperFormatName, page: number, wishes: FileWishes) {
  const sheet = (): Sheet => paper.draw()[page]!;
  switch (format) {
    case 'pdf':
      return (await import('../drawing/pdf')).writePdf(paper.draw(), { fontBytes: wishes.font, date: wishes.date });
    case 'svg':
      return writeSvg(sheet(), { fontBytes: wishes.font });
    case 'dxf':
      return writeDxf(sheet());
    case 'stl':
      return stlBinary(paper.solid!());
  }
}

/** One file of a paper: a PDF holds all its sheets, an SVG or a DXF one. Throws a LidwrightError where it can't be drawn. */
export async function paperFile(
  paper: Writable,
  format: PaperFormatName,
  wishes: FileWishes,
  page = 0,
): Promise<PaperFile> {
  const paged = (format === 'svg' || format === 'dxf') && paper.draw().length > 1;
  return {
    name: `${paper.stem}${paged ? `-${page + 1}` : ''}.${format}`,
    type: TYPES[format],
    content: await written(paper, format, page, wishes),
  };
}

/**
 * Every file of papers, for the page and the command alike: one PDF a paper, one SVG and one DXF a sheet. `formats` null: all
 * that each paper has. A paper that can't be drawn is left out and told; the others are written.
 */
export async function paperFiles(
  papers: readonly Paper[],
  formats: readonly PaperFormatName[] | null,
  wishes: FileWishes,
): Promise<{ readonly files: PaperFile[]; readonly leftOut: LeftOut[] }> {
  const files: PaperFile[] = [];
  const leftOut: LeftOut[] = [];
  for (const paper of papers) {
    const { sheets, why } = sheetsOf(paper);
    if (why) leftOut.push({ paper, why });
    else
      for (const format of PAPER_FORMATS)
        if (paper.formats.includes(format) && (formats?.includes(format) ?? true))
          for (const page of format === 'svg' || format === 'dxf' ? sheets.keys() : [0])
            files.push(await paperFile(paper, format, wishes, page));
  }
  return { files, leftOut };
}

/** All papers that can be drawn as one to print, and those that can't. */
export function boundPapers(
  job: ResolvedJob,
  papers: readonly Paper[],
): { readonly bound: Pick<Paper, 'stem' | 'draw'>; readonly leftOut: readonly LeftOut[] } {
  const drawn = papers.map((paper) => ({ paper, ...sheetsOf(paper) }));
  const sheets = drawn.flatMap((each) => each.sheets);
  return {
    bound: { stem: fileStems(job, ['papers'])[0]!, draw: () => sheets },
    leftOut: drawn.flatMap(({ paper, why }) => (why ? [{ paper, why }] : [])),
  };
}
