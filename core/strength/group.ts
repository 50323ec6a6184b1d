import { fail } from '../error';

/** One fixing of a group in the plane of the mount, mm. */
export interface GroupBolt {
  readonly xMm: number;
  readonly yMm: number;
  /** Its share of stiffness, its area say; 1 where not given. */
  readonly weight?: number;
  /** Unit direction along which a slot lets it slide; none for a round hole. */
  readonly slot?: readonly [number, number] | null;
}

/** What the fixings of a group carry in the plane. */
export interface InPlane {
  /** Force each fixing carries, in the sense of the load, N. */
  readonly forcesN: readonly (readonly [number, number])[];
  /** Torque about a single round hole's axis that no bearing can take, N·mm; 0 for a group. */
  readonly leftTorqueNmm: number;
}

/** Centroid of the fixings by their weights, mm. */
export function groupCentroid(bolts: readonly GroupBolt[]): readonly [number, number] {
  let w = 0;
  let x = 0;
  let y = 0;
  for (const b of bolts) {
    const share = b.weight ?? 1;
    w += share;
    x += share * b.xMm;
    y += share * b.yMm;
  }
  return [x / w, y / w];
}

/**
 * In-plane forces of a group under a force (N) and the moment of all loads about the frame's origin (N·mm, counter-clockwise):
 * a rigid plate on equal springs, which for round holes is the elastic vector method V_i = F·w_i/Σw + M·w_i·r_i/Σ(w·r²). A
 * slotted hole gives nothing along its slot. Null where bearing alone cannot hold it: every slot lets it slide that way.
 * Source: elastic vector method (Shigley, Mechanical Engineering Design, eccentric shear).
 */
export function inPlaneForces(
  bolts: readonly GroupBolt[],
  fxN: number,
  fyN: number,
  momentNmm: number,
): InPlane | null {
  if (bolts.length === 0) fail('a group of fixings without a fixing.', ['fixings'], 'Give at least one.');
  const [cx, cy] = groupCentroid(bolts);
  const about = momentNmm - (cx * fyN - cy * fxN);
  if (bolts.length === 1) return bolts[0]!.slot ? null : { forcesN: [[fxN, fyN]], leftTorqueNmm: about };
  const reach = Math.max(...bolts.map((b) => Math.hypot(b.xMm - cx, b.yMm - cy)), 1e-9);
  // rows: force x, force y, moment / reach; unknowns: shift x, shift y, turn · reach
  const a = [0, 0, 0, 0, 0, 0, 0, 0, 0];
  const rows = bolts.map((b) => {
    const w = b.weight ?? 1;
    const [sx, sy] = b.slot ?? [0, 0];
    const kxx = w * (1 - sx * sx);
    const kxy = -w * sx * sy;
    const kyy = w * (1 - sy * sy);
    const rx = (b.xMm - cx) / reach;
    const ry = (b.yMm - cy) / reach;
    // force per unit of each unknown
    const fx = [kxx, kxy, -kxx * ry + kxy * rx];
    const fy = [kxy, kyy, -kxy * ry + kyy * rx];
    for (let j = 0; j < 3; j++) {
      a[j]! += fx[j]!;
      a[3 + j]! += fy[j]!;
      a[6 + j]! += rx * fy[j]! - ry * fx[j]!;
    }
    return { fx, fy };
  });
  const u = solve3(a as unknown as Nine, [fxN, fyN, about / reach]);
  if (!u) return null;
  const sum = (k: readonly number[]): number => k[0]! * u[0] + k[1]! * u[1] + k[2]! * u[2];
  return { forcesN: rows.map(({ fx, fy }) => [sum(fx), sum(fy)] as const), leftTorqueNmm: 0 };
}

type Nine = readonly [number, number, number, number, number, number, number, number, number];

/** 3 × 3, row by row, by cofactors; null where the matrix is as good as singular. */
function solve3(a: Nine, b: readonly [number, number, number]): [number, number, number] | null {
  const [a0, a1, a2, a3, a4, a5, a6, a7, a8] = a;
  const c0 = a4 * a8 - a5 * a7;
  const c1 = a5 * a6 - a3 * a8;
  const c2 = a3 * a7 - a4 * a6;
  const det = a0 * c0 + a1 * c1 + a2 * c2;
  const size = (a0 + a4 + a8) / 3;
  if (!(det > 1e-9 * size ** 3)) return null;
  return [
    (b[0] * c0 + b[1] * (a2 * a7 - a1 * a8) + b[2] * (a1 * a5 - a2 * a4)) / det,
    (b[0] * c1 + b[1] * (a0 * a8 - a2 * a6) + b[2] * (a2 * a3 - a0 * a5)) / det,
    (b[0] * c2 + b[1] * (a1 * a6 - a0 * a7) + b[2] * (a0 * a4 - a1 * a3)) / det,
  ];
}

/** The rectangle by which a bracket lies on its mount, mm. */
export interface Footprint {
  readonly xMinMm: number;
  readonly xMaxMm: number;
  readonly yMinMm: number;
  readonly yMaxMm: number;
}

/** What holds a bracket down: tension of each fixing, and where the mount presses back, N. */
export interface Lift {
  readonly tensionN: readonly number[];
  readonly contacts: readonly { readonly xMm: number; readonly yMm: number; readonly forceN: number }[];
}

/**
 * Tension of each fixing under a force out of the mount (N, positive pulls off) and moments of all loads about the frame's x
 * and y axes (N·mm). The bracket is rigid and pivots about the edge of its footprint on the pressed side, so the tension from a
 * moment grows with the distance from that edge: T_i = M·l_i/Σl². A pull is shared alike; a push first closes the gap:
 * only what turns it over its edge is left. The leverage of a pull beside the fixings is in it (T = F·(1 + b/a) for one row).
 * Source: plain statics, pivoting edge (Shigley; V. B. Bhandari, Design of Machine Elements, from memory). Null where a
 * fixing row stands on the pivot edge and so cannot hold.
 */
export function liftForces(
  bolts: readonly GroupBolt[],
  footprint: Footprint,
  pullN: number,
  mxNmm: number,
  myNmm: number,
): Lift | null {
  const [cx, cy] = groupCentroid(bolts);
  let mx = mxNmm - cy * pullN;
  let my = myNmm + cx * pullN;
  const contacts: { xMm: number; yMm: number; forceN: number }[] = [];
  if (pullN < 0) {
    const push = -pullN;
    const xMm = Math.min(Math.max(cx + my / push, footprint.xMinMm), footprint.xMaxMm);
    const yMm = Math.min(Math.max(cy - mx / push, footprint.yMinMm), footprint.yMaxMm);
    my -= (xMm - cx) * push;
    mx += (yMm - cy) * push;
    contacts.push({ xMm, yMm, forceN: push });
  }
  const tension = bolts.map(() => Math.max(pullN, 0) / bolts.length);
  const couple = (momentNmm: number, arms: readonly number[], at: (atMm: number) => [number, number]): boolean => {
    const size = Math.abs(momentNmm);
    if (size < 1e-9 * (1 + Math.abs(mxNmm) + Math.abs(myNmm))) return true;
    const sum = arms.reduce((s, l) => s + l * l, 0);
    if (!(sum > 1e-6)) return false;
    let total = 0;
    let side = 0;
    arms.forEach((l, i) => {
      const t = (size * l) / sum;
      tension[i]! += t;
      total += t;
      side += t * (arms === armsY ? bolts[i]!.yMm : bolts[i]!.xMm);
    });
    const [xMm, yMm] = at(side / total);
    contacts.push({ xMm, yMm, forceN: total });
    return true;
  };
  // +My presses at +x, +Mx presses at −y
  const xEdge = my > 0 ? footprint.xMaxMm : footprint.xMinMm;
  const yEdge = mx > 0 ? footprint.yMinMm : footprint.yMaxMm;
  const armsY = bolts.map((b) => Math.max(0, Math.abs(b.xMm - xEdge)));
  const armsX = bolts.map((b) => Math.max(0, Math.abs(b.yMm - yEdge)));
  const held = couple(my, armsY, (y) => [xEdge, y]) && couple(mx, armsX, (x) => [x, yEdge]);
  return held ? { tensionN: tension, contacts } : null;
}
