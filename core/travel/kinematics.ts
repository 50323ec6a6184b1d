import { type Vec3, atan2, dot, scale, sub, toDeg, toRad } from '../space';
import { STROKE_SLACK_MM, coilPushN, torsionMomentNm } from '../strut';
import type { Linkage, SealPlan, SpringPlan, StrutGeometry } from './plan';
import type { Axis, Turning } from './pose';

/** Two pivots nearer than this have no direction between them, mm. */
const NO_LENGTH_MM = 1e-9;

/** A push of 1 N on the lid along a line, over the travel. Vectors have three numbers an angle: x, y, z. */
export interface PushLine {
  /** Its part square to the hinge: what both hinge points together must hold against. */
  readonly radial: Float64Array;
  /** Its part along A → B. */
  readonly axial: Float64Array;
  /** Radial reaction of hinge point B alone. */
  readonly hingeB: Float64Array;
}

/** What pushes on the lid come to over the travel, N; vectors as in PushLine. */
export interface HingeLoad {
  /** Sum of the pushes' parts square to the hinge. */
  readonly radialN: Float64Array;
  /** Sum of both hinge points' reactions along A → B. */
  readonly axialN: Float64Array;
  /** Radial reaction of hinge point B. */
  readonly hingeBN: Float64Array;
}

/** A strut or coil over the travel, one value an angle. */
interface LineOfPivots extends PushLine {
  readonly lengthMm: Float64Array;
  /** dℓ/dθ, mm per radian; NaN where the pivots meet. */
  readonly leverArmMm: Float64Array;
}

/** One strut over the travel as far as no load case changes it; NaN where it can't exist. */
export interface StrutKinematics extends LineOfPivots {
  readonly id: string;
  /** Compression from full extension; NaN outside the stroke. */
  readonly compressionMm: Float64Array;
  readonly baseJointDeg: Float64Array;
  readonly lidJointDeg: Float64Array;
}

/** One spring over the travel; of a torsion spring only the moment is a number. */
export interface SpringKinematics extends LineOfPivots {
  readonly id: string;
  /** Push of one coil: positive drives its ends apart. */
  readonly pushN: Float64Array;
  /** Moment about the opening axis of all of them, N·m. */
  readonly momentNm: Float64Array;
}

/** What all load cases of a job share at each angle of the travel; springs and seal too, which know neither charge nor heat. */
export interface Kinematics {
  readonly angleDeg: Float64Array;
  readonly cos: Float64Array;
  readonly sin: Float64Array;
  /** Unit direction of the hand's push at the grip: square to its arm, the opening way. */
  readonly hand: Float64Array;
  readonly struts: readonly StrutKinematics[];
  readonly springs: readonly SpringKinematics[];
  /** Moment of all springs about the opening axis, N·m. */
  readonly springMomentNm: Float64Array;
  /** Moment of the seal, N·m. */
  readonly sealNm: Float64Array;
  /** What springs and seal load the hinge with. */
  readonly sharedLoad: HingeLoad;
}

/** Rows cut from one buffer of `size` numbers: buffers of their own would cost more than a short sweep. */
export function rowsOf(size: number): (length: number) => Float64Array {
  const { buffer } = new Float64Array(size);
  let end = 0;
  return (length) => new Float64Array(buffer, 8 * ((end += length) - length), length);
}

function emptyKinematics({ struts, springs }: Linkage, angleDeg: Float64Array): Kinematics {
  const n = angleDeg.length;
  const rows = rowsOf((14 + 12 * struts.length + 11 * springs.length) * n);
  // field by field: spreading what they share would cost as much as the sums of a short table
  return {
    angleDeg,
    cos: rows(n),
    sin: rows(n),
    hand: rows(3 * n),
    struts: struts.map(({ id }) => ({
      id,
      lengthMm: rows(n),
      leverArmMm: rows(n),
      radial: rows(3 * n),
      axial: rows(n),
      hingeB: rows(3 * n),
      compressionMm: rows(n),
      baseJointDeg: rows(n),
      lidJointDeg: rows(n),
    })),
    springs: springs.map(({ id }) => ({
      id,
      lengthMm: rows(n),
      leverArmMm: rows(n),
      radial: rows(3 * n),
      axial: rows(n),
      hingeB: rows(3 * n),
      pushN: rows(n),
      momentNm: rows(n),
    })),
    springMomentNm: rows(n),
    sealNm: rows(n),
    sharedLoad: { radialN: rows(3 * n), axialN: rows(n), hingeBN: rows(3 * n) },
  };
}

/**
 * Poses of a linkage at the given angles (degrees). With `into`, made for as many angles of a linkage with the same struts
 * and springs, nothing is allocated. Formulas: DEVELOPERS.md, "The kernel's sums".
 */
export function kinematics(
  linkage: Linkage,
  angleDeg: Float64Array,
  into = emptyKinematics(linkage, angleDeg),
): Kinematics {
  const { axis, struts, springs, seal } = linkage;
  const { cos, sin, sharedLoad, springMomentNm } = into;
  if (into.angleDeg !== angleDeg) into.angleDeg.set(angleDeg);
  for (let i = 0; i < angleDeg.length; i++) {
    const angle = toRad(angleDeg[i]!);
    cos[i] = Math.cos(angle);
    sin[i] = Math.sin(angle);
  }
  handDirections(linkage, into);
  for (let k = 0; k < struts.length; k++) {
    const strut = struts[k]!;
    const row = into.struts[k]!;
    pivotLine(axis, strut, into, row);
    compressions(strut, row);
    jointAngles(axis, strut, into, row);
  }
  if (springs.length === 0 && !seal) return into;
  springMomentNm.fill(0);
  for (const row of Object.values(sharedLoad)) row.fill(0);
  for (let k = 0; k < springs.length; k++) addSpring(axis, springs[k]!, into, into.springs[k]!);
  if (seal) addSeal(axis, seal, into);
  return into;
}

/** The hand's direction at the grip: t = (o × r)/|r⊥|. */
function handDirections({ grip, gripRadiusMm }: Linkage, { cos, sin, hand }: Kinematics): void {
  const [ex, ey, ez] = scale(grip.even, -1 / gripRadiusMm);
  const [ox, oy, oz] = scale(grip.odd, 1 / gripRadiusMm);
  for (let i = 0, j = 0; i < cos.length; i++, j += 3) {
    const c = cos[i]!;
    const s = sin[i]!;
    hand[j] = ox * c + ex * s;
    hand[j + 1] = oy * c + ey * s;
    hand[j + 2] = oz * c + ez * s;
  }
}

/**
 * The line from a base pivot to a lid pivot L, u its unit vector: length, h = o·(L × u), and what a push along it does at the
 * hinge. R_B⊥ = (a × (L × u))/|AB| = (L⊥(a·u) − u⊥(a·L))/|AB|.
 */
function pivotLine(
  axis: Axis,
  { base, lid }: { readonly base: Vec3; readonly lid: Turning },
  { cos, sin }: Kinematics,
  { lengthMm, leverArmMm, radial, axial, hingeB }: LineOfPivots,
): void {
  const [ax, ay, az] = axis.along;
  const [ox, oy, oz] = axis.opening;
  const [fx, fy, fz] = lid.fixed;
  const [ex, ey, ez] = lid.even;
  const [qx, qy, qz] = lid.odd;
  const [bx, by, bz] = base;
  const lidAlong = dot(axis.along, lid.fixed);
  const endsAlong = dot(axis.along, sub(lid.fixed, base));
  const perSpan = 1 / axis.spanMm;
  for (let i = 0, j = 0; i < cos.length; i++, j += 3) {
    const c = cos[i]!;
    const s = sin[i]!;
    const rx = ex * c + qx * s;
    const ry = ey * c + qy * s;
    const rz = ez * c + qz * s;
    const lx = fx + rx;
    const ly = fy + ry;
    const lz = fz + rz;
    const dx = lx - bx;
    const dy = ly - by;
    const dz = lz - bz;
    const length = Math.sqrt(dx * dx + dy * dy + dz * dz);
    const per = length < NO_LENGTH_MM ? NaN : 1 / length;
    const ux = dx * per;
    const uy = dy * per;
    const uz = dz * per;
    const ua = endsAlong * per;
    const vx = ux - ua * ax;
    const vy = uy - ua * ay;
    const vz = uz - ua * az;
    lengthMm[i] = length;
    leverArmMm[i] = ox * (ly * uz - lz * uy) + oy * (lz * ux - lx * uz) + oz * (lx * uy - ly * ux);
    axial[i] = ua;
    radial[j] = vx;
    radial[j + 1] = vy;
    radial[j + 2] = vz;
    hingeB[j] = perSpan * (rx * ua - vx * lidAlong);
    hingeB[j + 1] = perSpan * (ry * ua - vy * lidAlong);
    hingeB[j + 2] = perSpan * (rz * ua - vz * lidAlong);
  }
}

/** Outside its stroke a strut can't be there: its compression is NaN, which runs on into every sum that needs it. */
function compressions({ extendedMm, strokeMm }: StrutGeometry, { lengthMm, compressionMm }: StrutKinematics): void {
  for (let i = 0; i < lengthMm.length; i++) {
    const raw = extendedMm - lengthMm[i]!;
    const inside = raw >= -STROKE_SLACK_MM && raw <= strokeMm + STROKE_SLACK_MM;
    compressionMm[i] = inside ? Math.min(Math.max(raw, 0), strokeMm) : NaN;
  }
}

/** Angles between the stems and the strut, degrees: atan2(|n × u|, n·u), exact near 0° and 180°. */
function jointAngles(
  { along }: Axis,
  { baseStem, lidStem }: StrutGeometry,
  { cos, sin }: Kinematics,
  { radial, axial, baseJointDeg, lidJointDeg }: StrutKinematics,
): void {
  const [ax, ay, az] = along;
  const [bx, by, bz] = baseStem;
  const [fx, fy, fz] = lidStem.fixed;
  const [ex, ey, ez] = lidStem.even;
  const [qx, qy, qz] = lidStem.odd;
  for (let i = 0, j = 0; i < cos.length; i++, j += 3) {
    const c = cos[i]!;
    const s = sin[i]!;
    const ua = axial[i]!;
    const ux = radial[j]! + ua * ax;
    const uy = radial[j + 1]! + ua * ay;
    const uz = radial[j + 2]! + ua * az;
    baseJointDeg[i] = angleDeg(bx, by, bz, ux, uy, uz);
    lidJointDeg[i] = angleDeg(fx + ex * c + qx * s, fy + ey * c + qy * s, fz + ez * c + qz * s, ux, uy, uz);
  }
}

function angleDeg(nx: number, ny: number, nz: number, ux: number, uy: number, uz: number): number {
  const mx = ny * uz - nz * uy;
  const my = nz * ux - nx * uz;
  const mz = nx * uy - ny * ux;
  return toDeg(atan2(Math.sqrt(mx * mx + my * my + mz * mz), nx * ux + ny * uy + nz * uz));
}

function addSpring(axis: Axis, spring: SpringPlan, into: Kinematics, row: SpringKinematics): void {
  const { angleDeg, springMomentNm, sharedLoad } = into;
  const { pushN, momentNm, lengthMm, leverArmMm } = row;
  const { quantity } = spring;
  if (spring.torsion) {
    // a couple about the axis: it turns the lid and loads no hinge but through the hand
    for (const none of [lengthMm, pushN]) none.fill(NaN);
    for (let i = 0; i < angleDeg.length; i++) momentNm[i] = quantity * torsionMomentNm(spring.torsion, angleDeg[i]!);
  } else {
    pivotLine(axis, spring, into, row);
    const { coil } = spring;
    for (let i = 0; i < angleDeg.length; i++) {
      const push = coilPushN(coil, lengthMm[i]!);
      pushN[i] = push;
      momentNm[i] = (quantity * push * leverArmMm[i]!) / 1000;
    }
    addPush(sharedLoad, row, pushN, quantity);
  }
  for (let i = 0; i < angleDeg.length; i++) springMomentNm[i]! += momentNm[i]!;
}

/** Push of a seal at an opening angle, rad, along its centroid's arc, N. */
export const sealPushN = ({ forceN, overMm, radiusMm }: SealPlan, angleRad: number): number =>
  forceN * Math.max(0, 1 - (radiusMm * angleRad) / overMm);

/** The seal's push runs along its centroid's arc t = (o × r)/|r⊥|, square to the hinge: R_B⊥ = −t·(a·r)/|AB|. */
function addSeal(axis: Axis, seal: SealPlan, { angleDeg, cos, sin, sealNm, sharedLoad }: Kinematics): void {
  const { centroid, radiusMm } = seal;
  const { radialN, hingeBN } = sharedLoad;
  const ofB = -dot(axis.along, centroid.fixed) / axis.spanMm;
  for (let i = 0; i < angleDeg.length; i++) {
    const push = sealPushN(seal, toRad(angleDeg[i]!));
    sealNm[i] = (push * radiusMm) / 1000;
    // on the axis itself it has no way to go
    const perRadius = radiusMm > 0 ? push / radiusMm : 0;
    for (let k = 0; k < 3; k++) {
      const along = perRadius * (centroid.odd[k]! * cos[i]! - centroid.even[k]! * sin[i]!);
      radialN[3 * i + k]! += along;
      hingeBN[3 * i + k]! += ofB * along;
    }
  }
}

/**
 * Adds a push (N at each angle) to the load on the hinge. Two are a true mirror pair about the hinge's mid-plane: along the
 * hinge they cancel, and each hinge point bears half.
 */
export function addPush(load: HingeLoad, line: PushLine, pushN: Float64Array, quantity: 0 | 1 | 2): void {
  const { radialN, axialN, hingeBN } = load;
  const { radial, axial } = line;
  const [atB, share, single] = quantity === 2 ? [radial, -1, 0] : [line.hingeB, quantity, quantity];
  for (let i = 0, j = 0; i < pushN.length; i++, j += 3) {
    const push = pushN[i]!;
    const all = quantity * push;
    const ofB = share * push;
    axialN[i]! -= single * push * axial[i]!;
    radialN[j]! += all * radial[j]!;
    radialN[j + 1]! += all * radial[j + 1]!;
    radialN[j + 2]! += all * radial[j + 2]!;
    hingeBN[j]! += ofB * atB[j]!;
    hingeBN[j + 1]! += ofB * atB[j + 1]!;
    hingeBN[j + 2]! += ofB * atB[j + 2]!;
  }
}
