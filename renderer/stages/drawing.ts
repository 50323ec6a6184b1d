import fontUrl from 'dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf?url';
import type { Sheet } from '../../core/drawing';
import { fail } from '../../core/error';
import type { Bracket, ResolvedJob } from '../../core/job';
import {
  type LeftOut,
  type Paper,
  type PaperFormatName,
  bracketSheets,
  paperFile,
  papersOf,
  zippedPapers,
} from '../../core/papers';
import type { Workings } from '../../core/workings';
import { version } from '../../package.json';
import { localDay } from '../host/day';
import { fetchedBytes } from '../host/fetched';
import { exportFile } from '../state/files';

export const today = (): string => localDay(new Date());

/** Every paper of the job, dated today. */
export const allPapers = (job: ResolvedJob, outcome: Workings | null): Paper[] =>
  papersOf(job, outcome, { date: today(), program: `Lidwright ${version}` });

/** The drawing of one of the job's brackets. Throws a LidwrightError when it can't be drawn. */
export const drawBracket = (job: ResolvedJob, bracket: Bracket): Sheet =>
  bracketSheets(job, bracket, { date: today() })[0]!;

let font: Promise<Uint8Array> | null = null;
/** Fetched once; what could not be fetched is fetched anew by the next who asks. */
async function fontBytes(): Promise<Uint8Array> {
  try {
    return await (font ??= fetchedBytes(fetch, fontUrl, 'the letters of the papers'));
  } catch (error) {
    font = null;
    throw error;
  }
}

/** Writes one file of a paper; what can't be drawn or written is said. */
export const exportPaper = (
  paper: Pick<Paper, 'stem' | 'draw' | 'solid' | 'rows'>,
  format: PaperFormatName,
  page = 0,
): Promise<void> => exportFile(async () => paperFile(paper, format, { date: today(), font: await fontBytes() }, page));

/** Writes every file of these papers with their index as one ZIP; gives what had to be left out. */
export async function exportSet(job: ResolvedJob, papers: readonly Paper[]): Promise<readonly LeftOut[]> {
  let leftOut: readonly LeftOut[] = [];
  await exportFile(async () => {
    const made = await zippedPapers(job, papers, null, { date: today(), font: await fontBytes() });
    leftOut = made.leftOut;
    return made.files[0] ?? fail('None of the papers can be drawn.', [], 'See what the findings say first.');
  });
  return leftOut;
}
