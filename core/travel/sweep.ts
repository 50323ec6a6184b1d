import { cross, dot, perpendicularTo, scale } from '../space';
import { ATMOSPHERE_MPA, extendedMPa } from '../strut';
import {
  type HingeLoad,
  type Kinematics,
  type SpringKinematics,
  type StrutKinematics,
  addPush,
  kinematics,
  rowsOf,
} from './kinematics';
import type { Plan, StrutPlan, WindPlan } from './plan';
import type { Axis } from './pose';

/** A lever arm under this can't carry anything: its balance force is not a number, mm. */
export const LEAST_ARM_MM = 1e-6;

/** One strut over the travel of one load case; one value an angle, NaN where it can't exist. */
export interface StrutTable extends StrutKinematics {
  readonly balanceForceN: Float64Array;
  readonly extendingN: Float64Array;
  readonly compressingN: Float64Array;
}

/** Everything computed over the travel of one load case: flat arrays over θ; NaN stands for "can't exist". */
export interface TravelTable {
  readonly caseId: string;
  readonly angleDeg: Float64Array;
  readonly weightMomentNm: Float64Array;
  /** Moment of all springs about the opening axis, N·m. */
  readonly springMomentNm: Float64Array;
  /** Moments of seal and wind, N·m; 0 where there is none. */
  readonly sealNm: Float64Array;
  readonly windNm: Float64Array;
  /** Moment about the opening axis that is left over when opening / when closing, N·m. */
  readonly openingMomentNm: Float64Array;
  readonly closingMomentNm: Float64Array;
  readonly handOpeningN: Float64Array;
  readonly handClosingN: Float64Array;
  /** Radial reactions on the lid, three numbers an angle: x, y, z, N. */
  readonly hingeAN: Float64Array;
  readonly hingeBN: Float64Array;
  /** Sum of both hinges' reactions along A → B, N. */
  readonly hingeAxialN: Float64Array;
  readonly struts: readonly StrutTable[];
  readonly springs: readonly SpringKinematics[];
}

/** Angles of a travel table: every whole step from closed, and the open end, degrees. */
export function travelAngles(openDeg: number, stepDeg = 1): Float64Array {
  const whole = Math.floor(openDeg / stepDeg + 1e-9);
  const last = whole * stepDeg;
  const extra = openDeg - last > 1e-9;
  const angles = new Float64Array(whole + 1 + (extra ? 1 : 0));
  for (let i = 0; i <= whole; i++) angles[i] = i * stepDeg;
  if (extra) angles[whole + 1] = openDeg;
  else angles[whole] = openDeg;
  return angles;
}

function emptyTable({ caseId }: Plan, poses: Kinematics): TravelTable {
  const { angleDeg, struts, springs, springMomentNm, sealNm } = poses;
  const n = angleDeg.length;
  const rows = rowsOf((13 + 3 * struts.length) * n);
  return {
    caseId,
    angleDeg,
    weightMomentNm: rows(n),
    springMomentNm,
    sealNm,
    windNm: rows(n),
    openingMomentNm: rows(n),
    closingMomentNm: rows(n),
    handOpeningN: rows(n),
    handClosingN: rows(n),
    hingeAN: rows(3 * n),
    hingeBN: rows(3 * n),
    hingeAxialN: rows(n),
    // field by field: spreading would cost more than the sums
    struts: struts.map((s) => ({
      id: s.id,
      lengthMm: s.lengthMm,
      leverArmMm: s.leverArmMm,
      radial: s.radial,
      axial: s.axial,
      hingeB: s.hingeB,
      compressionMm: s.compressionMm,
      baseJointDeg: s.baseJointDeg,
      lidJointDeg: s.lidJointDeg,
      balanceForceN: rows(n),
      extendingN: rows(n),
      compressingN: rows(n),
    })),
    springs,
  };
}

/** The travel table of a plan at the given angles (degrees), for one load case alone. */
export const sweep = (plan: Plan, angleDeg: Float64Array): TravelTable => caseTable(plan, kinematics(plan, angleDeg));

/**
 * The travel table of one load case over the poses that it shares with the others: `poses` of the plan's own struts and
 * springs. With `into`, made over the same poses, nothing is allocated. Hand force from the moment left over; hinge reactions
 * from force and moment balance with the hand at the grip, opening side (see DEVELOPERS.md, "The kernel's sums").
 */
export function caseTable(plan: Plan, poses: Kinematics, into = emptyTable(plan, poses)): TravelTable {
  const { openingMomentNm: opening, closingMomentNm: closing, handOpeningN, handClosingN } = into;
  const { hingeAN, hingeBN, hingeAxialN } = into;
  // until the last loop the rows hold moments in N·mm and the load on the hinge as it adds up
  const load = { radialN: hingeAN, axialN: hingeAxialN, hingeBN };
  takeWeight(plan, poses, into);
  // the hand's rows hold each strut's push until the hand's own turn comes
  const push = handOpeningN;
  for (let k = 0; k < plan.struts.length; k++) {
    const strut = plan.struts[k]!;
    pushes(strut, plan.tempC, into, into.struts[k]!, push);
    if (strut.quantity > 0) addPush(load, poses.struts[k]!, push, strut.quantity);
  }
  if (plan.wind) blow(plan.axis, plan.wind, poses, into.windNm, load);
  const { springMomentNm, sealNm, hand } = poses;
  const { windNm } = into;
  const perRadius = -1 / plan.gripRadiusMm;
  // R_B⊥ of the hand's push t at the grip r: (a × (r × t))/|AB| = −t(a·r)/|AB|
  const ofB = -dot(plan.axis.along, plan.grip.fixed) / plan.axis.spanMm;
  for (let i = 0, j = 0; i < opening.length; i++) {
    const pressed = 1000 * (springMomentNm[i]! + sealNm[i]! + windNm[i]!);
    const open = opening[i]! + pressed;
    const close = closing[i]! + pressed;
    const held = open * perRadius;
    opening[i] = open / 1000;
    closing[i] = close / 1000;
    handOpeningN[i] = held;
    handClosingN[i] = close * perRadius;
    for (const end = j + 3; j < end; j++) {
      const push = held * hand[j]!;
      const b = hingeBN[j]! + ofB * push;
      hingeBN[j] = b;
      hingeAN[j] = -hingeAN[j]! - push - b;
    }
  }
  return into;
}

/** Moments left over at any angle of a plan, N·m: opening and closing side. NaN where a strut can't be there. */
export function momentsAt(plan: Plan): (angleDeg: number) => { opening: number; closing: number } {
  const at = new Float64Array(1);
  const poses = kinematics(plan, at);
  const table = caseTable(plan, poses);
  return (angleDeg) => {
    at[0] = angleDeg;
    caseTable(plan, kinematics(plan, at, poses), table);
    return { opening: table.openingMomentNm[0]!, closing: table.closingMomentNm[0]! };
  };
}

/**
 * Starts a table with the weight of every mass at once, and what springs and seal load the hinge with.
 * R_B⊥ = (a × (S × g))/|AB| = (S⊥(a·g) − g⊥(a·S))/|AB|, S the first moment.
 */
function takeWeight(plan: Plan, { cos, sin, sharedLoad }: Kinematics, into: TravelTable): void {
  const { axis, gravity, massKg, firstMoment, frictionNmm, cosNmm, sinNmm } = plan;
  const { weightMomentNm, openingMomentNm, closingMomentNm, hingeAN, hingeBN, hingeAxialN } = into;
  const gravityAlong = dot(axis.along, gravity);
  const square = perpendicularTo(gravity, axis.along);
  const [wx, wy, wz] = scale(square, massKg);
  const [fx, fy, fz] = scale(square, -dot(axis.along, firstMoment.fixed) / axis.spanMm);
  const [ex, ey, ez] = scale(firstMoment.even, gravityAlong / axis.spanMm);
  const [qx, qy, qz] = scale(firstMoment.odd, gravityAlong / axis.spanMm);
  hingeAN.set(sharedLoad.radialN);
  hingeBN.set(sharedLoad.hingeBN);
  for (let i = 0, j = 0; i < cos.length; i++, j += 3) {
    const c = cos[i]!;
    const s = sin[i]!;
    const weight = cosNmm * c + sinNmm * s;
    weightMomentNm[i] = weight / 1000;
    openingMomentNm[i] = weight - frictionNmm;
    closingMomentNm[i] = weight + frictionNmm;
    hingeAxialN[i] = sharedLoad.axialN[i]! - massKg * gravityAlong;
    hingeAN[j]! += wx;
    hingeAN[j + 1]! += wy;
    hingeAN[j + 2]! += wz;
    hingeBN[j]! += fx + ex * c + qx * s;
    hingeBN[j + 1]! += fy + ey * c + qy * s;
    hingeBN[j + 2]! += fz + ez * c + qz * s;
  }
}

/** Force of the wind along the plate's normal at an angle, N: q·C·A·(w·n). */
export function windPushN({ fullN, towards, plate: { normal } }: WindPlan, cos: number, sin: number): number {
  if (typeof towards === 'number') return towards * fullN;
  return fullN * (dot(towards, normal.fixed) + dot(towards, normal.even) * cos + dot(towards, normal.odd) * sin);
}

/** Its slope over the angle, N per radian. */
export function windSlopeN({ fullN, towards, plate: { normal } }: WindPlan, cos: number, sin: number): number {
  if (typeof towards === 'number') return 0;
  return fullN * (dot(towards, normal.odd) * cos - dot(towards, normal.even) * sin);
}

/** Moment of 1 N along the plate's normal at its centroid about the opening axis, N·mm: the same at every angle. */
export const windArmMm = ({ opening }: Axis, { plate: { normal, centroid } }: WindPlan): number =>
  dot(opening, cross(centroid.even, normal.even));

/** The wind's moment, and its push on the hinge: R_B⊥ = (a × (c × F))/|AB| = (c⊥(a·F) − F⊥(a·c))/|AB|. */
function blow(axis: Axis, wind: WindPlan, { cos, sin }: Kinematics, windNm: Float64Array, load: HingeLoad): void {
  const { normal, centroid } = wind.plate;
  const arm = windArmMm(axis, wind);
  const normalAlong = dot(axis.along, normal.fixed);
  const centroidAlong = dot(axis.along, centroid.fixed);
  for (let i = 0; i < cos.length; i++) {
    const push = windPushN(wind, cos[i]!, sin[i]!);
    windNm[i] = (push * arm) / 1000;
    load.axialN[i]! -= push * normalAlong;
    for (let k = 0; k < 3; k++) {
      const square = push * (normal.even[k]! * cos[i]! + normal.odd[k]! * sin[i]!);
      const reach = centroid.even[k]! * cos[i]! + centroid.odd[k]! * sin[i]!;
      load.radialN[3 * i + k]! += square;
      load.hingeBN[3 * i + k]! += (reach * push * normalAlong - square * centroidAlong) / axis.spanMm;
    }
  }
}

/** A strut's forces and its moments on the lid; `push` takes what one of them pushes with while the lid opens, N. */
function pushes(strut: StrutPlan, tempC: number, into: TravelTable, row: StrutTable, push: Float64Array): void {
  const { weightMomentNm, openingMomentNm, closingMomentNm } = into;
  const { compressionMm, leverArmMm, balanceForceN, extendingN, compressingN } = row;
  const { quantity } = strut;
  const { fillPerMm, rodAreaMm2, halfFrictionN } = strut.gas;
  if (quantity === 0) {
    // lost: it is where it was, and gives nothing
    for (const none of [balanceForceN, extendingN, compressingN]) none.fill(NaN);
    return;
  }
  const fullN = extendedMPa(strut.gas, tempC) * rodAreaMm2;
  const atmosphereN = ATMOSPHERE_MPA * rodAreaMm2;
  for (let i = 0; i < leverArmMm.length; i++) {
    const arm = leverArmMm[i]!;
    const gas = fullN / (1 - fillPerMm * compressionMm[i]!) - atmosphereN;
    const out = gas - halfFrictionN;
    const inn = gas + halfFrictionN;
    balanceForceN[i] = Math.abs(arm) < LEAST_ARM_MM ? NaN : (-1000 * weightMomentNm[i]!) / (quantity * arm);
    extendingN[i] = out;
    compressingN[i] = inn;
    const whileOpening = arm >= 0 ? out : inn;
    const whileClosing = arm >= 0 ? inn : out;
    push[i] = whileOpening;
    openingMomentNm[i]! += quantity * whileOpening * arm;
    closingMomentNm[i]! += quantity * whileClosing * arm;
  }
}
