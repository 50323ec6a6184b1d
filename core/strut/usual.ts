/** A number with the range it usually lies in. */
export interface UsualRange {
  readonly usual: number;
  readonly low: number;
  readonly high: number;
}

/** What struts of a rod and tube mostly are. Common practice, no source: a maker's own sheet comes first. */
export interface UsualBody {
  readonly rodMm: number;
  readonly tubeMm: number;
  /** F2/F1. */
  readonly ratio: UsualRange;
  /** Compressing less extending force, N. */
  readonly frictionN: UsualRange;
  /** Either side of F1, as a share of it. */
  readonly toleranceShare: UsualRange;
  /** But no less than this, N. */
  readonly leastToleranceN: number;
  /** Wall of the tube, mm. */
  readonly wallMm: number;
  /** Nominal forces that are made, N. */
  readonly forceN: { readonly low: number; readonly high: number };
  /** Strokes that are made, mm. */
  readonly strokeMm: { readonly low: number; readonly high: number };
  /** Extended length over twice the stroke: piston, seal, and both end fittings, mm. */
  readonly endAllowanceMm: number;
  /** Thread of the end fittings: that of the ball joint which core/joint puts on such a rod where a job names no size. */
  readonly endThread: string;
}

const range = (low: number, usual: number, high: number): UsualRange => ({ low, usual, high });

/** Common practice, no source: the four metric rod and tube pairs that are sold nearly everywhere. */
export const USUAL_BODIES: readonly UsualBody[] = [
  {
    rodMm: 6,
    tubeMm: 15,
    ratio: range(1.2, 1.3, 1.4),
    frictionN: range(10, 20, 35),
    toleranceShare: range(0.03, 0.06, 0.1),
    leastToleranceN: 10,
    wallMm: 1,
    forceN: { low: 50, high: 400 },
    strokeMm: { low: 20, high: 150 },
    endAllowanceMm: 45,
    endThread: 'M6',
  },
  {
    rodMm: 8,
    tubeMm: 18,
    ratio: range(1.25, 1.38, 1.5),
    frictionN: range(15, 30, 50),
    toleranceShare: range(0.03, 0.06, 0.1),
    leastToleranceN: 15,
    wallMm: 1,
    forceN: { low: 100, high: 700 },
    strokeMm: { low: 40, high: 250 },
    endAllowanceMm: 50,
    endThread: 'M8',
  },
  {
    rodMm: 10,
    tubeMm: 22,
    ratio: range(1.25, 1.38, 1.5),
    frictionN: range(20, 40, 70),
    toleranceShare: range(0.03, 0.06, 0.1),
    leastToleranceN: 20,
    wallMm: 1.25,
    forceN: { low: 150, high: 1200 },
    strokeMm: { low: 50, high: 400 },
    endAllowanceMm: 60,
    endThread: 'M8',
  },
  {
    rodMm: 14,
    tubeMm: 28,
    ratio: range(1.35, 1.52, 1.7),
    frictionN: range(30, 70, 120),
    toleranceShare: range(0.03, 0.06, 0.1),
    leastToleranceN: 30,
    wallMm: 1.5,
    forceN: { low: 200, high: 2500 },
    strokeMm: { low: 70, high: 500 },
    endAllowanceMm: 80,
    endThread: 'M10',
  },
];

/**
 * What is usual for a rod and tube, mm: the pair in the table that is nearest by rod, then by tube. `exact` says whether
 * it is that very pair; where not, the numbers are a neighbour's. Common practice, no source.
 */
export function usualBody(rodMm: number, tubeMm: number): UsualBody & { readonly exact: boolean } {
  const off = (b: UsualBody): number => Math.abs(b.rodMm - rodMm) * 1000 + Math.abs(b.tubeMm - tubeMm);
  const best = USUAL_BODIES.reduce((a, b) => (off(b) < off(a) ? b : a));
  return { ...best, exact: off(best) === 0 };
}

/** Lower and upper tolerance of a nominal force, N, at the usual share or another. */
export function usualToleranceN(
  body: UsualBody,
  forceN: number,
  share: number = body.toleranceShare.usual,
): readonly [number, number] {
  // a share of the force, never more than half of it: a lower tolerance must leave a force
  const each = Math.min(Math.max(share * forceN, body.leastToleranceN), forceN / 2);
  return [-each, each];
}
