import { type Rad, cos, rad, sin, toDeg, toRad } from '../space';
import { ATMOSPHERE_MPA, type CoilLaw, STROKE_SLACK_MM, coilPushN, extendedMPa, torsionMomentNm } from '../strut';
import { sealPushN } from './kinematics';
import type { Plan, StrutPlan } from './plan';
import { type LengthLaw, anglesOfLength } from './pose';
import { windArmMm, windPushN, windSlopeN } from './sweep';

/** Roots are pinned far below the 1e-4° that results promise. */
const ROOT_RAD = toRad(1e-9);

/** A strut or coil between its pivots: how many, and its length law. */
type Line = LengthLaw & { readonly quantity: number } & (
    { readonly strut: StrutPlan; readonly fullMPa: number } | { readonly strut: null; readonly coil: CoilLaw }
  );

function linesOf({ struts, springs, tempC }: Plan): Line[] {
  const lines: Line[] = [];
  for (const strut of struts)
    if (strut.quantity > 0)
      lines.push({ ...strut.law, quantity: strut.quantity, strut, fullMPa: extendedMPa(strut.gas, tempC) });
  for (const spring of springs)
    if (spring.coil) lines.push({ ...spring.law, quantity: spring.quantity, strut: null, coil: spring.coil });
  return lines;
}

/** Moment without friction, N·mm, its slope per radian, and what friction takes from it either way. */
interface Moment<T> {
  readonly value: T;
  readonly slope: T;
  readonly drag: T;
}
/** One value an angle: a search over the travel asks for thousands, and an object for each costs more than its sums. */
export type Moments = Moment<Float64Array>;

const emptyMoments = (n: number): Moments => ({
  value: new Float64Array(n),
  slope: new Float64Array(n),
  drag: new Float64Array(n),
});

export interface MomentLaw {
  readonly at: (angleRad: number) => Moment<number>;
  readonly over: (anglesRad: Float64Array) => Moments;
}

/** Everything that turns the lid, as a function of the angle, rad; struts outside their stroke as if at its end. */
export function momentLaw(plan: Plan): MomentLaw {
  const lines = linesOf(plan);
  const { seal, wind } = plan;
  const windArm = wind ? windArmMm(plan.axis, wind) : 0;
  const torsions = plan.springs.filter((s) => s.torsion !== null);
  const put = (angle: Rad, into: Moments, i: number): void => {
    const c = cos(angle);
    const s = sin(angle);
    let value = plan.cosNmm * c + plan.sinNmm * s;
    let slope = -plan.cosNmm * s + plan.sinNmm * c;
    let drag = plan.frictionNmm;
    for (const line of lines) {
      const { k, p, q, quantity } = line;
      const length = Math.sqrt(Math.max(k + p * c + q * s, 0));
      const arm = (q * c - p * s) / (2 * length);
      const armSlope = -(q * s + p * c) / (2 * length) - (arm * arm) / length;
      let push: number;
      let perMm: number;
      if (line.strut) {
        const { extendedMm, strokeMm, gas } = line.strut;
        const squeeze = 1 - gas.fillPerMm * Math.min(Math.max(extendedMm - length, 0), strokeMm);
        push = (line.fullMPa / squeeze - ATMOSPHERE_MPA) * gas.rodAreaMm2;
        // F + P_atm·a ∝ 1/(1 − c·s), so dF/ds = (F + P_atm·a)·c/(1 − c·s), and ds/dℓ = −1
        perMm = (-(push + ATMOSPHERE_MPA * gas.rodAreaMm2) * gas.fillPerMm) / squeeze;
        drag += quantity * gas.halfFrictionN * Math.abs(arm);
      } else {
        push = coilPushN(line.coil, length);
        perMm = push === 0 ? 0 : -line.coil.rateNPerMm;
      }
      value += quantity * push * arm;
      slope += quantity * (push * armSlope + perMm * arm * arm);
    }
    for (const { torsion, quantity } of torsions) {
      const moment = torsionMomentNm(torsion, toDeg(angle)) * 1000;
      value += quantity * moment;
      if (moment !== 0) slope -= (quantity * torsion.rateNmPerDeg * 1000 * 180) / Math.PI;
    }
    if (wind) {
      value += windPushN(wind, c, s) * windArm;
      slope += windSlopeN(wind, c, s) * windArm;
    }
    if (seal) {
      const push = sealPushN(seal, angle);
      value += push * seal.radiusMm;
      if (push > 0) slope -= (seal.forceN * seal.radiusMm * seal.radiusMm) / seal.overMm;
    }
    into.value[i] = value;
    into.slope[i] = slope;
    into.drag[i] = drag;
  };
  const one = emptyMoments(1);
  return {
    at: (angleRad) => {
      put(rad(angleRad), one, 0);
      return { value: one.value[0]!, slope: one.slope[0]!, drag: one.drag[0]! };
    },
    over: (anglesRad) => {
      const into = emptyMoments(anglesRad.length);
      for (let i = 0; i < anglesRad.length; i++) put(rad(anglesRad[i]!), into, i);
      return into;
    },
  };
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
