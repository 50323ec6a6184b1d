import type { EndName } from '../job';
import { type Vec3, add, asin, acos, atan2, cos, dot, scale, sin, toDeg, toRad, unit } from '../space';
import type { Field } from './field';
import type { Quick } from './quick';

/** A stem that a workshop can set: whole degrees on the zone's surface. */
export interface SetStem {
  readonly azimuthDeg: number;
  readonly tiltDeg: number;
  /** Unit, in the axes that the mount was given in. */
  readonly stem: Vec3;
  /** Furthest off its nominal angle over the rows of the travel, degrees. */
  readonly offDeg: number;
  readonly holds: boolean;
}

let rowsOfSwing = new Float64Array(3 * 128);
const one = new Float64Array(3);

/** As far off as `n` gets from square (or, axial, from the line) over the rows, as the sine or cosine that is compared. */
function worstOf(n: Vec3, rows: number, axial: boolean): { value: number; row: number } {
  let value = axial ? Infinity : -1;
  let row = 0;
  for (let i = 0, j = 0; i < rows; i++, j += 3) {
    const d = Math.abs(n[0] * rowsOfSwing[j]! + n[1] * rowsOfSwing[j + 1]! + n[2] * rowsOfSwing[j + 2]!);
    if (axial ? d < value : d > value) [value, row] = [d, i];
  }
  return { value, row };
}

/**
 * The best stem of an end at the present pose of a judge, rounded to whole degrees of azimuth and tilt on its mount: the stem
 * that keeps the joint best is found first (for a square joint by trading the middle one of three directions for the worst),
 * then the whole degrees round it are tried, with the tilts that are given those. `mount` in hinge axes; `joint` of the judge must have
 * been asked before.
 */
export function setStem(
  field: Field,
  quick: Quick,
  end: EndName,
  mount: { readonly e: Vec3; readonly side: Vec3; readonly m: Vec3 },
  tilts: readonly number[] | null = null,
): SetStem {
  const { rangeDeg, axial } = field.ends[end];
  const rows = quick.rows();
  if (rowsOfSwing.length < 3 * rows) rowsOfSwing = new Float64Array(6 * rows);
  for (let i = 0; i < rows; i++) {
    quick.direction(end, i, one);
    rowsOfSwing.set(one, 3 * i);
  }
  const n = free(quick, end, rows, axial);
  const up = dot(n, mount.m) < 0 ? scale(n, -1) : n;
  const [a, b, c] = [dot(up, mount.e), dot(up, mount.side), dot(up, mount.m)];
  const azimuth = toDeg(atan2(b, a));
  const tilt = toDeg(atan2(c, Math.hypot(a, b)));
  let best: SetStem | null = null;
  const least = Math.max(0, Math.floor(tilt) - 1);
  const most = Math.min(90, Math.ceil(tilt) + 1);
  for (const t of tilts ?? Array.from({ length: most - least + 1 }, (_, i) => least + i))
    for (let z = Math.floor(azimuth) - 1; z <= Math.ceil(azimuth) + 1; z++) {
      const stem = leaning(mount, z, t);
      const { value } = worstOf(stem, rows, axial);
      const offDeg = toDeg(axial ? acos(Math.min(1, value)) : asin(Math.min(1, value)));
      if (best && offDeg >= best.offDeg) continue;
      best = { azimuthDeg: ((z + 540) % 360) - 180, tiltDeg: t, stem, offDeg, holds: offDeg <= rangeDeg };
    }
  return best!;
}

function leaning({ e, side, m }: { e: Vec3; side: Vec3; m: Vec3 }, azimuthDeg: number, tiltDeg: number): Vec3 {
  const [z, t] = [toRad(azimuthDeg), toRad(tiltDeg)];
  return unit(add(scale(add(scale(e, cos(z)), scale(side, sin(z))), cos(t)), scale(m, sin(t))));
}

/** The free stem: the judge's guess from three directions, its middle one traded for the worst until nothing is gained. */
function free(quick: Quick, end: EndName, rows: number, axial: boolean): Vec3 {
  let n = quick.guess(end);
  if (axial) return n;
  let { value, row } = worstOf(n, rows, false);
  for (let round = 0; round < 3 && row > 0 && row < rows - 1; round++) {
    const next = quick.guessWith(end, row);
    const then = worstOf(next, rows, false);
    if (then.value >= value - 1e-9) break;
    n = next;
    ({ value, row } = then);
  }
  return n;
}
