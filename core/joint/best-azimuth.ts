import { type Vec3, toDeg, toRad } from '../space';
import { type Mount, mountFrame } from './stem';

/** The azimuth that keeps a joint nearest to square over the travel, and how far off it still gets. */
export interface BestAzimuth {
  readonly azimuthDeg: number;
  /** Largest |90° − φ| over the travel, degrees. */
  readonly deviationDeg: number;
}

const COARSE_DEG = 5;

/**
 * Best azimuth on a mount at a fixed tilt (degrees): the one whose largest deviation from square over the travel is
 * smallest. `directions` holds unit vectors from base end to lid end in the mount's own body axes, x, y, z one after
 * another. The answer is the best of all azimuths that are whole steps, so it is within half a step of the best there is.
 */
export function bestAzimuth(mount: Mount, tiltDeg: number, directions: Float64Array, stepDeg = 0.1): BestAzimuth {
  const { e, side, m } = mountFrame(mount);
  const ct = Math.cos(toRad(tiltDeg));
  const st = Math.sin(toRad(tiltDeg));
  const along = (n: Vec3, i: number): number =>
    n[0] * directions[i]! + n[1] * directions[i + 1]! + n[2] * directions[i + 2]!;
  const count = directions.length / 3;
  // n·u = ct·(cos ψ·e·u + sin ψ·side·u) + st·m·u
  const a = new Float64Array(count);
  const b = new Float64Array(count);
  const c = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    a[k] = ct * along(e, 3 * k);
    b[k] = ct * along(side, 3 * k);
    c[k] = st * along(m, 3 * k);
  }
  /** |n·u| at its largest: the sine of the deviation. */
  const worst = (azimuthDeg: number): number => {
    const cp = Math.cos(toRad(azimuthDeg));
    const sp = Math.sin(toRad(azimuthDeg));
    let most = 0;
    for (let k = 0; k < count; k++) most = Math.max(most, Math.abs(cp * a[k]! + sp * b[k]! + c[k]!));
    return most;
  };
  let best = 0;
  let least = Infinity;
  /** Deviation at an azimuth, degrees. */
  const look = (azimuthDeg: number): number => {
    const value = toDeg(Math.asin(Math.min(1, worst(azimuthDeg))));
    if (value < least - 1e-9) [least, best] = [value, azimuthDeg];
    return value;
  };
  // Turning the stem by 1° changes no joint angle by more than 1°: a cell that can't hold anything better is left.
  let cells: [number, number][] = [];
  for (let at = -180 + COARSE_DEG; at <= 180; at += COARSE_DEG) cells.push([at, look(at)]);
  for (let width = COARSE_DEG; width > stepDeg;) {
    const step = Math.max(width / 5, stepDeg);
    const reach = Math.ceil(width / 2 / step - 1e-9);
    const next: [number, number][] = [];
    cells.sort((p, q) => p[1] - q[1]);
    for (const [middle, value] of cells) {
      if (value - width / 2 >= least) continue;
      for (let i = -reach; i <= reach; i++) next.push([middle + i * step, look(middle + i * step)]);
    }
    cells = next;
    width = step;
  }
  const wrapped = best > 180 ? best - 360 : best <= -180 ? best + 360 : best;
  return { azimuthDeg: Number(wrapped.toFixed(6)), deviationDeg: least };
}
