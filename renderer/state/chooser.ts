import type { ChooseReply, ChooseRequest, Ranking } from '../../core/choose';
import type { ResolvedJob } from '../../core/job';
import type { StrutListEntry } from '../../core/strut';
import { notify } from './store';

/** A question to the choosing worker, under way or answered. */
export interface ChooserState {
  readonly share: number | null;
  readonly ranking: Ranking | null;
  readonly list: readonly StrutListEntry[];
  /** The job that the ranking is for; another one makes it stale. */
  readonly job: ResolvedJob | null;
  readonly tookMs: number;
}

export const IDLE: ChooserState = { share: null, ranking: null, list: [], job: null, tookMs: 0 };

let worker: Worker | null = null;
let run = 0;

/** Ranks a list off the main thread; `hear` gets progress and the answer. A new call cancels the one before. */
export function choose(
  job: ResolvedJob,
  list: readonly StrutListEntry[],
  strutId: string,
  hear: (state: ChooserState) => void,
): () => void {
  worker ??= new Worker(new URL('../workers/choose.worker.ts', import.meta.url), { type: 'module' });
  const mine = ++run;
  const base = { ...IDLE, list, job };
  hear({ ...base, share: 0 });
  worker.onmessage = ({ data }: MessageEvent<ChooseReply>) => {
    if (data.run !== mine) return;
    if (data.type === 'progress') hear({ ...base, share: data.share });
    else if (data.type === 'done') hear({ ...base, ranking: data.ranking, tookMs: data.tookMs });
    else {
      hear(IDLE);
      if (data.type === 'failed') notify(`${data.issue.what}. ${data.issue.advice}`, 'bad');
    }
  };
  worker.onerror = () => {
    worker?.terminate();
    worker = null;
    hear(IDLE);
    notify('The search for a strut stopped by itself. Start it again.', 'bad');
  };
  worker.postMessage({ type: 'start', run: mine, job, list, strutId, mostRanked: 200 } satisfies ChooseRequest);
  return () => worker?.postMessage({ type: 'cancel', run: mine } satisfies ChooseRequest);
}
