import { bracketSpecOf } from '../bracket';
import type { Sheet } from '../drawing';
import { LidwrightError } from '../error';
import type { Bracket, ResolvedJob } from '../job';
import { bracketDrawing } from './bracket-drawing';
import type { PaperName } from './formats';
import type { Projection } from './projection-symbol';

/** What the caller decides over the job's own papers section; the date always comes from outside. */
export interface SheetWishes {
  /** YYYY-MM-DD. */
  readonly date: string;
  readonly paper?: PaperName;
  readonly projection?: Projection;
}

/**
 * The drawing of one of a job's brackets, on A3 where A4 has no room for it, its title block filled from the job's papers section.
 * Throws a LidwrightError when the bracket can't be made or drawn at that size; paths lead into the bracket.
 */
export function bracketSheet(job: ResolvedJob, bracket: Bracket, wishes: SheetWishes): Sheet {
  const papers = job.papers ?? {};
  const spec = bracketSpecOf(bracket);
  const info = {
    title: spec.name,
    number: papers.number ? `${papers.number}-${bracket.id}` : bracket.id,
    creator: papers.creator ?? '',
    approver: papers.approver ?? '',
    owner: papers.owner ?? '',
    date: wishes.date,
    notes: job.title === '' ? [] : [`For: ${job.title}`.slice(0, 120)],
  };
  const throat = bracket.attach?.weldThroatMm;
  const draw = (paper: PaperName): Sheet =>
    bracketDrawing(spec, info, {
      paper,
      projection: wishes.projection ?? papers.projection ?? 'first',
      ...(throat === undefined ? {} : { mountThroatMm: throat }),
    });
  const paper = wishes.paper ?? papers.paper ?? 'A4';
  try {
    return draw(paper);
  } catch (error) {
    // what is too much for A4 at any scale goes on A3
    const noRoom = error instanceof LidwrightError && String(error).includes('does not fit on A4');
    if (paper !== 'A4' || !noRoom) throw error;
    return draw('A3');
  }
}
