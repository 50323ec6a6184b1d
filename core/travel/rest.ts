import { type Rad, atan2, cos, dot, rad, sin, toDeg, toRad } from '../space';
import { coilEnergyJ, torsionEnergyJ } from '../strut';
import { bisect, edgesOf, momentLaw, validRuns } from './moment';
import type { Plan } from './plan';
import { turned } from './pose';

/** Samples no further apart than this: a pair of roots closer than it is found by the slope between them. */
const SAMPLE_RAD = toRad(0.25);

/** A run cut at the edges inside it. */
function splitAt([from, to]: [number, number], edges: readonly number[]): [number, number][] {
  const cuts = [from, ...edges.filter((e) => e > from && e < to).sort((a, b) => a - b), to];
  return cuts.slice(1).map((end, i) => [cuts[i] as number, end]);
}

/**
 * Every angle in [0, open], degrees ascending, where the lid is in balance without friction (the mean of opening and
 * closing moment is 0), to 1e-4°. Roots closer together than a sample are told apart by the slope between samples.
 * Angles where a strut is outside its stroke have no balance. A lid in balance everywhere has no rest angle to name.
 */
export function restAngles(plan: Plan): number[] {
  const law = momentLaw(plan);
  const value = (x: number): number => law.at(x).value;
  const slope = (x: number): number => law.at(x).slope;
  const found: number[] = [];
  const edges = edgesOf(plan);
  for (const [from, to] of validRuns(plan).flatMap((run) => splitAt(run, edges))) {
    const steps = Math.max(1, Math.ceil((to - from) / SAMPLE_RAD));
    const samples = new Float64Array(steps + 1).fill(to);
    for (let i = 0; i < steps; i++) samples[i] = from + ((to - from) * i) / steps;
    const { value: values, slope: slopes } = law.over(samples);
    if (values[0] === 0 && slopes[0] !== 0) found.push(from);
    for (let i = 1; i <= steps; i++) {
      const before = samples[i - 1]!;
      const at = samples[i]!;
      const was = values[i - 1]!;
      const is = values[i]!;
      if (was * is < 0) found.push(bisect(value, before, at));
      else if (was !== 0 && is !== 0 && slopes[i - 1]! * slopes[i]! < 0) {
        const turn = bisect(slope, before, at);
        if (value(turn) * is < 0) found.push(bisect(value, before, turn), bisect(value, turn, at));
      }
      if (is === 0 && (slopes[i] !== 0 || was !== 0)) found.push(at);
    }
  }
  return found.map((x) => toDeg(rad(x))).filter((deg, i, all) => i === 0 || deg - (all[i - 1] as number) > 1e-7);
}

/** Σ m·g·height of the masses that are on, at angleRad, J, along the case's gravity, against hinge point A. */
export function potentialJ(plan: Plan, angleRad: Rad): number {
  return -dot(plan.gravity, turned(plan.firstMoment, angleRad)) / 1000;
}

/** Energy in all springs at angleRad, J, up to a constant. */
export function springEnergyJ(plan: Plan, angleRad: Rad): number {
  let sum = 0;
  for (const spring of plan.springs) {
    const { k, p, q } = spring.torsion ? { k: 0, p: 0, q: 0 } : spring.law;
    const length = Math.sqrt(Math.max(k + p * cos(angleRad) + q * sin(angleRad), 0));
    sum +=
      spring.quantity *
      (spring.torsion ? torsionEnergyJ(spring.torsion, toDeg(angleRad)) : coilEnergyJ(spring.coil, length));
  }
  return sum;
}

/** Energy set free when the lid falls shut from fully open without its strut, J; negative for a lid that falls open. */
export const dropEnergyJ = (plan: Plan): number => potentialJ(plan, toRad(plan.openDeg)) - potentialJ(plan, rad(0));

/**
 * The largest energy that a fall without the strut can set free between any two angles of the travel, J, and where it
 * starts and ends, degrees. Springs count with what they store. Without them the weight moment has one sine wave over the
 * travel, so the extremes lie at its roots or ends; with them the travel is sampled every quarter degree.
 */
export function largestFall(plan: Plan): { energyJ: number; fromDeg: number; toDeg: number } {
  const open = toRad(plan.openDeg);
  const energy = (angle: Rad): number => potentialJ(plan, angle) + springEnergyJ(plan, angle);
  const first = atan2(-plan.cosNmm, plan.sinNmm);
  const candidates = [rad(0), open];
  for (let n = -2; n <= 2; n++) {
    const angle = rad(first + n * Math.PI);
    if (angle > 0 && angle < open) candidates.push(angle);
  }
  if (plan.springs.length > 0) {
    const steps = Math.ceil(open / SAMPLE_RAD);
    candidates.length = 0;
    const at = (i: number): Rad => rad((open * i) / steps);
    const total = (i: number): number => energy(at(i));
    for (let i = 0; i <= steps; i++) {
      const turns = i > 0 && i < steps && (total(i) - total(i - 1)) * (total(i + 1) - total(i)) <= 0;
      if (i === 0 || i === steps || turns) candidates.push(at(i));
    }
  }
  candidates.sort((a, b) => a - b);
  const heights = candidates.map(energy);
  let best = { energyJ: 0, fromDeg: 0, toDeg: 0 };
  // a fall can't climb over a hill in between, so it runs between neighbouring extremes
  for (let i = 1; i < candidates.length; i++) {
    const drop = (heights[i] as number) - (heights[i - 1] as number);
    const [top, foot] = drop > 0 ? [i, i - 1] : [i - 1, i];
    if (Math.abs(drop) > best.energyJ)
      best = {
        energyJ: Math.abs(drop),
        fromDeg: toDeg(candidates[top]!),
        toDeg: toDeg(candidates[foot]!),
      };
  }
  return best;
}
