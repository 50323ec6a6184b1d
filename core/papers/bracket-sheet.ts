import type { Sheet } from '../drawing';
import type { Bracket, ResolvedJob } from '../job';
import { type BracketDrawingOptions, bracketDrawing, fitBracketDrawing } from './bracket-drawing';
import { countedThroatMm, fasteningOf } from './fastening';
import type { PaperName } from './formats';
import { type Hand, handsOf, handWords } from './hands';
import type { Projection } from './projection-symbol';
import { drawingInfo } from './numbers';

/** What the caller decides over the job's own papers section; the date always comes from outside. */
export interface SheetOptions {
  /** YYYY-MM-DD. */
  readonly date: string;
  readonly paper?: PaperName;
  readonly projection?: Projection;
}

function sheetOfHand(job: ResolvedJob, bracket: Bracket, hand: Hand, options: SheetOptions): Sheet {
  const papers = job.papers ?? {};
  const hands = handsOf(job, bracket);
  const { spec } = hand;
  const tail = hand.id === '' ? '' : `-${hand.id}`;
  const info = {
    ...drawingInfo(job, `${bracket.id}${tail}`, options.date),
    title: hands.length > 1 ? `${spec.name}, ${hand.side}` : spec.name,
    notes: job.title === '' ? [] : [`For: ${job.title}`.slice(0, 120)],
  };
  const counted = countedThroatMm(bracket);
  const made: Omit<BracketDrawingOptions, 'paper'> = {
    projection: options.projection ?? papers.projection ?? 'first',
    mountWeld: {
      throatMm: counted?.throatMm ?? null,
      edges: bracket.attach?.weldEdges ?? 'all',
      ...(counted?.assumed === true ? { assumed: true } : {}),
    },
    fastening: fasteningOf(bracket),
    quantity: hand.quantity,
    hand: handWords(hand, hands),
    finish: bracket.finish,
  };
  const paper = options.paper ?? papers.paper ?? 'A4';
  const sheet =
    fitBracketDrawing(spec, info, { ...made, paper }) ?? bracketDrawing(spec, info, { ...made, paper: 'A3' });
  return hands.length > 1 ? { ...sheet, fileTail: hand.side } : sheet;
}

/**
 * The drawings of one of a job's brackets, a sheet for each hand; on A3 where A4 has no room, title block filled from the job's papers section. Throws a
 * LidwrightError when the bracket can't be made or drawn at that size; paths lead into the bracket.
 */
export const bracketSheets = (job: ResolvedJob, bracket: Bracket, options: SheetOptions): Sheet[] =>
  handsOf(job, bracket).map((hand) => sheetOfHand(job, bracket, hand, options));
