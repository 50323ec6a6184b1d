import { toDeg, toRad } from '../space';
import { STROKE_SLACK_MM, coilPushN, gasForceN, torsionMomentNm } from '../strut';
import type { Plan, SpringPlan, StrutPlan } from './plan';

/** A lever arm under this can't carry anything: its balance force is not a number, mm. */
export const LEAST_ARM_MM = 1e-6;
/** Two pivots nearer than this have no direction between them, mm. */
const NO_LENGTH_MM = 1e-9;

/** One strut over the travel; one value an angle, NaN where it can't exist. */
export interface StrutTable {
  readonly id: string;
  readonly lengthMm: Float64Array;
  /** dℓ/dθ, mm per radian. */
  readonly leverArmMm: Float64Array;
  readonly balanceForceN: Float64Array;
  /** Compression from full extension; NaN outside the stroke. */
  readonly compressionMm: Float64Array;
  readonly extendingN: Float64Array;
  readonly compressingN: Float64Array;
  readonly baseJointDeg: Float64Array;
  readonly lidJointDeg: Float64Array;
}

/** One spring over the travel. */
export interface SpringTable {
  readonly id: string;
  /** Distance of a coil's ends, mm; NaN for a torsion spring. */
  readonly lengthMm: Float64Array;
  /** Push of one coil: positive drives its ends apart; NaN for a torsion spring. */
  readonly pushN: Float64Array;
  /** Moment about the opening axis of all of them, N·m. */
  readonly momentNm: Float64Array;
}

/** Everything computed over the travel of one load case: flat arrays over θ; NaN stands for "can't exist". */
export interface TravelTable {
  readonly caseId: string;
  readonly angleDeg: Float64Array;
  readonly weightMomentNm: Float64Array;
  /** Moment of all springs about the opening axis, N·m. */
  readonly springMomentNm: Float64Array;
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
  readonly springs: readonly SpringTable[];
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

/** An empty table for n angles; hand it to `sweep` again and again where a drag must not allocate. */
export function emptyTable(plan: Plan, angleDeg: Float64Array): TravelTable {
  const n = angleDeg.length;
  const row = (): Float64Array => new Float64Array(n);
  return {
    caseId: plan.caseId,
    angleDeg,
    weightMomentNm: row(),
    springMomentNm: row(),
    openingMomentNm: row(),
    closingMomentNm: row(),
    handOpeningN: row(),
    handClosingN: row(),
    hingeAN: new Float64Array(3 * n),
    hingeBN: new Float64Array(3 * n),
    hingeAxialN: row(),
    struts: plan.struts.map((s) => ({
      id: s.id,
      lengthMm: row(),
      leverArmMm: row(),
      balanceForceN: row(),
      compressionMm: row(),
      extendingN: row(),
      compressingN: row(),
      baseJointDeg: row(),
      lidJointDeg: row(),
    })),
    springs: plan.springs.map((s) => ({ id: s.id, lengthMm: row(), pushN: row(), momentNm: row() })),
  };
}

/** Angle between a unit stem and a unit strut direction, degrees; half-angle form, exact near 0° and 180°. */
function jointDeg(nx: number, ny: number, nz: number, ux: number, uy: number, uz: number): number {
  return toDeg(2 * Math.atan2(Math.hypot(nx - ux, ny - uy, nz - uz), Math.hypot(nx + ux, ny + uy, nz + uz)));
}

/**
 * The travel table of a plan at the given angles (degrees). With `into` (same angles count and struts) nothing is allocated.
 * Formulas: pose by Rodrigues; h = dℓ/dθ; hand force from the moment left over; hinge reactions from force and moment
 * balance with the hand at the grip, opening side (see DEVELOPERS.md, "The kernel's sums").
 */
export function sweep(plan: Plan, angleDeg: Float64Array, into: TravelTable = emptyTable(plan, angleDeg)): TravelTable {
  const { axis, gravity, massKg, firstMoment: fm, grip, gripRadiusMm } = plan;
  const [ax, ay, az] = axis.along;
  const [ox, oy, oz] = axis.opening;
  const [gx, gy, gz] = gravity;
  const { hingeAN, hingeBN } = into;

  for (let i = 0; i < angleDeg.length; i++) {
    const angle = toRad(angleDeg[i] as number);
    const c = Math.cos(angle);
    const s = Math.sin(angle);

    // weight: force and moment about A of every mass at once (N, N·mm)
    const sx = fm.fixed[0] + fm.even[0] * c + fm.odd[0] * s;
    const sy = fm.fixed[1] + fm.even[1] * c + fm.odd[1] * s;
    const sz = fm.fixed[2] + fm.even[2] * c + fm.odd[2] * s;
    let fx = massKg * gx;
    let fy = massKg * gy;
    let fz = massKg * gz;
    let mx = sy * gz - sz * gy;
    let my = sz * gx - sx * gz;
    let mz = sx * gy - sy * gx;
    const weight = plan.cosNmm * c + plan.sinNmm * s;

    let opening = weight - plan.frictionNmm;
    let closing = weight + plan.frictionNmm;

    for (let k = 0; k < plan.struts.length; k++) {
      const strut = plan.struts[k] as StrutPlan;
      const row = into.struts[k] as StrutTable;
      const { lid, base, quantity } = strut;
      const lx = lid.fixed[0] + lid.even[0] * c + lid.odd[0] * s;
      const ly = lid.fixed[1] + lid.even[1] * c + lid.odd[1] * s;
      const lz = lid.fixed[2] + lid.even[2] * c + lid.odd[2] * s;
      const dx = lx - base[0];
      const dy = ly - base[1];
      const dz = lz - base[2];
      const length = Math.hypot(dx, dy, dz);
      const flat = length < NO_LENGTH_MM;
      const ux = flat ? NaN : dx / length;
      const uy = flat ? NaN : dy / length;
      const uz = flat ? NaN : dz / length;
      // h = o · (L × u)
      const arm = ox * (ly * uz - lz * uy) + oy * (lz * ux - lx * uz) + oz * (lx * uy - ly * ux);
      row.lengthMm[i] = length;
      row.leverArmMm[i] = arm;
      row.balanceForceN[i] = quantity === 0 || Math.abs(arm) < LEAST_ARM_MM ? NaN : -weight / (quantity * arm);
      row.baseJointDeg[i] = jointDeg(strut.baseStem[0], strut.baseStem[1], strut.baseStem[2], ux, uy, uz);
      const st = strut.lidStem;
      row.lidJointDeg[i] = jointDeg(
        st.fixed[0] + st.even[0] * c + st.odd[0] * s,
        st.fixed[1] + st.even[1] * c + st.odd[1] * s,
        st.fixed[2] + st.even[2] * c + st.odd[2] * s,
        ux,
        uy,
        uz,
      );

      // outside its stroke the strut can't be there: NaN runs on into every sum that needs it
      const raw = strut.extendedMm - length;
      const inside = raw >= -STROKE_SLACK_MM && raw <= strut.strokeMm + STROKE_SLACK_MM;
      const compression = inside ? Math.min(Math.max(raw, 0), strut.strokeMm) : NaN;
      const gas = gasForceN(strut.gas, compression, plan.tempC);
      const out = gas - strut.gas.halfFrictionN;
      const inn = gas + strut.gas.halfFrictionN;
      row.compressionMm[i] = compression;
      if (quantity === 0) {
        // lost: it is where it was, and gives nothing
        row.extendingN[i] = NaN;
        row.compressingN[i] = NaN;
        continue;
      }
      row.extendingN[i] = out;
      row.compressingN[i] = inn;
      const whileOpening = arm >= 0 ? out : inn;
      const whileClosing = arm >= 0 ? inn : out;
      opening += quantity * whileOpening * arm;
      closing += quantity * whileClosing * arm;

      // reaction sums use the opening side; a pair is a true mirror image about the hinge's mid-plane
      const px = whileOpening * ux;
      const py = whileOpening * uy;
      const pz = whileOpening * uz;
      fx += px;
      fy += py;
      fz += pz;
      mx += ly * pz - lz * py;
      my += lz * px - lx * pz;
      mz += lx * py - ly * px;
      if (quantity === 2) {
        const pa = 2 * (px * ax + py * ay + pz * az);
        const la = 2 * (lx * ax + ly * ay + lz * az) - axis.spanMm;
        const qx = px - pa * ax;
        const qy = py - pa * ay;
        const qz = pz - pa * az;
        const tx = lx - la * ax;
        const ty = ly - la * ay;
        const tz = lz - la * az;
        fx += qx;
        fy += qy;
        fz += qz;
        mx += ty * qz - tz * qy;
        my += tz * qx - tx * qz;
        mz += tx * qy - ty * qx;
      }
    }

    let springs = 0;
    for (let k = 0; k < plan.springs.length; k++) {
      const spring = plan.springs[k] as SpringPlan;
      const row = into.springs[k]!;
      if (spring.torsion) {
        // a couple about the axis: it turns the lid and loads no hinge but through the hand
        const turn = spring.quantity * torsionMomentNm(spring.torsion, angleDeg[i] as number) * 1000;
        row.lengthMm[i] = NaN;
        row.pushN[i] = NaN;
        row.momentNm[i] = turn / 1000;
        springs += turn;
        continue;
      }
      const { lid, base } = spring;
      const lx = lid.fixed[0] + lid.even[0] * c + lid.odd[0] * s;
      const ly = lid.fixed[1] + lid.even[1] * c + lid.odd[1] * s;
      const lz = lid.fixed[2] + lid.even[2] * c + lid.odd[2] * s;
      const length = Math.hypot(lx - base[0], ly - base[1], lz - base[2]);
      const push = coilPushN(spring.coil, length);
      const share = length < NO_LENGTH_MM ? NaN : push / length;
      const px = share * (lx - base[0]);
      const py = share * (ly - base[1]);
      const pz = share * (lz - base[2]);
      const turn = spring.quantity * (ox * (ly * pz - lz * py) + oy * (lz * px - lx * pz) + oz * (lx * py - ly * px));
      row.lengthMm[i] = length;
      row.pushN[i] = push;
      row.momentNm[i] = turn / 1000;
      springs += turn;
      fx += px;
      fy += py;
      fz += pz;
      mx += ly * pz - lz * py;
      my += lz * px - lx * pz;
      mz += lx * py - ly * px;
      if (spring.quantity === 2) {
        const pa = 2 * (px * ax + py * ay + pz * az);
        const la = 2 * (lx * ax + ly * ay + lz * az) - axis.spanMm;
        const qx = px - pa * ax;
        const qy = py - pa * ay;
        const qz = pz - pa * az;
        const tx = lx - la * ax;
        const ty = ly - la * ay;
        const tz = lz - la * az;
        fx += qx;
        fy += qy;
        fz += qz;
        mx += ty * qz - tz * qy;
        my += tz * qx - tx * qz;
        mz += tx * qy - ty * qx;
      }
    }
    opening += springs;
    closing += springs;

    into.weightMomentNm[i] = weight / 1000;
    into.springMomentNm[i] = springs / 1000;
    into.openingMomentNm[i] = opening / 1000;
    into.closingMomentNm[i] = closing / 1000;
    const hand = -opening / gripRadiusMm;
    into.handOpeningN[i] = hand;
    into.handClosingN[i] = -closing / gripRadiusMm;

    // hand force at the grip, along o × arm
    const rx = grip.fixed[0] + grip.even[0] * c + grip.odd[0] * s;
    const ry = grip.fixed[1] + grip.even[1] * c + grip.odd[1] * s;
    const rz = grip.fixed[2] + grip.even[2] * c + grip.odd[2] * s;
    const h = hand / gripRadiusMm;
    const hx = h * (oy * rz - oz * ry);
    const hy = h * (oz * rx - ox * rz);
    const hz = h * (ox * ry - oy * rx);
    fx += hx;
    fy += hy;
    fz += hz;
    mx += ry * hz - rz * hy;
    my += rz * hx - rx * hz;
    mz += rx * hy - ry * hx;

    // R_B⊥ = (a × M_A)/|AB|; R_A⊥ = −F⊥ − R_B⊥; axial sum = −F·a
    const axial = fx * ax + fy * ay + fz * az;
    const bx = (ay * mz - az * my) / axis.spanMm;
    const by = (az * mx - ax * mz) / axis.spanMm;
    const bz = (ax * my - ay * mx) / axis.spanMm;
    const j = 3 * i;
    hingeBN[j] = bx;
    hingeBN[j + 1] = by;
    hingeBN[j + 2] = bz;
    hingeAN[j] = -(fx - axial * ax) - bx;
    hingeAN[j + 1] = -(fy - axial * ay) - by;
    hingeAN[j + 2] = -(fz - axial * az) - bz;
    into.hingeAxialN[i] = -axial;
  }
  return into;
}
