// Fit-ups that never happened: a lid with one thing wrong, read with the tools' own σ.
import type { ResolvedJob } from '../../../core/job';
import {
  type Cause,
  type Change,
  type Probe,
  type Reading,
  type Trial,
  USUAL_PROOF_SIGMA,
  causesOf,
  doubtsOf,
  fitUpPlan,
  makeProber,
  makeTrial,
  opensToDeg,
  patchPlan,
} from '../../../core/prove';
import { sweep, travelAngles } from '../../../core/travel';
import { bandOf, weightNm } from '../../../core/prove/doubts';
import { random } from '../photo/random';

/** Seeded numbers: even in [0, 1), and normal with σ 1. */
export function numbers(seed: number): { even: () => number; normal: () => number } {
  const from = random(seed);
  return { even: () => from.uniform(), normal: () => from.normal(1) };
}

export interface Bed {
  readonly job: ResolvedJob;
  readonly trial: Trial;
  /** What the checklist asks for. */
  readonly probes: readonly Probe[];
}

/** The checklist of a job: all of it, or only what is needed. */
export function bedOf(job: ResolvedJob, which: 'all' | 'needed'): Bed {
  const plan = fitUpPlan(job).filter((p) => p.predicted !== null && (which === 'all' || !p.optional));
  return { job, trial: makeTrial(job), probes: plan.map((p) => p.probe) };
}

const sigmaOf = (what: Probe['what'], value: number): number =>
  what === 'lid-mass' ? Math.max(USUAL_PROOF_SIGMA[what].sigma, 0.005 * value) : USUAL_PROOF_SIGMA[what].sigma;

/** Where the lid starts by itself under a change, degrees: the first crossing of the hand force; null where there is none. */
function startsAt({ trial }: Bed, probe: Probe, change: Change): number | null {
  const plan = patchPlan(trial.plan(probe), change, trial.directions);
  const table = sweep(plan, travelAngles(opensToDeg(plan), 0.25));
  const force = probe.what === 'lifts-from' ? table.handOpeningN : table.handClosingN;
  for (let i = 1; i < force.length; i++) {
    const [a, b] = [force[i - 1]!, force[i]!];
    if (a * b <= 0 && a !== b) return table.angleDeg[i - 1]! + (0.25 * a) / (a - b);
  }
  return null;
}

/** What the everyday errors of a lid fitted well do to the readings, one draw: each by its own σ, their effects added up. */
function everyday(bed: Bed, normal: () => number): Float64Array {
  const prober = makeProber(bed.trial, bed.probes);
  const plain = prober.read({});
  const sum = new Float64Array(bed.probes.length);
  for (const doubt of doubtsOf(bed.trial)) {
    const now = prober.read(doubt.change(doubt.sigma * normal()));
    for (let i = 0; i < sum.length; i++) sum[i] = sum[i]! + now[i]! - plain[i]!;
  }
  return sum;
}

/**
 * What a person would read on a lid with a change in it, each reading with its tool's σ of normal noise; `hidden` puts the
 * everyday errors of AS_BUILT in as well (angles where the lid starts by itself are then left out).
 */
export function readLid(bed: Bed, change: Change, normal: () => number, hidden = false): Reading[] {
  const truth = makeProber(bed.trial, bed.probes).read(change);
  const off = hidden ? everyday(bed, normal) : null;
  return bed.probes.flatMap((probe, i): Reading[] => {
    const starts = probe.what === 'lifts-from' || probe.what === 'falls-from';
    if (starts && off) return [];
    const value = starts ? startsAt(bed, probe, change) : truth[i]! + (off?.[i] ?? 0);
    if (value === null || !Number.isFinite(value)) return [];
    const sigma = sigmaOf(probe.what, value);
    const read = value + sigma * normal();
    // an angle is read where the lid started, and nobody reads below shut
    return [{ ...probe, id: `r${i}`, sigma, value: read, ...(starts ? { angleDeg: Math.max(0, read) } : {}) }];
  });
}

/**
 * The smallest amount of each cause that is planted: something a person would call wrong. Masses 15 %, centre 8 % of the
 * hinge-to-grip distance, strut force 20 %, hinge friction 6 % of the weight's moment, strut friction twice its band, pivots
 * 15 mm, length 12 mm, a strut that gives nothing.
 */
function leastOf(bed: Bed, cause: Cause): number[] {
  const strut = bed.job.struts.find((s) => s.id === cause.strut);
  switch (cause.kind) {
    case 'mass':
      return [0.15];
    case 'centre':
      return [0.08 * bed.trial.frame.gripRadiusMm];
    case 'force':
      return [0.2];
    case 'hinge-friction':
      return [0.06 * weightNm(bed.job, bed.trial)];
    case 'strut-friction':
      return [2 * bandOf(strut!)];
    case 'base-pivot':
    case 'lid-pivot':
      return [15, 15];
    case 'extended':
      return [12];
    default:
      return [];
  }
}

export interface Planted {
  readonly id: string;
  /** Times the least amount, so that some reading moves by 4 of its σ. */
  readonly times: number;
  readonly draw: (even: () => number) => Change;
}

/** Most that the least amount is grown by: a cause that needs more to show at all can't be planted sensibly. */
const MOST_TIMES = 3;

/** Every cause that can show in these readings at a size that makes sense. */
export function plantable(bed: Bed): Planted[] {
  const prober = makeProber(bed.trial, bed.probes);
  const plain = prober.read({});
  const shift = (change: Change): number => {
    const now = prober.read(change);
    return Math.max(...bed.probes.map((p, i) => Math.abs(now[i]! - plain[i]!) / sigmaOf(p.what, plain[i]!)));
  };
  return causesOf(bed.trial, []).flatMap((cause): Planted[] => {
    const least = leastOf(bed, cause);
    let times = 1;
    while (least.length > 0 && shift(cause.change(least.map((v) => v * times))) < 4) {
      times *= 1.2;
      if (times > MOST_TIMES) return [];
    }
    const rubs = cause.kind.endsWith('friction');
    return [
      {
        id: cause.id,
        times,
        draw(even) {
          if (least.length === 2) {
            const turn = 2 * Math.PI * even();
            return cause.change([least[0]! * times * Math.cos(turn), least[1]! * times * Math.sin(turn)]);
          }
          // friction is more than entered; everything else may be off either way
          return cause.change(least.map((v) => v * times * (rubs || even() < 0.5 ? 1 : -1)));
        },
      },
    ];
  });
}
