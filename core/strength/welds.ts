import { GAMMA_M2 } from './holes';
import type { Footprint } from './group';

/** A straight weld in the plane of the mount, mm. */
export interface WeldRun {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
}

/** Which edges of the fixed leg are welded: sides run along the bracket, ends across it. */
export type WeldEdges = 'all' | 'sides' | 'ends';

/** The runs round a footprint. */
export function weldRuns(f: Footprint, edges: WeldEdges): WeldRun[] {
  const sides: WeldRun[] = [
    { from: [f.xMinMm, f.yMinMm], to: [f.xMaxMm, f.yMinMm] },
    { from: [f.xMaxMm, f.yMaxMm], to: [f.xMinMm, f.yMaxMm] },
  ];
  const ends: WeldRun[] = [
    { from: [f.xMaxMm, f.yMinMm], to: [f.xMaxMm, f.yMaxMm] },
    { from: [f.xMinMm, f.yMaxMm], to: [f.xMinMm, f.yMinMm] },
  ];
  return edges === 'sides' ? sides : edges === 'ends' ? ends : [...sides, ...ends];
}

/** Force per length at one place of a weld, N/mm: along the run, across it in the plane, and out of the plane. */
export interface WeldForce {
  readonly xMm: number;
  readonly yMm: number;
  readonly along: number;
  readonly across: number;
  readonly out: number;
  /** In the frame: x, y, z, N/mm. */
  readonly vector: readonly [number, number, number];
}

/** A group of runs as lines: length mm, centroid mm, second moments about it mm³. */
export interface WeldGroup {
  readonly runs: readonly WeldRun[];
  readonly lengthMm: number;
  readonly cx: number;
  readonly cy: number;
  readonly ixMm3: number;
  readonly iyMm3: number;
  readonly ixyMm3: number;
}

/** Line properties of a weld group, throat 1. Source: welds as lines (O. W. Blodgett, Design of Welded Structures, from memory). */
export function weldGroup(runs: readonly WeldRun[]): WeldGroup {
  let lengthMm = 0;
  let sx = 0;
  let sy = 0;
  const lengths = runs.map(({ from, to }) => Math.hypot(to[0] - from[0], to[1] - from[1]));
  runs.forEach(({ from, to }, i) => {
    const l = lengths[i]!;
    lengthMm += l;
    sx += (l * (from[0] + to[0])) / 2;
    sy += (l * (from[1] + to[1])) / 2;
  });
  const cx = sx / lengthMm;
  const cy = sy / lengthMm;
  let ixMm3 = 0;
  let iyMm3 = 0;
  let ixyMm3 = 0;
  runs.forEach(({ from, to }, i) => {
    const l = lengths[i]!;
    const mx = (from[0] + to[0]) / 2 - cx;
    const my = (from[1] + to[1]) / 2 - cy;
    const dx = to[0] - from[0];
    const dy = to[1] - from[1];
    ixMm3 += l * my * my + (l * dy * dy) / 12;
    iyMm3 += l * mx * mx + (l * dx * dx) / 12;
    ixyMm3 += l * mx * my + (l * dx * dy) / 12;
  });
  return { runs, lengthMm, cx, cy, ixMm3, iyMm3, ixyMm3 };
}

/**
 * Force per length at both ends of every run, N/mm, under a force (N) and the moments of all loads about the frame's origin
 * (N·mm): the weld is a rigid body's line on equal springs. Out of the plane also with a skew line (I_xy).
 */
export function weldForces(
  group: WeldGroup,
  force: readonly [number, number, number],
  momentNmm: readonly [number, number, number],
): WeldForce[] {
  const { lengthMm, cx, cy, ixMm3, iyMm3, ixyMm3 } = group;
  const [fx, fy, fz] = force;
  const mx = momentNmm[0] - cy * fz;
  const my = momentNmm[1] + cx * fz;
  const mz = momentNmm[2] - (cx * fy - cy * fx);
  const polar = ixMm3 + iyMm3;
  const det = ixMm3 * iyMm3 - ixyMm3 ** 2;
  // n_z = F_z/L + a·y − b·x with Mx = a·Ix − b·Ixy, My = −a·Ixy + b·Iy
  const a = (mx * iyMm3 + my * ixyMm3) / det;
  const b = (my * ixMm3 + mx * ixyMm3) / det;
  return group.runs.flatMap(({ from, to }) => {
    const l = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const ex = (to[0] - from[0]) / l;
    const ey = (to[1] - from[1]) / l;
    return [from, to].map(([xMm, yMm]): WeldForce => {
      const x = xMm - cx;
      const y = yMm - cy;
      const vx = fx / lengthMm - (mz * y) / polar;
      const vy = fy / lengthMm + (mz * x) / polar;
      const out = fz / lengthMm + a * y - b * x;
      return { xMm, yMm, along: vx * ex + vy * ey, across: vy * ex - vx * ey, out, vector: [vx, vy, out] };
    });
  });
}

/** f_vw,d, N/mm²: f_u/(√3·β_w·γ_M2). Source: EN 1993-1-8 4.5.3.3, simplified method. */
export const weldShearMPa = (ultimateMPa: number, weldFactor: number): number =>
  ultimateMPa / (Math.sqrt(3) * weldFactor * GAMMA_M2);

/** Resultant force per length, N/mm. */
export const weldResultant = (f: WeldForce): number => Math.hypot(f.along, f.across, f.out);

/**
 * Use of a fillet weld by the directional method: √(σ⊥² + 3(τ⊥² + τ∥²)) over f_u/(β_w·γ_M2), and σ⊥ over 0.9·f_u/γ_M2; the
 * larger. The throat lies at 45° between the two parts; of the two ways it can lie the worse is taken.
 * Source: EN 1993-1-8 4.5.3.2.
 */
export function weldUse(f: WeldForce, throatMm: number, ultimateMPa: number, weldFactor: number): number {
  const part = Math.SQRT2 * throatMm;
  const tauAlong = f.along / throatMm;
  const use = (sigma: number, tau: number): number =>
    Math.max(
      Math.sqrt(sigma ** 2 + 3 * (tau ** 2 + tauAlong ** 2)) / (ultimateMPa / (weldFactor * GAMMA_M2)),
      Math.abs(sigma) / ((0.9 * ultimateMPa) / GAMMA_M2),
    );
  const plus = (f.across + f.out) / part;
  const minus = (f.across - f.out) / part;
  return Math.max(use(plus, minus), use(minus, plus));
}
