import type { EndName, StrutEnd } from '../job';
import {
  type BestStem,
  type Swing,
  type Worst,
  anglesOver,
  bestAxialStem,
  bestStem as bestSquareStem,
  fittingKind,
  worstDeviation,
  worstFromLine,
} from '../joint';
import {
  type Vec3,
  angleBetween,
  cross,
  dot,
  norm,
  perpendicularTo,
  rad,
  rotateVec,
  scale,
  sub,
  toDeg,
  toRad,
  unit,
} from '../space';
import { type Passage, type Plan, type StrutPlan, rodEndOf, travelAngles, turned } from '../travel';

/** Unit strut directions base → lid over the travel, in the axes of the body that the end rides on (lid: as closed). */
export function directionsInBody(plan: Plan, strut: StrutPlan, end: EndName, angleDeg: Float64Array): Float64Array {
  const out = new Float64Array(3 * angleDeg.length);
  for (let i = 0; i < angleDeg.length; i++) out.set(directionInBody(plan, strut, end, angleDeg[i]!), 3 * i);
  return out;
}

function directionInBody(plan: Plan, strut: StrutPlan, end: EndName, angleDeg: number): Vec3 {
  const angle = toRad(angleDeg);
  const u: Vec3 = unit(sub(turned(strut.lid, angle), strut.base));
  return end === 'base' ? u : rotateVec(u, plan.axis.opening, rad(-angle));
}

/** How the strut swings as one of its ends sees it. Throws a LidwrightError where both pivots meet at one place. */
export function swingOf(plan: Plan, strut: StrutPlan, end: EndName, angleDeg = travelAngles(plan.openDeg)): Swing {
  return {
    angleDeg,
    directions: directionsInBody(plan, strut, end, angleDeg),
    at: (deg) => directionInBody(plan, strut, end, deg),
  };
}

/** The end's stem in its own body's axes, lid closed. */
export const stemOfEnd = (strut: StrutPlan, end: EndName): Vec3 =>
  end === 'base' ? strut.baseStem : turned(strut.lidStem, rad(0));

/** Joint angle φ of one end over the travel, degrees, with where it is worst. */
export interface AngleOverTravel {
  readonly openingDeg: Float64Array;
  readonly jointDeg: Float64Array;
  readonly worst: Worst;
}

/** Joint angle of one strut end over the whole travel. @internal for tests */
export function angleOverTravel(plan: Plan, strut: StrutPlan, end: EndName): AngleOverTravel {
  const swing = swingOf(plan, strut, end);
  const stem = stemOfEnd(strut, end);
  return { openingDeg: swing.angleDeg, jointDeg: anglesOver(swing, stem), worst: worstDeviation(swing, stem) };
}

/** The stem that keeps an end best over the travel, free on the sphere: square to the strut, or in line for an axial joint. */
export function bestStem(plan: Plan, strut: StrutPlan, end: EndName, fitting: string): BestStem {
  const swing = swingOf(plan, strut, end);
  const near = stemOfEnd(strut, end);
  return fittingKind(fitting) === 'axial-ball' ? bestAxialStem(swing, near) : bestSquareStem(swing, near);
}

/** How an end's fitting is strained: off square (or off the line, for an axial joint). */
export const offNominal = (fitting: string): ((swing: Swing, stem: Vec3) => Worst) =>
  fittingKind(fitting) === 'axial-ball' ? worstFromLine : worstDeviation;

/** How far a fork's or eye's strut swings about its pin over the travel. Degrees from the middle direction, signed. */
export interface PinSwing {
  readonly fromDeg: number;
  readonly toDeg: number;
  /** Largest of the two, and where. */
  readonly worstDeg: number;
  readonly atDeg: number;
}

/**
 * The turn of the strut about a pin, from the direction in which it leaves in the middle of its free swing. Null where
 * no middle is known (neither swingMiddle nor a mount) or it stands along the pin. The strut leaves its base end toward the
 * lid end and its lid end toward the base end.
 */
export function swingAboutPin(plan: Plan, strut: StrutPlan, end: EndName, spec: StrutEnd): PinSwing | null {
  const pin = stemOfEnd(strut, end);
  const wish = spec.swingMiddle ?? spec.mount?.normal;
  if (!wish || norm(perpendicularTo(wish, pin)) < 1e-6 * norm(wish)) return null;
  const middle = unit(perpendicularTo(wish, pin));
  const swing = swingOf(plan, strut, end);
  let [fromDeg, toDeg_, worstDeg, atDeg] = [Infinity, -Infinity, -1, 0];
  for (let i = 0; i < swing.angleDeg.length; i++) {
    const u = swing.at(swing.angleDeg[i]!);
    const leaving = perpendicularTo(end === 'base' ? u : scale(u, -1), pin);
    if (norm(leaving) < 1e-9) continue;
    const sign = dot(cross(middle, leaving), pin) < 0 ? -1 : 1;
    const turn = sign * toDeg(angleBetween(middle, leaving));
    fromDeg = Math.min(fromDeg, turn);
    toDeg_ = Math.max(toDeg_, turn);
    if (Math.abs(turn) > worstDeg) [worstDeg, atDeg] = [Math.abs(turn), swing.angleDeg[i]!];
  }
  return worstDeg < 0 ? null : { fromDeg, toDeg: toDeg_, worstDeg, atDeg };
}

/** Which end a strut's rod is at. */
export const rodEnd = ({ job, struts }: Passage, k: number): EndName =>
  rodEndOf(job.struts[k]!, struts[k]!.base, turned(struts[k]!.lid, rad(0)));
