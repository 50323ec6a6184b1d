import type { Job, ResolvedJob } from '../job';
import type { ShownUnits } from '../quantity';
import type { HandCurves } from './curves';
import type { Proof } from './prove';

/** What the page asks of the proving worker. */
export interface ProveQuestion {
  /** The job as in its file, for the survey in it, and worked out. */
  readonly raw: Job;
  readonly job: ResolvedJob;
  readonly units: ShownUnits;
}

/** What the worker answers: the proof, and the hand force over the travel as entered and with the first cause. */
export interface ProveAnswer {
  readonly proof: Proof;
  readonly entered: HandCurves;
  readonly withCause: HandCurves | null;
  readonly tookMs: number;
}
