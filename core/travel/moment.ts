import { type Rad, cos, rad, sin, toDeg, toRad } from '../space';
import { ATMOSPHERE_MPA, STROKE_SLACK_MM, coilPushN, extendedMPa, torsionMomentNm } from '../strut';
import { sealPushN } from './kinematics';
import type { Plan, StrutPlan } from './plan';
import { type LengthLaw, anglesOfLength } from './pose';
import { windArmMm, windPushN, windSlopeN } from './sweep';

/** Roots are pinned far below the 1e-4° that results promise. */
const ROOT_RAD = toRad(1e-9);

/**
 * A strut or coil between its pivots: how many, its length law, half its friction band, N, its push at a length, N, and the
 * push's slope, N/mm.
 */
interface Pusher extends LengthLaw {
  readonly quantity: number;
  readonly halfFrictionN: number;
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
    halfFrictionN: gas.halfFrictionN,
    push: (lengthMm) => (fullMPa / squeeze(lengthMm) - ATMOSPHERE_MPA) * area,
    // F + P_atm·a ∝ 1/(1 − c·s), so dF/ds = (F + P_atm·a)·c/(1 − c·s), and ds/dℓ = −1
    slope: (lengthMm, pushN) => (-(pushN + ATMOSPHERE_MPA * area) * c) / squeeze(lengthMm),
  };
}

/** Moment without friction, N·mm, its slope per radian, and what friction takes from it either way. */
interface MomentAt {
  readonly value: number;
  readonly slope: number;
  readonly drag: number;
}

/** Everything that turns the lid, as a function of the angle, rad; struts outside their stroke as if at its end. */
export function momentLaw(plan: Plan): (angleRad: number) => MomentAt {
  const pushers = plan.struts.filter((s) => s.quantity > 0).map((s) => strutPusher(s, plan.tempC));
  for (const { coil, law, quantity } of plan.springs.filter((s) => s.coil !== null))
    pushers.push({
      ...law,
      quantity,
      halfFrictionN: 0,
      push: (lengthMm) => coilPushN(coil, lengthMm),
      slope: (_, pushN) => (pushN === 0 ? 0 : -coil.rateNPerMm),
    });
  const { seal, wind } = plan;
  const windArm = wind ? windArmMm(plan.axis, wind) : 0;
  const torsions = plan.springs.filter((s) => s.torsion !== null);
  return (angleRad) => {
    const angle = rad(angleRad);
    const c = cos(angle);
    const s = sin(angle);
    let value = plan.cosNmm * c + plan.sinNmm * s;
    let slope = -plan.cosNmm * s + plan.sinNmm * c;
    let drag = plan.frictionNmm;
    for (const line of pushers) {
      const { k, p, q, quantity } = line;
      const length = Math.sqrt(Math.max(k + p * c + q * s, 0));
      const arm = (q * c - p * s) / (2 * length);
      const armSlope = -(q * s + p * c) / (2 * length) - (arm * arm) / length;
      const push = line.push(length);
      value += quantity * push * arm;
      drag += quantity * line.halfFrictionN * Math.abs(arm);
      slope += quantity * (push * armSlope + line.slope(length, push) * arm * arm);
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
      const push = sealPushN(seal, angleRad);
      value += push * seal.radiusMm;
      if (push > 0) slope -= (seal.forceN * seal.radiusMm * seal.radiusMm) / seal.overMm;
    }
    return { value, slope, drag };
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
