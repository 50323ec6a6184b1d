import { fail } from '../error';
import type { LoadCase, ResolvedJob, Spec, Strut } from '../job';
import { cos, sin, toDeg, toRad } from '../space';
import { REFERENCE_K, STROKE_SLACK_MM, ZERO_C_K } from '../strut';
import {
  type Frame,
  type LengthLaw,
  type Plan,
  caseTable,
  holdingNm,
  kinematics,
  lengthAt,
  lengthRange,
  makeFrame,
  makePlan,
  momentsAt,
  pushingCount,
  strutStop,
  travelAngles,
} from '../travel';

/** One load case as the ranking's inner loop wants it. */
export interface CaseGrid {
  readonly loadCase: LoadCase;
  readonly mustHold: boolean;
  /** How many of the strut push here. */
  readonly quantity: 0 | 1 | 2;
  /** T/T₀. */
  readonly heat: number;
  /** Moment about the opening axis of all but this strut, N·mm, at each angle of the grid: opening and closing side. */
  readonly openingNmm: Float64Array;
  readonly closingNmm: Float64Array;
  /** The same at any angle (degrees), N·m. */
  readonly restAt: (angleDeg: number) => { readonly opening: number; readonly closing: number };
  /** What of the rest holds the lid open, friction not counted, N·m; NaN where another strut can't be there. */
  readonly restHoldsAt: (angleDeg: number) => number;
  /** That at the open end, N·mm. */
  readonly holdsNmm: number;
}

/**
 * What all struts between two pivots share: angles, lengths, lever arms, and per load case everything that is not the
 * strut. Made once, so that trying a strut touches flat arrays only.
 */
export interface Geometry {
  readonly job: ResolvedJob;
  readonly strut: Strut;
  readonly strutIndex: number;
  readonly frame: Frame;
  readonly law: LengthLaw;
  /** How far the lid opens where this strut does not stop it, degrees. */
  readonly openDeg: number;
  readonly angleDeg: Float64Array;
  readonly lengthMm: Float64Array;
  readonly armMm: Float64Array;
  readonly cases: readonly CaseGrid[];
}

/** A body that any geometry takes: stands in where the job's own could be refused. It stops nothing. */
const PLACEHOLDER: Spec = {
  extendedMm: 3e5,
  strokeMm: 20,
  forceN: 100,
  ratio: 1,
  rodMm: 8,
  tubeMm: 18,
  frictionN: 0,
  toleranceN: [0, 0],
};

/** The strut of an id, or the first; throws a LidwrightError when there is none. */
export function strutIndexOf(job: ResolvedJob, strutId?: string): number {
  const i = strutId === undefined ? 0 : job.struts.findIndex((s) => s.id === strutId);
  return job.struts[i]
    ? i
    : fail(
        strutId === undefined ? 'the job has no strut' : `there is no strut "${strutId}"`,
        ['struts'],
        'Place a strut first: its two pivots decide what it must be.',
      );
}

/** The same job with another spec for one strut. */
export const withSpec = (job: ResolvedJob, index: number, spec: Spec): ResolvedJob => ({
  ...job,
  struts: job.struts.map((s, i) => (i === index ? { ...s, spec } : s)),
});

/**
 * Prepares a job's strut (by id; the first without one) for trying many bodies between its pivots.
 * Throws a LidwrightError when the job can't be computed with any strut there.
 */
export function geometryOf(job: ResolvedJob, strutId?: string): Geometry {
  const strutIndex = strutIndexOf(job, strutId);
  const strut = job.struts[strutIndex]!;
  const frame = makeFrame(withSpec(job, strutIndex, PLACEHOLDER));
  const angleDeg = travelAngles(frame.openDeg);
  const poses = kinematics(frame, angleDeg);
  const { lengthMm, leverArmMm: armMm } = poses.struts[strutIndex]!;
  const others = { ...poses, struts: poses.struts.filter((_, i) => i !== strutIndex) };
  const cases = job.loadCases.map((loadCase): CaseGrid => {
    const plan = makePlan(frame, loadCase.id);
    const rest: Plan = { ...plan, struts: plan.struts.filter((_, i) => i !== strutIndex) };
    const table = caseTable(rest, others);
    const restAt = momentsAt(rest);
    const restHoldsAt = (deg: number): number => (Number.isNaN(restAt(deg).opening) ? NaN : holdingNm(rest, deg));
    return {
      loadCase,
      mustHold: loadCase.mustHold,
      quantity: pushingCount(strut, loadCase),
      heat: (loadCase.tempC + ZERO_C_K) / REFERENCE_K,
      openingNmm: table.openingMomentNm.map((nm) => nm * 1000),
      closingNmm: table.closingMomentNm.map((nm) => nm * 1000),
      restAt,
      restHoldsAt,
      holdsNmm: restHoldsAt(frame.openDeg) * 1000,
    };
  });
  const { law } = frame.struts[strutIndex]!;
  return { job, strut, strutIndex, frame, law, openDeg: frame.openDeg, angleDeg, lengthMm, armMm, cases };
}

/** How a body of two lengths goes through the travel: where it stops the lid, and whether it can be there throughout. */
export interface Reach {
  readonly openDeg: number;
  /** This strut is the lid's stop. */
  readonly isStop: boolean;
  /** Grid angles that lie in its travel, the open end not counted. */
  readonly count: number;
  /** Compression, lever arm and the rest's moments (one a case) at the open end. */
  readonly lastCompressionMm: number;
  readonly lastArmMm: number;
  readonly lastOpeningNmm: readonly number[];
  readonly lastClosingNmm: readonly number[];
  /** What of the rest holds open there. */
  readonly lastHoldsNmm: readonly number[];
  /** Stroke left when shortest, and before full extension when longest, mm. */
  readonly closedReserveMm: number;
  readonly openReserveMm: number;
  /** Furthest outside its stroke at any angle of the table, mm; 0 when it fits. */
  readonly outsideMm: number;
}

/** See Reach. Lengths in mm. */
export function reachOf(g: Geometry, extendedMm: number, strokeMm: number): Reach {
  let openDeg = g.openDeg;
  let isStop = false;
  if (g.job.travel.stop === 'strut') {
    const stop = strutStop(g.law, extendedMm, strokeMm);
    if (stop !== null && toDeg(stop) < openDeg) {
      openDeg = toDeg(stop);
      isStop = true;
    }
  }
  const n = g.angleDeg.length;
  const whole = Math.floor(openDeg + 1e-9);
  const count = isStop ? (openDeg - whole > 1e-9 ? whole + 1 : whole) : n - 1;
  const lengthLast = isStop ? lengthAt(g.law, openDeg) : g.lengthMm[n - 1]!;
  const { p, q } = g.law;
  const lastArmMm = isStop ? (q * cos(toRad(openDeg)) - p * sin(toRad(openDeg))) / (2 * lengthLast) : g.armMm[n - 1]!;
  const rest = isStop ? g.cases.map((c) => c.restAt(openDeg)) : null;
  let outsideMm = 0;
  for (let i = 0; i <= count; i++) {
    const length = i === count ? lengthLast : g.lengthMm[i]!;
    const out = Math.max(length - extendedMm, extendedMm - strokeMm - length);
    if (out > STROKE_SLACK_MM && out > outsideMm) outsideMm = out;
  }
  const range = lengthRange(g.law, openDeg);
  const raw = extendedMm - lengthLast;
  return {
    openDeg,
    isStop,
    count,
    lastCompressionMm: Math.min(Math.max(raw, 0), strokeMm),
    lastArmMm,
    lastOpeningNmm: rest ? rest.map((r) => r.opening * 1000) : g.cases.map((c) => c.openingNmm[n - 1]!),
    lastClosingNmm: rest ? rest.map((r) => r.closing * 1000) : g.cases.map((c) => c.closingNmm[n - 1]!),
    lastHoldsNmm: g.cases.map((c) => (isStop ? c.restHoldsAt(openDeg) * 1000 : c.holdsNmm)),
    closedReserveMm: range.shortestMm - (extendedMm - strokeMm),
    openReserveMm: extendedMm - range.longestMm,
    outsideMm,
  };
}
