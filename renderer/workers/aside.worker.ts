import {
  type AssumedSpread,
  type CaseBands,
  type ForceGradient,
  type Needs,
  assumedSpread,
  bands,
  forceGradient,
  needs,
} from '../../core/choose';
import { attempt } from '../../core/error';
import type { ResolvedJob } from '../../core/job';
import type { ShownUnits } from '../../core/quantity';
import type { Advice } from '../../core/advice';
import { type SlowAnswers, type Workings, adviceInSteps, slowAnswers, workings } from '../../core/workings';
import { answerBy } from './answer';

/** What follows from a job and takes longer than a step of a drag has time for. */
export interface AsideAnswers {
  readonly findings: SlowAnswers;
  /** What may be done about findings that fail. */
  readonly advice: readonly Advice[];
  /** Which way each strut's pivots must go to need less force, by the strut's id. */
  readonly pulls: ReadonlyMap<string, ForceGradient>;
  /** What each strut's pivots ask of it, by the strut's id. */
  readonly needs: ReadonlyMap<string, Needs>;
  /** What the answers would be at the ends of what is usual, for each number that is assumed. */
  readonly assumed: readonly AssumedSpread[];
  /** Hand-force bands of every load case. */
  readonly bands: readonly CaseBands[];
}
export interface AsideQuestion {
  readonly job: ResolvedJob;
  readonly units: ShownUnits;
  readonly want: keyof AsideAnswers;
}

function needsOf(w: Workings): AsideAnswers['needs'] {
  const byStrut = new Map<string, Needs>();
  for (const { id } of w.job.struts) {
    const found = attempt(() => needs(w, id, w.units)).value;
    if (found) byStrut.set(id, found);
  }
  return byStrut;
}

function pulls(w: Workings): AsideAnswers['pulls'] {
  const byStrut = new Map<string, ForceGradient>();
  for (const { id } of w.job.struts) {
    // a strut that can't be there has no arrows; the findings say why
    const pull = attempt(() => forceGradient(w, id)).value;
    if (pull) byStrut.set(id, pull);
  }
  return byStrut;
}

const MAKE: {
  readonly [K in keyof AsideAnswers]: (w: Workings) => AsideAnswers[K] | Generator<number, AsideAnswers[K]>;
} = {
  findings: slowAnswers,
  advice: adviceInSteps,
  pulls,
  needs: needsOf,
  assumed: assumedSpread,
  bands,
};

type Answer = AsideAnswers[keyof AsideAnswers];

answerBy(
  ({ job, units, want }: AsideQuestion) => MAKE[want](workings(job, units)) as Answer | Generator<number, Answer>,
);
