import { bracketSpecOf } from '../bracket';
import type { Sheet } from '../drawing';
import type { Bracket, ResolvedJob } from '../job';
import { bracketDrawing, fitBracketDrawing } from './bracket-drawing';
import type { PaperName } from './formats';
import type { Projection } from './projection-symbol';

/** What the caller decides over the job's own papers section; the date always comes from outside. */
export interface SheetOptions {
  /** YYYY-MM-DD. */
  readonly date: string;
  readonly paper?: PaperName;
  readonly projection?: Projection;
}

/**
 * The drawing of one of a job's brackets, on A3 where A4 has no room for it, its title block filled from the job's papers section.
 * Throws a LidwrightError when the bracket can't be made or drawn at that size; paths lead into the bracket.
 */
export function bracketSheet(job: ResolvedJob, bracket: Bracket, options: SheetOptions): Sheet {
  const papers = job.papers ?? {};
  const { creator = '', approver = '', owner = '' } = papers;
  const spec = bracketSpecOf(bracket);
  const info = {
    title: spec.name,
    number: papers.number ? `${papers.number}-${bracket.id}` : bracket.id,
    ...{ creator, approver, owner },
    date: options.date,
    notes: job.title === '' ? [] : [`For: ${job.title}`.slice(0, 120)],
  };
  const { attach } = bracket;
  const mountWeld = { throatMm: attach?.weldThroatMm ?? null, edges: attach?.weldEdges ?? 'all' } as const;
  const projection = options.projection ?? papers.projection ?? 'first';
  const paper = options.paper ?? papers.paper ?? 'A4';
  const fitting = fitBracketDrawing(spec, info, { paper, projection, mountWeld });
  return fitting ?? bracketDrawing(spec, info, { paper: 'A3', projection, mountWeld });
}
