import type { Spec } from '../job';
import { ATMOSPHERE_MPA, BUCKLING_FACTOR, gasBody, strutBuckling, usualBody, usualToleranceN } from '../strut';
import { LEAST_ARM_MM, lengthRange } from '../travel';
import { type Geometry, reachOf } from './geometry';

/** A demand that bounds a window, and where: of the one list of demands. */
export interface Bound {
  readonly id: string;
  readonly caseId: string | null;
  readonly caseName: string | null;
}

/** Extended lengths that both reach and shut for a stroke, mm. */
export interface LengthWindow {
  readonly strokeMm: number;
  readonly fromMm: number;
  readonly toMm: number;
  /** toMm − fromMm; negative when no length does both. */
  readonly widthMm: number;
  readonly empty: boolean;
  readonly from: Bound;
  readonly to: Bound;
  /** The least stroke for which a length does both, mm. */
  readonly leastStrokeMm: number;
  /** What breaks with every length between that was tried; null where some length does. */
  readonly blocked: Bound | null;
}

const bound = (id: Bound['id'], g?: Geometry, c?: number): Bound => {
  const loadCase = g && c !== undefined ? g.cases[c]!.loadCase : null;
  return { id, caseId: loadCase?.id ?? null, caseName: loadCase?.name ?? null };
};

/**
 * The window of extended lengths for a stroke, in closed form: long enough to reach the longest place with the reserve,
 * short enough that the compressed length leaves the reserve at the shortest. Where the strut is to be the stop, it must
 * reach `leastOpenDeg`, needs no reserve there, and is no longer than the lid's own most lets it.
 */
export function lengthWindow(
  g: Geometry,
  strokeMm: number,
  leastOpenDeg = 0,
  asStop = g.job.travel.stop === 'strut',
): LengthWindow {
  const { reserveMm } = g.job.limits;
  const range = lengthRange(g.law, asStop ? leastOpenDeg : g.openDeg);
  const fromMm = asStop ? range.longestMm : range.longestMm + reserveMm;
  const shut = range.shortestMm - reserveMm + strokeMm;
  const furthest = asStop ? lengthRange(g.law, g.openDeg).longestMm : Infinity;
  const toMm = Math.min(shut, furthest);
  return {
    strokeMm,
    fromMm,
    toMm,
    widthMm: toMm - fromMm,
    empty: toMm < fromMm,
    from: bound(asStop ? 'opening-angle' : 'open-reserve'),
    // longer, it leaves the stopping to the lid's own most, and lacks the reserve there
    to: bound(furthest < shut ? 'open-reserve' : 'closed-reserve'),
    leastStrokeMm: fromMm - range.shortestMm + reserveMm,
    blocked: null,
  };
}

/** A body whose force is still open. */
export interface OpenBody {
  readonly extendedMm: number;
  readonly strokeMm: number;
  readonly rodMm: number;
  readonly tubeMm: number;
  readonly ratio: number;
  readonly frictionN: number;
  /** Nobody stated it: then it does not count as holding. */
  readonly frictionAssumed: boolean;
  /** Tolerance of a nominal force, N. */
  readonly toleranceAt: (forceN: number) => readonly [number, number];
}

/** A spec with its force left open; an assumed tolerance follows the force, a stated one stays. */
export function openBody(spec: Spec): OpenBody {
  const usual = usualBody(spec.rodMm, spec.tubeMm);
  return {
    ...spec,
    frictionAssumed: spec.assumed?.includes('frictionN') ?? false,
    toleranceAt: spec.assumed?.includes('toleranceN')
      ? (forceN) => usualToleranceN(usual, forceN)
      : () => spec.toleranceN,
  };
}

export interface ForceBound extends Bound {
  readonly forceN: number;
}

/**
 * Nominal forces (F1) that meet every demand of the strut's own in every load case that must hold: at least what lifts within the limit and
 * holds open, at most what can still be shut (and what the rod bears). `least` is null where nothing asks for a force,
 * its force Infinity where none is enough; `most` is null where nothing bounds it, its force 0 where every one is too much.
 */
export interface ForceWindow {
  readonly least: ForceBound | null;
  readonly most: ForceBound | null;
  /** Width, N; negative when the two demands fight; Infinity when unbounded. */
  readonly widthN: number;
  readonly empty: boolean;
  /** Another strut is out of its stroke: nothing that hangs on force is known, and there is no window. */
  readonly unknown: boolean;
  /** What breaks with every force between that was tried; null where some force does. */
  readonly blocked: Bound | null;
}

/** Forces are looked for up to here, N: more than any gas spring gives. */
export const MOST_FORCE_N = 20_000;
const LEAST_FORCE_N = 1;
const EXACT_N = 1e-7;

/**
 * The window of nominal forces of a body. At every angle each demand is monotone in F1 (charge and, through the ratio,
 * the body's gas volume both rise the force with it), the way that the sign of the lever arm says; so each load case and
 * demand gives one bound, found by bisection to 1e-7 N over the angles of the travel table. `openDeg` cuts the travel
 * short where the strut is the stop. Compressions are kept inside the stroke, so the window says what force would do
 * even while the lengths do not fit.
 */
export function forceWindow(g: Geometry, body: OpenBody): ForceWindow {
  const { limits } = g.job;
  const radius = g.frame.gripRadiusMm;
  const reach = reachOf(g, body.extendedMm, body.strokeMm);
  const n = reach.count + 1;
  const armAt = (i: number): number => (i === n - 1 ? reach.lastArmMm : g.armMm[i]!);
  const openingAt = (c: number, i: number): number =>
    i === n - 1 ? reach.lastOpeningNmm[c]! : g.cases[c]!.openingNmm[i]!;
  const closingAt = (c: number, i: number): number =>
    i === n - 1 ? reach.lastClosingNmm[c]! : g.cases[c]!.closingNmm[i]!;
  // what the others leave over is not known where one of them can't be
  const known = g.cases.every(
    (grid, c) =>
      !grid.mustHold || Array.from({ length: n }, (_, i) => openingAt(c, i)).every((nmm) => !Number.isNaN(nmm)),
  );
  if (!known) return { least: null, most: null, widthN: -Infinity, empty: true, unknown: true, blocked: null };
  const area = (Math.PI * body.rodMm * body.rodMm) / 4;
  const half = body.frictionN / 2;
  const compression = Array.from({ length: n }, (_, i) =>
    i === n - 1 ? reach.lastCompressionMm : Math.min(Math.max(body.extendedMm - g.lengthMm[i]!, 0), body.strokeMm),
  );
  const deepest = Math.max(...compression);
  const { wallMm } = usualBody(body.rodMm, body.tubeMm);
  const bears = strutBuckling(body.extendedMm, body.strokeMm, body.rodMm, body.tubeMm, wallMm);
  // with the plain rule or as a stepped column: the larger of both loads is let
  const bearable = Math.max(bears.plainN, bears.steppedN) / BUCKLING_FACTOR;

  /** Gas force, N, of a nominal force in a case at a compression. */
  const gasOf = (c: number, forceN: number, frictionN = body.frictionN): ((s: number) => number) => {
    const { loadCase, heat } = g.cases[c]!;
    const fill = gasBody({ ...body, frictionN, forceN, toleranceN: [0, 0] }, 'nominal').fillPerMm;
    const [low, high] = body.toleranceAt(forceN);
    const shift = loadCase.force === 'low' ? low : loadCase.force === 'high' ? high : 0;
    const gauge = ((forceN + shift + frictionN / 2) / area) * (1 - loadCase.ageLossPercent / 100);
    const rated = (gauge + ATMOSPHERE_MPA) * heat;
    return (s) => ((rated * (1 - 5 * fill)) / (1 - fill * s) - ATMOSPHERE_MPA) * area;
  };

  /** Largest shortfall, N·mm or N, of a demand over the angles whose arm has one of the signs; ≤ 0 when met. */
  type Demand = (c: number, forceN: number, wants: 'more' | 'less') => number;
  const wantsMore = (arm: number, opening: boolean): boolean => (opening ? arm > 0 : arm < 0);
  const relevant = (arm: number, opening: boolean, wants: 'more' | 'less'): boolean =>
    Math.abs(arm) < LEAST_ARM_MM || wantsMore(arm, opening) === (wants === 'more');
  const overAngles =
    (opening: boolean): Demand =>
    (c, forceN, wants) => {
      const grid = g.cases[c]!;
      const gas = gasOf(c, forceN);
      let worst = -Infinity;
      for (let i = 0; i < n; i++) {
        const arm = armAt(i);
        if (!relevant(arm, opening, wants)) continue;
        const push = grid.quantity === 0 ? 0 : gas(compression[i]!) * arm;
        const drag = grid.quantity === 0 ? 0 : half * Math.abs(arm);
        const short = opening
          ? -(openingAt(c, i) + grid.quantity * (push - drag)) - limits.handOpenN * radius
          : closingAt(c, i) + grid.quantity * (push + drag) - limits.handCloseN * radius;
        if (short > worst) worst = short;
      }
      return worst;
    };
  const holds: Demand = (c, forceN, wants) => {
    const grid = g.cases[c]!;
    const arm = armAt(n - 1);
    // more force holds better where the arm is positive
    if (Math.abs(arm) >= LEAST_ARM_MM && arm > 0 !== (wants === 'more')) return -Infinity;
    const push = gasOf(c, forceN, body.frictionAssumed ? 0 : body.frictionN)(compression[n - 1]!) * arm;
    return limits.holdOpenNm * 1000 - (reach.lastHoldsNmm[c]! + grid.quantity * push);
  };
  const buckles: Demand = (c, forceN, wants) =>
    wants === 'more' || g.cases[c]!.quantity === 0 ? -Infinity : gasOf(c, forceN)(deepest) + half - bearable;
  const demands: readonly [Bound['id'], Demand][] = [
    ['hand-opening', overAngles(true)],
    ['hand-closing', overAngles(false)],
    ['stays-open', holds],
    ['rod-buckling', buckles],
  ];

  let least: ForceBound | null = null;
  let most: ForceBound | null = null;
  g.cases.forEach((grid, c) => {
    if (!grid.mustHold) return;
    for (const [id, demand] of demands) {
      if (demand(c, LEAST_FORCE_N, 'more') > 0) {
        const met = (f: number): boolean => demand(c, f, 'more') <= 0;
        const forceN = met(MOST_FORCE_N) ? bisect(met, LEAST_FORCE_N, MOST_FORCE_N) : Infinity;
        if (!least || forceN > least.forceN) least = { ...bound(id, g, c), forceN };
      }
      if (demand(c, MOST_FORCE_N, 'less') > 0) {
        const met = (f: number): boolean => demand(c, f, 'less') <= 0;
        const forceN = met(LEAST_FORCE_N) ? bisect(met, MOST_FORCE_N, LEAST_FORCE_N) : 0;
        if (!most || forceN < most.forceN) most = { ...bound(id, g, c), forceN };
      }
    }
  });
  const low = (least as ForceBound | null)?.forceN ?? 0;
  const high = (most as ForceBound | null)?.forceN ?? Infinity;
  // where no force is enough, or every one too much, there is no width to speak of
  const none = low === Infinity || high === 0;
  return {
    ...{ least, most, widthN: none ? -Infinity : high - low },
    ...{ empty: none || high < low, unknown: false, blocked: null },
  };
}

/** The end of the met side next to where `met` turns, between a force that is not met and one that is. */
function bisect(met: (forceN: number) => boolean, unmet: number, good: number): number {
  let [bad, ok] = [unmet, good];
  while (Math.abs(ok - bad) > EXACT_N) {
    const middle = (bad + ok) / 2;
    if (met(middle)) ok = middle;
    else bad = middle;
  }
  return ok;
}
