import { dot, toDeg, toRad } from '../space';
import {
  ATMOSPHERE_MPA,
  STROKE_SLACK_MM,
  coilEnergyJ,
  coilPushN,
  extendedMPa,
  torsionEnergyJ,
  torsionMomentNm,
} from '../strut';
import type { Plan, StrutPlan } from './plan';
import { type LengthLaw, anglesOfLength, turned } from './pose';

/** Samples no further apart than this: a pair of roots closer than it is found by the slope between them. */
const SAMPLE_RAD = toRad(0.25);
/** Roots are pinned far below the 1e-4° that results promise. */
const ROOT_RAD = toRad(1e-9);

/** A strut or coil between its pivots: how many, its length law, its push at a length, N, and the push's slope, N/mm. */
interface Pusher extends LengthLaw {
  readonly quantity: number;
  push(lengthMm: number): number;
  slope(lengthMm: number, pushN: number): number;
}

function strutPusher({ law, quantity, extendedMm, strokeMm, gas }: StrutPlan, tempC: number): Pusher {
  const fullMPa = extendedMPa(gas, tempC);
  const { fillPerMm: c, rodAreaMm2: area } = gas;
  const squeeze = (lengthMm: number): number => 1 - c * Math.min(Math.max(extendedMm - lengthMm, 0), strokeMm);
  return {
    ...law,
    quantity,
    push: (lengthMm) => (fullMPa / squeeze(lengthMm) - ATMOSPHERE_MPA) * area,
    // F + P_atm·a ∝ 1/(1 − c·s), so dF/ds = (F + P_atm·a)·c/(1 − c·s), and ds/dℓ = −1
    slope: (lengthMm, pushN) => (-(pushN + ATMOSPHERE_MPA * area) * c) / squeeze(lengthMm),
  };
}

/** Moment without friction, N·mm, and its slope per radian, as a function of the angle, rad. */
function meanMoment(plan: Plan): (angleRad: number) => { value: number; slope: number } {
  const pushers = plan.struts.filter((s) => s.quantity > 0).map((s) => strutPusher(s, plan.tempC));
  for (const { coil, law, quantity } of plan.springs.filter((s) => s.coil !== null))
    pushers.push({
      ...law,
      quantity,
      push: (lengthMm) => coilPushN(coil, lengthMm),
      slope: (_, pushN) => (pushN === 0 ? 0 : -coil.rateNPerMm),
    });
  const torsions = plan.springs.filter((s) => s.torsion !== null);
  return (angleRad) => {
    const c = Math.cos(angleRad);
    const s = Math.sin(angleRad);
    let value = plan.cosNmm * c + plan.sinNmm * s;
    let slope = -plan.cosNmm * s + plan.sinNmm * c;
    for (const line of pushers) {
      const { k, p, q, quantity } = line;
      const length = Math.sqrt(Math.max(k + p * c + q * s, 0));
      const arm = (q * c - p * s) / (2 * length);
      const armSlope = -(q * s + p * c) / (2 * length) - (arm * arm) / length;
      const push = line.push(length);
      value += quantity * push * arm;
      slope += quantity * (push * armSlope + line.slope(length, push) * arm * arm);
    }
    for (const { torsion, quantity } of torsions) {
      const moment = torsionMomentNm(torsion, toDeg(angleRad)) * 1000;
      value += quantity * moment;
      if (moment !== 0) slope -= (quantity * torsion.rateNmPerDeg * 1000 * 180) / Math.PI;
    }
    return { value, slope };
  };
}

/** θ in (0, open), rad, where a spring begins or ends to act: between them the moment is smooth. */
function springEdges(plan: Plan, open: number): number[] {
  return plan.springs
    .flatMap((spring) =>
      spring.torsion
        ? spring.torsion.turns === 'open'
          ? [toRad(spring.torsion.preloadNm / spring.torsion.rateNmPerDeg)]
          : []
        : anglesOfLength(spring.law, spring.coil.lengthMm),
    )
    .filter((angle) => angle > 0 && angle < open);
}

/** Runs of θ in [0, open], rad, over which every strut is inside its stroke. */
export function validRuns(plan: Plan): [number, number][] {
  const open = toRad(plan.openDeg);
  const edges = new Set<number>([0, open]);
  for (const strut of plan.struts.filter((s) => s.quantity > 0))
    for (const lengthMm of [strut.extendedMm, strut.extendedMm - strut.strokeMm])
      for (const angle of anglesOfLength(strut.law, lengthMm)) if (angle < open) edges.add(angle);
  const sorted = [...edges].sort((a, b) => a - b);
  const inside = (angle: number): boolean =>
    plan.struts.every(({ law, extendedMm, strokeMm, quantity }) => {
      if (quantity === 0) return true;
      const length = Math.sqrt(Math.max(law.k + law.p * Math.cos(angle) + law.q * Math.sin(angle), 0));
      return length <= extendedMm + STROKE_SLACK_MM && length >= extendedMm - strokeMm - STROKE_SLACK_MM;
    });
  const runs: [number, number][] = [];
  for (let i = 1; i < sorted.length; i++) {
    const from = sorted[i - 1] as number;
    const to = sorted[i] as number;
    if (!inside((from + to) / 2)) continue;
    const last = runs.at(-1);
    if (last && last[1] === from) last[1] = to;
    else runs.push([from, to]);
  }
  return runs;
}

/** A run cut at the edges inside it. */
function splitAt([from, to]: [number, number], edges: readonly number[]): [number, number][] {
  const cuts = [from, ...edges.filter((e) => e > from && e < to).sort((a, b) => a - b), to];
  return cuts.slice(1).map((end, i) => [cuts[i] as number, end]);
}

/** Root of f between a and b, where f changes sign; bisection, because it can't miss. */
function bisect(f: (x: number) => number, a: number, b: number): number {
  let low = a;
  let high = b;
  const lowSign = Math.sign(f(low));
  while (high - low > ROOT_RAD) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high) break;
    if (Math.sign(f(middle)) === lowSign) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/**
 * Every angle in [0, open], degrees ascending, where the lid is in balance without friction (the mean of opening and
 * closing moment is 0), to 1e-4°. Roots closer together than a sample are told apart by the slope between samples.
 * Angles where a strut is outside its stroke have no balance. A lid in balance everywhere has no rest angle to name.
 */
export function restAngles(plan: Plan): number[] {
  const moment = meanMoment(plan);
  const value = (x: number): number => moment(x).value;
  const slope = (x: number): number => moment(x).slope;
  const found: number[] = [];
  const edges = springEdges(plan, toRad(plan.openDeg));
  for (const [from, to] of validRuns(plan).flatMap((run) => splitAt(run, edges))) {
    const steps = Math.max(1, Math.ceil((to - from) / SAMPLE_RAD));
    let previous = { at: from, ...moment(from) };
    if (previous.value === 0 && previous.slope !== 0) found.push(from);
    for (let i = 1; i <= steps; i++) {
      const at = i === steps ? to : from + ((to - from) * i) / steps;
      const here = { at, ...moment(at) };
      if (previous.value * here.value < 0) found.push(bisect(value, previous.at, at));
      else if (previous.value !== 0 && here.value !== 0 && previous.slope * here.slope < 0) {
        const turn = bisect(slope, previous.at, at);
        if (value(turn) * here.value < 0) found.push(bisect(value, previous.at, turn), bisect(value, turn, at));
      }
      if (here.value === 0 && (here.slope !== 0 || previous.value !== 0)) found.push(at);
      previous = here;
    }
  }
  return found.map(toDeg).filter((deg, i, all) => i === 0 || deg - (all[i - 1] as number) > 1e-7);
}

/** Σ m·g·height of the masses that are on, at angleRad, J, along the case's gravity, against hinge point A. */
export function potentialJ(plan: Plan, angleRad: number): number {
  return -dot(plan.gravity, turned(plan.firstMoment, angleRad)) / 1000;
}

/** Energy in all springs at angleRad, J, up to a constant. */
export function springEnergyJ(plan: Plan, angleRad: number): number {
  let sum = 0;
  for (const spring of plan.springs) {
    const { k, p, q } = spring.torsion ? { k: 0, p: 0, q: 0 } : spring.law;
    const length = Math.sqrt(Math.max(k + p * Math.cos(angleRad) + q * Math.sin(angleRad), 0));
    sum +=
      spring.quantity *
      (spring.torsion ? torsionEnergyJ(spring.torsion, toDeg(angleRad)) : coilEnergyJ(spring.coil, length));
  }
  return sum;
}

/** Energy set free when the lid falls shut from fully open without its strut, J; negative for a lid that falls open. */
export const dropEnergyJ = (plan: Plan): number => potentialJ(plan, toRad(plan.openDeg)) - potentialJ(plan, 0);

/**
 * The largest energy that a fall without the strut can set free between any two angles of the travel, J, and where it
 * starts and ends, degrees. Springs count with what they store. Without them the weight moment has one sine wave over the
 * travel, so the extremes lie at its roots or ends; with them the travel is sampled every quarter degree.
 */
export function largestFall(plan: Plan): { energyJ: number; fromDeg: number; toDeg: number } {
  const open = toRad(plan.openDeg);
  const first = Math.atan2(-plan.cosNmm, plan.sinNmm);
  const candidates = [0, open];
  for (let n = -2; n <= 2; n++) {
    const angle = first + n * Math.PI;
    if (angle > 0 && angle < open) candidates.push(angle);
  }
  if (plan.springs.length > 0) {
    const steps = Math.ceil(open / SAMPLE_RAD);
    candidates.length = 0;
    const total = (i: number): number => potentialJ(plan, (open * i) / steps) + springEnergyJ(plan, (open * i) / steps);
    for (let i = 0; i <= steps; i++) {
      const turns = i > 0 && i < steps && (total(i) - total(i - 1)) * (total(i + 1) - total(i)) <= 0;
      if (i === 0 || i === steps || turns) candidates.push((open * i) / steps);
    }
  }
  candidates.sort((a, b) => a - b);
  const heights = candidates.map((angle) => potentialJ(plan, angle) + springEnergyJ(plan, angle));
  let best = { energyJ: 0, fromDeg: 0, toDeg: 0 };
  // a fall can't climb over a hill in between, so it runs between neighbouring extremes
  for (let i = 1; i < candidates.length; i++) {
    const drop = (heights[i] as number) - (heights[i - 1] as number);
    const [top, foot] = drop > 0 ? [i, i - 1] : [i - 1, i];
    if (Math.abs(drop) > best.energyJ)
      best = {
        energyJ: Math.abs(drop),
        fromDeg: toDeg(candidates[top] as number),
        toDeg: toDeg(candidates[foot] as number),
      };
  }
  return best;
}
