import { bracketSpecOf, type BracketSpec } from '../../../core/bracket';
import { attempt } from '../../../core/error';
import type { Bracket, Job, JobBracket, Path } from '../../../core/job';
import { type StrengthModel, strengthModel } from '../../../core/strength';
import { useBench } from '../../state/use-bench';

/** What the parts of the panel work on. */
export interface One {
  readonly index: number;
  readonly raw: JobBracket;
  readonly bracket: Bracket;
  readonly spec: BracketSpec;
  /** What strength takes where the job says nothing; null where the bracket can't be made. */
  readonly model: StrengthModel | null;
  readonly at: (...keys: (string | number)[]) => Path;
}

/** The bracket at an index, or null while there is none. */
export function useOne(index: number): One | null {
  const raw = useBench((s) => s.history.present.brackets?.[index]);
  const bracket = useBench((s) => s.resolved.brackets[index]);
  const strut = useBench((s) => s.resolved.struts.find((x) => x.id === bracket?.strut));
  if (!raw || !bracket) return null;
  return {
    ...{ index, raw, bracket },
    spec: bracketSpecOf(bracket),
    model: strut ? modelOf(bracket, strut) : null,
    at: (...keys) => ['brackets', index, ...keys],
  };
}

function modelOf(...[bracket, strut]: Parameters<typeof strengthModel>): StrengthModel | null {
  return attempt(() => strengthModel(bracket, strut)).value;
}

/** An edit of one bracket as it stands in the file. */
export const changeBracket =
  (index: number, change: (raw: JobBracket) => JobBracket) =>
  (job: Job): Job => ({
    ...job,
    brackets: (job.brackets ?? []).map((b, i) => (i === index ? change(b) : b)),
  });
