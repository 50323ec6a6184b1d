import type { Finding } from '../findings';
import type { ResolvedJob, Spec } from '../job';
import { type AssumedKey, usualBody, usualToleranceN } from '../strut';
import { type Workings, workings } from '../workings';
import { withSpec } from './geometry';

/** The answers that hang on a strut's numbers, worst over all load cases that must hold; null where not known. */
export interface Answers {
  readonly liftN: number | null;
  readonly pullN: number | null;
  readonly holdNm: number | null;
  /** "finding @ case" of everything that fails. */
  readonly fails: readonly string[];
}

/** What the answers would be at the ends of an assumed number's usual range. */
export interface AssumedSpread {
  readonly strutId: string;
  readonly key: AssumedKey;
  /** The value the job has: for a tolerance the upper one, N. */
  readonly used: number;
  readonly ends: readonly { readonly value: number; readonly answers: Answers }[];
  readonly now: Answers;
  /** True where some finding changes its state between the ends: the assumption decides. */
  readonly decides: boolean;
}

/** The worst answers of an outcome. */
export function answersOf(outcome: Pick<Workings, 'job' | 'findings'>): Answers {
  const must = new Set(outcome.job.loadCases.filter((c) => c.mustHold).map((c) => c.id));
  const values = (id: string): (number | null)[] =>
    outcome.findings.filter((f) => f.id === id && must.has(f.case)).map((f) => f.value);
  const worst = (list: (number | null)[], pick: (...v: number[]) => number): number | null =>
    list.length === 0 || list.some((v) => v === null) ? null : pick(...(list as number[]));
  const name = (f: Finding): string => (f.everyCase ? `${f.id} ${f.subject}` : `${f.id} ${f.subject} @ ${f.case}`);
  return {
    liftN: worst(values('hand-opening'), Math.max),
    pullN: worst(values('hand-closing'), Math.max),
    holdNm: worst(values('stays-open'), Math.min),
    fails: outcome.findings.filter((f) => f.state === 'fails').map(name),
  };
}

/**
 * For every number that a strut's spec marks as assumed: the answers at both ends of its usual range for that rod and
 * tube (common practice, no source). Works the job out twice for each.
 */
export function assumedSpread(outcome: Workings): AssumedSpread[] {
  const { job } = outcome;
  const now = answersOf(outcome);
  const answers = (moved: ResolvedJob): Answers => answersOf(workings(moved, outcome.units, outcome));
  return job.struts.flatMap((strut, i) => {
    const usual = usualBody(strut.spec.rodMm, strut.spec.tubeMm);
    return [...new Set(strut.spec.assumed ?? [])].map((key): AssumedSpread => {
      const at = (end: 'low' | 'high'): { value: number; spec: Spec } => {
        if (key === 'ratio') return { value: usual.ratio[end], spec: { ...strut.spec, ratio: usual.ratio[end] } };
        if (key === 'frictionN')
          return { value: usual.frictionN[end], spec: { ...strut.spec, frictionN: usual.frictionN[end] } };
        const toleranceN = usualToleranceN(usual, strut.spec.forceN, usual.toleranceShare[end]);
        return { value: toleranceN[1], spec: { ...strut.spec, toleranceN } };
      };
      const ends = (['low', 'high'] as const).map((end) => {
        const { value, spec } = at(end);
        return { value, answers: answers(withSpec(job, i, spec)) };
      });
      return {
        strutId: strut.id,
        key,
        used: key === 'toleranceN' ? strut.spec.toleranceN[1] : strut.spec[key],
        ends,
        now,
        decides: ends.some((e) => e.answers.fails.join() !== now.fails.join()),
      };
    });
  });
}
