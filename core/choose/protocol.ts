import type { Issue } from '../error';
import type { ResolvedJob } from '../job';
import type { StrutListEntry } from '../strut';
import type { Ranking } from './rank';

/** What the page asks of the choosing worker. A new `start` cancels the one before. */
export type ChooseRequest =
  | {
      readonly type: 'start';
      /** Counts up, so that answers to an older question are known as such. */
      readonly run: number;
      readonly job: ResolvedJob;
      readonly list: readonly StrutListEntry[];
      readonly strutId?: string;
      readonly leastOpenDeg?: number;
      /** Best candidates sent back; 500 without it. */
      readonly mostRanked?: number;
    }
  | { readonly type: 'cancel'; readonly run: number };

/** What the worker answers. `done` carries the ranking condensed (see condense). */
export type ChooseReply =
  | { readonly type: 'progress'; readonly run: number; readonly share: number }
  | { readonly type: 'done'; readonly run: number; readonly ranking: Ranking; readonly tookMs: number }
  | { readonly type: 'cancelled'; readonly run: number }
  | { readonly type: 'failed'; readonly run: number; readonly issue: Issue };
