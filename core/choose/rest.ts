import { demandKey, demandOf } from '../demands';
import { attempt } from '../error';
import type { Finding } from '../findings';
import type { ResolvedJob, Spec } from '../job';
import { METRIC, type ShownUnits } from '../quantity';
import { type Workings, workings } from '../workings';
import { withSpec } from './geometry';
import type { Measured } from './judge';

/** Checks beside those that `judge` knows which a strut's numbers may make fail, as far as the job has what they look at. */
function checksOf({
  limits,
  latch,
  hinge,
  travel,
  brackets,
  obstacles,
  outline,
  struts,
  springs,
  masses,
}: ResolvedJob): string[] {
  // a strut that stops the lid decides how far everything turns
  const stops = travel.stop === 'strut';
  const wanted: readonly (readonly [string, boolean])[] = [
    ['strutExists', true],
    ['letGoEnergy', limits.letGoJ !== undefined],
    ['gripAtShut', limits.letGoN !== undefined],
    ['staysShut', latch?.ratedN !== undefined],
    ['hingeLoad', hinge.ratedN !== undefined || hinge.screws !== undefined],
    ['strutFits', stops && struts.length > 1],
    ['strokeReserve', stops && struts.length > 1],
    ['rodBuckling', stops && struts.length > 1],
    ['deadCentre', stops],
    ['jointRange', stops],
    ['socketPull', stops],
    ['springTravel', stops && springs.length > 0],
    ['bracketStrength', brackets.length > 0],
    ['clearances', obstacles.length + outline.length + brackets.length > 0 || masses.some((m) => m.body)],
    ['lidRoom', stops],
  ];
  return wanted.filter(([, is]) => is).map(([name]) => name);
}

/** Demands that a ranking weighs beside those that `judge` knows: what a strut's own numbers move. */
const WEIGHED = /^(let-go-|grip-at-shut|latch-holds|hinge-load|hinge-screws|socket-pull|bracket-strength-)/;

/** What a strut comes to in the demands that `judge` does not know. */
export interface RestFound {
  /** What fails, by `demandKey`. */
  readonly fails: ReadonlyMap<string, Finding>;
  /** The demand with least to spare of those that a ranking weighs; null where there is none. */
  readonly tightest: (Measured & { readonly share: number }) | null;
}

/**
 * Judges struts between a job's pivots by everything that can fail and `judge` does not know: the job's own brackets, joints,
 * clearances, limits of letting go and ratings. Worked out by the findings themselves; what two struts have alike, once.
 */
export class Rest {
  readonly checks: readonly string[];
  /** What fails in the job as it is: no strut is refused for that alone. */
  readonly before: ReadonlySet<string>;
  private last: Workings;

  constructor(
    private readonly job: ResolvedJob,
    private readonly strutIndex: number,
    private readonly units: ShownUnits = METRIC,
  ) {
    this.checks = checksOf(job);
    this.last = workings(job, units);
    // a job that can't be worked out yet has nothing that fails
    this.before = new Set(attempt(() => this.foundNow()).value?.fails.keys() ?? []);
  }

  /** Of these checks, or all; null where the job can't be worked out with that strut. */
  found(spec: Spec, checks = this.checks): RestFound | null {
    this.last = workings(withSpec(this.job, this.strutIndex, spec), this.units, this.last);
    return attempt(() => this.foundNow(checks)).value;
  }

  /** What fails with a strut and not without it; null where nothing does. */
  breaks(spec: Spec): Finding | null {
    return [...(this.found(spec)?.fails ?? [])].find(([key]) => !this.before.has(key))?.[1] ?? null;
  }

  private foundNow(checks = this.checks): RestFound {
    const fails = new Map<string, Finding>();
    let tightest: RestFound['tightest'] = null;
    const scale = { liftNm: (this.job.limits.handOpenN * this.last.frame.gripRadiusMm) / 1000 };
    for (const check of checks)
      for (const f of this.last.judged(check)) {
        if (f.state === 'fails') fails.set(demandKey(f), f);
        if (!WEIGHED.test(f.id) || f.value === null || f.limit === null) continue;
        const share = demandOf(f.id)!.share(f.value, f.limit, scale);
        if (tightest === null || share < tightest.share) tightest = { ...measured(f), share };
      }
    return { fails, tightest };
  }
}

/** A finding as a ranking tells it. */
export const measured = (f: Finding): Measured => ({
  id: f.id,
  subject: f.subject,
  caseId: f.everyCase ? null : f.case,
  value: f.value,
  limit: f.limit ?? 0,
  unit: f.unit,
});
