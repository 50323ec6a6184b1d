import { type Rad, cos, rad, sin, toDeg, toRad } from '../space';
import {
  ATMOSPHERE_MPA,
  type CoilLaw,
  STROKE_SLACK_MM,
  type TorsionLaw,
  coilPushN,
  extendedMPa,
  torsionMomentNm,
} from '../strut';
import { rowsOf, sealPushN } from './kinematics';
import type { Plan, SealPlan, StrutPlan, WindPlan } from './plan';
import { type LengthLaw, anglesOfLength } from './pose';
import { windArmMm, windPushN, windSlopeN } from './sweep';

/** Roots are pinned far below the 1e-4° that results promise. */
const ROOT_RAD = toRad(1e-9);

/** Moment without friction, N·mm, its slope per radian, and what friction takes from it either way. */
interface Moment<T> {
  readonly value: T;
  readonly slope: T;
  readonly drag: T;
}
/** One value an angle: a search over the travel asks for thousands, and an object for each costs more than its sums. */
export interface Moments extends Moment<Float64Array> {
  readonly cos: Float64Array;
  readonly sin: Float64Array;
}

const emptyMoments = (n: number): Moments => {
  const rows = rowsOf(5 * n);
  return { value: rows(n), slope: rows(n), drag: rows(n), cos: rows(n), sin: rows(n) };
};

export interface MomentLaw {
  readonly at: (angleRad: number) => Moment<number>;
  readonly over: (anglesRad: Float64Array) => Moments;
}

/** Everything that turns the lid, as a function of the angle, rad; struts outside their stroke as if at its end. */
export function momentLaw(plan: Plan): MomentLaw {
  const { struts, springs, seal, wind } = plan;
  const over = (anglesRad: Float64Array, into = emptyMoments(anglesRad.length)): Moments => {
    putWeight(plan, anglesRad, into);
    for (const strut of struts) if (strut.quantity > 0) addStrut(strut, plan.tempC, into);
    for (const spring of springs) {
      if (spring.coil) addCoil(spring.coil, spring.law, spring.quantity, into);
      else addTorsion(spring.torsion, spring.quantity, anglesRad, into);
    }
    if (wind) addWind(wind, windArmMm(plan.axis, wind), into);
    if (seal) addSeal(seal, anglesRad, into);
    return into;
  };
  const [angle, one] = [new Float64Array(1), emptyMoments(1)];
  return {
    at: (angleRad) => {
      angle[0] = angleRad;
      const { value, slope, drag } = over(angle, one);
      return { value: value[0]!, slope: slope[0]!, drag: drag[0]! };
    },
    over: (anglesRad) => over(anglesRad),
  };
}

function putWeight({ cosNmm, sinNmm, frictionNmm }: Plan, anglesRad: Float64Array, into: Moments): void {
  for (let i = 0; i < anglesRad.length; i++) {
    const c = cos(rad(anglesRad[i]!));
    const s = sin(rad(anglesRad[i]!));
    into.cos[i] = c;
    into.sin[i] = s;
    into.value[i] = cosNmm * c + sinNmm * s;
    into.slope[i] = -cosNmm * s + sinNmm * c;
    into.drag[i] = frictionNmm;
  }
}

function addStrut({ law, quantity, extendedMm, strokeMm, gas }: StrutPlan, tempC: number, into: Moments): void {
  const { k, p, q } = law;
  const fullMPa = extendedMPa(gas, tempC);
  const { fillPerMm, rodAreaMm2, halfFrictionN } = gas;
  for (let i = 0; i < into.cos.length; i++) {
    const c = into.cos[i]!;
    const s = into.sin[i]!;
    const length = Math.sqrt(Math.max(k + p * c + q * s, 0));
    const arm = (q * c - p * s) / (2 * length);
    const armSlope = -(q * s + p * c) / (2 * length) - (arm * arm) / length;
    const squeeze = 1 - fillPerMm * Math.min(Math.max(extendedMm - length, 0), strokeMm);
    const push = (fullMPa / squeeze - ATMOSPHERE_MPA) * rodAreaMm2;
    // F + P_atm·a ∝ 1/(1 − c·s), so dF/ds = (F + P_atm·a)·c/(1 − c·s), and ds/dℓ = −1
    const perMm = (-(push + ATMOSPHERE_MPA * rodAreaMm2) * fillPerMm) / squeeze;
    into.value[i]! += quantity * push * arm;
    into.slope[i]! += quantity * (push * armSlope + perMm * arm * arm);
    into.drag[i]! += quantity * halfFrictionN * Math.abs(arm);
  }
}

function addCoil(coil: CoilLaw, { k, p, q }: LengthLaw, quantity: number, into: Moments): void {
  for (let i = 0; i < into.cos.length; i++) {
    const c = into.cos[i]!;
    const s = into.sin[i]!;
    const length = Math.sqrt(Math.max(k + p * c + q * s, 0));
    const arm = (q * c - p * s) / (2 * length);
    const armSlope = -(q * s + p * c) / (2 * length) - (arm * arm) / length;
    const push = coilPushN(coil, length);
    const perMm = push === 0 ? 0 : -coil.rateNPerMm;
    into.value[i]! += quantity * push * arm;
    into.slope[i]! += quantity * (push * armSlope + perMm * arm * arm);
  }
}

function addTorsion(torsion: TorsionLaw, quantity: number, anglesRad: Float64Array, { value, slope }: Moments): void {
  for (let i = 0; i < anglesRad.length; i++) {
    const moment = torsionMomentNm(torsion, toDeg(rad(anglesRad[i]!))) * 1000;
    value[i]! += quantity * moment;
    if (moment !== 0) slope[i]! -= (quantity * torsion.rateNmPerDeg * 1000 * 180) / Math.PI;
  }
}

function addWind(wind: WindPlan, armMm: number, { cos, sin, value, slope }: Moments): void {
  for (let i = 0; i < cos.length; i++) {
    value[i]! += windPushN(wind, cos[i]!, sin[i]!) * armMm;
    slope[i]! += windSlopeN(wind, cos[i]!, sin[i]!) * armMm;
  }
}

function addSeal(seal: SealPlan, anglesRad: Float64Array, { value, slope }: Moments): void {
  const { forceN, radiusMm, overMm } = seal;
  for (let i = 0; i < anglesRad.length; i++) {
    const push = sealPushN(seal, anglesRad[i]!);
    value[i]! += push * radiusMm;
    if (push > 0) slope[i]! -= (forceN * radiusMm * radiusMm) / overMm;
  }
}

/** θ in (0, open), rad, where a spring or seal begins or ends to act: between them the moment without friction is smooth. */
export function edgesOf({ springs, seal, openDeg }: Plan): number[] {
  const edges: number[] = springs.flatMap((spring) =>
    spring.torsion
      ? spring.torsion.turns === 'open'
        ? [toRad(spring.torsion.preloadNm / spring.torsion.rateNmPerDeg)]
        : []
      : anglesOfLength(spring.law, spring.coil.lengthMm),
  );
  if (seal && seal.radiusMm > 0) edges.push(seal.overMm / seal.radiusMm);
  return edges.filter((angle) => angle > 0 && angle < toRad(openDeg));
}

/** Runs of θ in [0, open], rad, over which every strut is inside its stroke. */
export function validRuns(plan: Plan): [number, number][] {
  const open = toRad(plan.openDeg);
  const edges = new Set<number>([0, open]);
  for (const strut of plan.struts.filter((s) => s.quantity > 0))
    for (const lengthMm of [strut.extendedMm, strut.extendedMm - strut.strokeMm])
      for (const angle of anglesOfLength(strut.law, lengthMm)) if (angle < open) edges.add(angle);
  const sorted = [...edges].sort((a, b) => a - b);
  const inside = (angle: Rad): boolean =>
    plan.struts.every(({ law, extendedMm, strokeMm, quantity }) => {
      if (quantity === 0) return true;
      const length = Math.sqrt(Math.max(law.k + law.p * cos(angle) + law.q * sin(angle), 0));
      return length <= extendedMm + STROKE_SLACK_MM && length >= extendedMm - strokeMm - STROKE_SLACK_MM;
    });
  const runs: [number, number][] = [];
  for (let i = 1; i < sorted.length; i++) {
    const from = sorted[i - 1] as number;
    const to = sorted[i] as number;
    if (!inside(rad((from + to) / 2))) continue;
    const last = runs.at(-1);
    if (last && last[1] === from) last[1] = to;
    else runs.push([from, to]);
  }
  return runs;
}

/** Root of f between a and b, where f changes sign; bisection, because it can't miss. */
export function bisect(f: (x: number) => number, a: number, b: number): number {
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
