import { type Sheet, writeDxf, writeSvg } from '../drawing';
import { LidwrightError, type Result, describeIssue, fail } from '../error';
import type { ResolvedJob } from '../job';
import { writeTable } from '../table';
import { stlBinary, threeMf } from '../solid';
import { indexSheets, type SetEntry } from './index-sheet';
import { PAPER_FORMATS, type PaperFormatName } from './kinds';
import { type Paper, fileStems } from './paper';

export interface PaperFile {
  readonly name: string;
  /** Media type. */
  readonly type: string;
  readonly content: Uint8Array | string;
}

/** What of a paper goes into files. */
type Writable = Pick<Paper, 'stem' | 'draw' | 'solid' | 'rows'>;

/** What goes into files besides the paper: its day (YYYY-MM-DD) and the drawing font's bytes. */
export interface FileOptions {
  readonly date: string;
  readonly font: Uint8Array;
}

/** A paper that can't be drawn, and why. */
export interface LeftOut {
  readonly paper: Paper;
  readonly why: LidwrightError;
}

/** What holds one page, or one solid, a file. */
const PAGED: readonly PaperFormatName[] = ['svg', 'dxf', 'stl', '3mf'];

const TYPES: Readonly<Record<PaperFormatName, string>> = {
  pdf: 'application/pdf',
  svg: 'image/svg+xml',
  dxf: 'image/vnd.dxf',
  stl: 'model/stl',
  '3mf': 'model/3mf',
  csv: 'text/csv',
};

/** Runs; whatever goes wrong with one paper is told as its own and stops no other. */
async function apart<T>(run: () => T | Promise<T>): Promise<Result<T>> {
  try {
    return { value: await run(), error: null };
  } catch (error) {
    return { value: null, error: whyNot(error) };
  }
}
const whyNot = (error: unknown): LidwrightError =>
  error instanceof LidwrightError
    ? error
    : new LidwrightError({
        what: `drawing it went wrong (${String(error)}), which is a fault of the program`,
        where: [],
        advice: 'The other papers are not touched by it. Keep the job, and report it.',
      });

/** Throws where a measure on a sheet is no number: better no paper than one with a hole that nobody sees. */
function requireFinite(sheets: readonly Sheet[]): void {
  const sound = (value: unknown): boolean =>
    typeof value === 'number'
      ? Number.isFinite(value)
      : typeof value !== 'object' || value === null || Object.values(value).every(sound);
  for (const sheet of sheets)
    for (const part of sheet.parts)
      if (!sound(part.marks))
        fail(`a measure in its part "${part.name}" could not be worked out`, [], 'See what the findings say first.');
}

/** The sheets of a paper, or why it can't be drawn. */
export function sheetsOf(paper: Writable): { readonly sheets: readonly Sheet[]; readonly why: LidwrightError | null } {
  try {
    const sheets = paper.draw();
    requireFinite(sheets);
    return { sheets, why: null };
  } catch (error) {
    return { sheets: [], why: whyNot(error) };
  }
}

/** The PDF writer and what picks letters out of a font are large and seldom needed: they are loaded when asked for. */
async function written(paper: Writable, format: PaperFormatName, page: number, options: FileOptions) {
  const sheet = (): Sheet => paper.draw()[page]!;
  switch (format) {
    case 'pdf':
      return (await import('../drawing/pdf')).writePdf(paper.draw(), { fontBytes: options.font, date: options.date });
    case 'svg': {
      const { lettersOn, subsetFont } = await import('../drawing/font-subset');
      return writeSvg(sheet(), { fontBytes: subsetFont(options.font, lettersOn(sheet())) });
    }
    case 'dxf':
      return writeDxf(sheet());
    case 'stl':
      return stlBinary(paper.solid!(page));
    case '3mf':
      return threeMf(paper.solid!(page));
    case 'csv':
      return writeTable(paper.rows!());
  }
}

/** One file of a paper: a PDF holds all its sheets, any other one. Throws a LidwrightError where it can't be drawn. */
export async function paperFile(
  paper: Writable,
  format: PaperFormatName,
  options: FileOptions,
  page = 0,
): Promise<PaperFile> {
  const paged = PAGED.includes(format) && paper.draw().length > 1;
  // a dot stands in no stem, so a tail makes no name that another paper has
  const tail = paged ? (paper.draw()[page]?.fileTail ?? null) : null;
  return {
    name: `${paper.stem}${tail !== null ? `.${tail}` : paged ? `-${page + 1}` : ''}.${format}`,
    type: TYPES[format],
    content: await written(paper, format, page, options),
  };
}

/**
 * Every file of papers, for the page and the command alike: one PDF a paper, one SVG and one DXF a sheet. `formats` null: all
 * that each paper has. A paper that can't be drawn is left out and told; the others are written.
 */
export async function paperFiles(
  papers: readonly Paper[],
  formats: readonly PaperFormatName[] | null,
  options: FileOptions,
): Promise<{ readonly files: PaperFile[]; readonly leftOut: LeftOut[] }> {
  const files: PaperFile[] = [];
  const leftOut: LeftOut[] = [];
  const write = async (paper: Paper, format: PaperFormatName, page: number): Promise<void> => {
    const { value, error } = await apart(() => paperFile(paper, format, options, page));
    if (value) files.push(value);
    else if (!leftOut.some((each) => each.paper === paper)) leftOut.push({ paper, why: error });
  };
  for (const paper of papers) {
    const { sheets, why } = sheetsOf(paper);
    if (why) leftOut.push({ paper, why });
    else
      for (const format of PAPER_FORMATS)
        if (paper.formats.includes(format) && (formats?.includes(format) ?? true))
          for (const page of PAGED.includes(format) ? sheets.keys() : [0]) await write(paper, format, page);
  }
  return { files, leftOut };
}

/**
 * Every file of a job's papers in one ZIP, an index page first; what can't be drawn is named there. The same set of the same day is the same file.
 */
export async function zippedPapers(
  job: ResolvedJob,
  papers: readonly Paper[],
  formats: readonly PaperFormatName[] | null,
  options: FileOptions,
): Promise<{ readonly files: PaperFile[]; readonly leftOut: LeftOut[] }> {
  const entries: (SetEntry & { readonly made: readonly PaperFile[] })[] = [];
  const leftOut: LeftOut[] = [];
  for (const paper of papers) {
    const one = await paperFiles([paper], formats, options);
    leftOut.push(...one.leftOut);
    if (one.files.length > 0)
      entries.push({
        ...{ title: paper.title, pages: paper.draw().length, files: one.files.map((f) => f.name), made: one.files },
      });
  }
  if (entries.length === 0) return { files: [], leftOut };
  const [indexStem, stem] = fileStems(job, ['0-index', 'papers']) as [string, string];
  const told = leftOut.map(({ paper, why }) => ({ title: paper.title, why: why.issues.map(describeIssue).join(' ') }));
  const index = await paperFile(
    { stem: indexStem, draw: () => indexSheets(job, entries, told, { date: options.date }) },
    'pdf',
    options,
  );
  const { strToU8, zipSync } = await import('fflate');
  const inside = [index, ...entries.flatMap(({ made }) => made)].map(
    ({ name, content }) => [name, typeof content === 'string' ? strToU8(content) : content] as const,
  );
  const content = zipSync(Object.fromEntries(inside), { mtime: `${options.date}T00:00:00` });
  return { files: [{ name: `${stem}.zip`, type: 'application/zip', content }], leftOut };
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
