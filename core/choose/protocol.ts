import type { ResolvedJob } from '../job';
import type { ShownUnits } from '../quantity';
import type { StrutListEntry } from '../strut';
import type { ForcePlane } from './plane';
import type { Ranking, Refused } from './rank';

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
  /** Every candidate that was refused, as long as the list is no longer than a screen can mark; else none. */
  readonly others: readonly Refused[];
  /** Where struts of the strokes that matter do it. */
  readonly planes: readonly ForcePlane[];
  readonly tookMs: number;
}
