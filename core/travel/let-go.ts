import { rad, toDeg, toRad } from '../space';
import { bisect, edgesOf, momentLaw, validRuns } from './moment';
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

type Moment = (angleRad: number) => number;

/** Knots no further apart than this: between them the moment is smooth. */
const STEP_RAD = toRad(0.5);
/** Three-point Gauss–Legendre rule, exact to the fifth power; it never asks at a knot, where a spring may jump. */
const NODE = Math.sqrt(0.6);
/** At a knot a spring may jump: which side counts is told this far inside. */
const INSIDE = 1e-9;

const integral = (f: Moment, a: number, b: number): number => {
  const [middle, half] = [(a + b) / 2, (b - a) / 2];
  return (half / 9) * (5 * f(middle - NODE * half) + 8 * f(middle) + 5 * f(middle + NODE * half));
};

/** A run of the travel cut at steps and at the edges inside it. */
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

/** The greatest sum of neighbouring gains from knot to knot, zeros of the moment between them included. */
function greatest(knots: readonly number[], f: Moment): Throw {
  let best: Throw = { energyJ: 0, fromDeg: null, toDeg: null };
  let [sum, start] = [0, knots[0]!];
  const step = (a: number, b: number): void => {
    if (sum <= 0) [sum, start] = [0, a];
    sum += integral(f, a, b) / 1000;
    if (sum > best.energyJ) best = { energyJ: sum, fromDeg: toDeg(rad(start)), toDeg: toDeg(rad(b)) };
  };
  for (let i = 1; i < knots.length; i++) {
    const [a, b] = [knots[i - 1]!, knots[i]!];
    const [inA, inB] = [a + INSIDE * (b - a), b - INSIDE * (b - a)];
    if (f(inA) * f(inB) >= 0) step(a, b);
    else {
      const zero = b > a ? bisect(f, inA, inB) : bisect(f, inB, inA);
      step(a, zero);
      step(zero, b);
    }
  }
  return best;
}

/**
 * What a lid does when it is let go, in one load case: the opening moment integrated over the travel, and the closing one
 * back, between knots at every step, end of a stroke, spring or seal, dead centre (friction turns there) and zero.
 */
export function letGo(plan: Plan): LetGo {
  const law = momentLaw(plan);
  const edges = [...edgesOf(plan), ...plan.struts.flatMap((s) => deadCentres(s.law))].sort((a, b) => a - b);
  const runs = validRuns(plan).map((run) => knotsOf(run, edges));
  const most = (paths: readonly number[][], f: Moment): Throw | null =>
    paths
      .map((knots) => greatest(knots, f))
      .reduce<Throw | null>((a, b) => (a && a.energyJ >= b.energyJ ? a : b), null);
  const opening: Moment = (x) => {
    const { value, drag } = law(x);
    return value - drag;
  };
  // shutting, θ falls: dθ is negative and M_closing = value + drag takes away what it gains
  const shutting: Moment = (x) => {
    const { value, drag } = law(x);
    return value + drag;
  };
  return {
    opening: most(runs, opening),
    shutting: most(
      runs.map((knots) => [...knots].reverse()),
      shutting,
    ),
    gripAtShutN: runs[0]?.[0] === 0 ? Math.max(0, opening(0)) / plan.gripRadiusMm : null,
  };
}
