import type { ResolvedJob } from '../job';
import type { ShownUnits } from '../quantity';
import type { StrutListEntry } from '../strut';
import type { Ranking } from './rank';

/** What the page asks of the choosing worker. */
export interface ChooseQuestion {
  readonly job: ResolvedJob;
  readonly list: readonly StrutListEntry[];
  readonly strutId?: string;
  readonly leastOpenDeg?: number;
  /** Of what is told in words. */
  readonly units?: ShownUnits;
  /** Best candidates sent back; 500 without it. */
  readonly mostRanked?: number;
}

/** What the worker answers: the ranking condensed (see condense). */
export interface ChooseAnswer {
  readonly ranking: Ranking;
  readonly tookMs: number;
}
