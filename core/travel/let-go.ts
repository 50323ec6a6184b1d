import { rad, toDeg, toRad } from '../space';
import { type MomentLaw, type Moments, bisect, edgesOf, momentLaw, validRuns } from './moment';
import type { Plan } from './plan';
import { deadCentres } from './pose';

/** A stretch of the travel and the energy that the lid gains over it while nobody holds it. */
export interface Throw {
  readonly energyJ: number;
  /** Null where nothing is gained. */
  readonly fromDeg: number | null;
  readonly toDeg: number | null;
}

/** What a lid does by itself, struts fitted and friction opposing; undamped, so never more. */
export interface LetGo {
  /** The greatest gain over any stretch either way; null where a strut is out of its stroke over the whole travel. */
  readonly opening: Throw | null;
  readonly shutting: Throw | null;
  /** Push at the grip while it is held shut, N; null where a strut can't be there then. */
  readonly gripAtShutN: number | null;
}

/** Knots no further apart than this: between them the moment is so smooth that the rule below is right to 1e-9 of the energy. */
const STEP_RAD = toRad(1);
/** Three-point Gauss–Legendre rule, exact to the fifth power; it never asks at a knot, where a spring may jump. */
const NODE = Math.sqrt(0.6);
/** At a knot a spring may jump: which side counts is told this far inside. */
const INSIDE = 1e-9;
/** Where a piece from knot to knot is asked, as shares of it: just inside both ends, and the rule's three places between. */
const PLACES = [INSIDE, (1 - NODE) / 2, 0.5, (1 + NODE) / 2, 1 - INSIDE];

/** A run of the travel cut at steps and at the edges inside it, rad. */
function knotsOf([from, to]: readonly [number, number], edges: readonly number[]): number[] {
  const knots = [from];
  for (const end of [...edges.filter((e) => e > from && e < to), to]) {
    const start = knots.at(-1)!;
    const steps = Math.ceil((end - start) / STEP_RAD);
    for (let i = 1; i < steps; i++) knots.push(start + ((end - start) * i) / steps);
    knots.push(end);
  }
  return knots;
}

const meanOf = (below: number, middle: number, above: number): number => (5 * below + 8 * middle + 5 * above) / 18;

/** Moments at the places of every piece between knots. */
function momentsOf(law: MomentLaw, knots: readonly number[]): Moments {
  const angles = new Float64Array(PLACES.length * (knots.length - 1));
  for (let k = 1, j = 0; k < knots.length; k++)
    for (const share of PLACES) angles[j++] = knots[k - 1]! + share * (knots[k]! - knots[k - 1]!);
  return law.over(angles);
}

/**
 * The greatest sum of neighbouring gains from knot to knot, opening (way 1) or shutting (−1), zeros between them included.
 * Opening turns by value − drag; shutting, θ falls: value + drag takes away what it gains.
 */
function greatest(knots: readonly number[], { value, drag }: Moments, way: 1 | -1, law: MomentLaw): Throw {
  // the ends of the pieces in the order they are passed, and what each gains, mJ
  const ends = [way === 1 ? knots[0]! : knots.at(-1)!];
  const gains: number[] = [];
  const left = (i: number): number => value[i]! - way * drag[i]!;
  const leftAt = (x: number): number => {
    const moment = law.at(x);
    return moment.value - way * moment.drag;
  };
  const last = knots.length - 2;
  for (let n = 0; n <= last; n++) {
    const k = way === 1 ? n : last - n;
    const from = knots[k]!;
    const to = knots[k + 1]!;
    const i = PLACES.length * k;
    if (left(i) * left(i + 4) >= 0) {
      gains.push(way * (to - from) * meanOf(left(i + 1), left(i + 2), left(i + 3)));
      ends.push(way === 1 ? to : from);
      continue;
    }
    const zero = bisect(leftAt, from + INSIDE * (to - from), to - INSIDE * (to - from));
    for (const end of [zero, way === 1 ? to : from]) {
      const start = ends.at(-1)!;
      const [near, middle, far] = [1, 2, 3].map((place) => leftAt(start + PLACES[place]! * (end - start)));
      gains.push((end - start) * meanOf(near!, middle!, far!));
      ends.push(end);
    }
  }
  return greatestRun(ends, gains);
}

/** The stretch of neighbouring pieces that gains most. */
function greatestRun(ends: readonly number[], gains: readonly number[]): Throw {
  let best = 0;
  let [from, to] = [0, 0];
  let sum = 0;
  let start = 0;
  for (let i = 0; i < gains.length; i++) {
    if (sum <= 0) {
      sum = 0;
      start = i;
    }
    sum += gains[i]!;
    if (sum <= best) continue;
    best = sum;
    from = start;
    to = i + 1;
  }
  if (best === 0) return { energyJ: 0, fromDeg: null, toDeg: null };
  return { energyJ: best / 1000, fromDeg: toDeg(rad(ends[from]!)), toDeg: toDeg(rad(ends[to]!)) };
}

/**
 * What a lid does when it is let go, in one load case: the opening moment integrated over the travel, and the closing one
 * back, between knots at every step, end of a stroke, spring or seal, dead centre (friction turns there) and zero.
 */
export function letGo(plan: Plan): LetGo {
  const law = momentLaw(plan);
  const edges = [...edgesOf(plan), ...plan.struts.flatMap((s) => deadCentres(s.law))].sort((a, b) => a - b);
  const runs = validRuns(plan);
  const parts = runs.map((run) => {
    const knots = knotsOf(run, edges);
    return { knots, moments: momentsOf(law, knots) };
  });
  const most = (way: 1 | -1): Throw | null =>
    parts
      .map(({ knots, moments }) => greatest(knots, moments, way, law))
      .reduce<Throw | null>((a, b) => (a && a.energyJ >= b.energyJ ? a : b), null);
  const shut = law.at(0);
  return {
    opening: most(1),
    shutting: most(-1),
    gripAtShutN: runs[0]?.[0] === 0 ? Math.max(0, shut.value - shut.drag) / plan.gripRadiusMm : null,
  };
}
