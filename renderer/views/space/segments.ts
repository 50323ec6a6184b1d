import type { Vec3 } from '../../../core/space';

/** A growing list of line segments, six numbers each (from x y z, to x y z), that keeps its memory between drags. */
export class Segments {
  data: Float32Array;
  count = 0;

  constructor(capacity = 64) {
    this.data = new Float32Array(capacity * 6);
  }

  clear(): this {
    this.count = 0;
    return this;
  }

  push(ax: number, ay: number, az: number, bx: number, by: number, bz: number): void {
    const at = this.count * 6;
    if (at + 6 > this.data.length) {
      const grown = new Float32Array(this.data.length * 2);
      grown.set(this.data);
      this.data = grown;
    }
    const d = this.data;
    d[at] = ax;
    d[at + 1] = ay;
    d[at + 2] = az;
    d[at + 3] = bx;
    d[at + 4] = by;
    d[at + 5] = bz;
    this.count++;
  }

  line(a: Vec3, b: Vec3): void {
    this.push(a[0], a[1], a[2], b[0], b[1], b[2]);
  }
}

/** Most dashes one polyline may be cut into: a pattern far finer than its line must not hang the view. */
const MOST_DASHES = 4000;

/**
 * Cuts a polyline into dashes that run on through its corners. `patternMm` is drawn, left out, drawn, left out, …;
 * an empty pattern draws it whole. Points that aren't finite break the line.
 */
export function dashed(points: readonly Vec3[], patternMm: readonly number[], out: Segments, closed = false): void {
  const period = patternMm.reduce((sum, x) => sum + x, 0);
  const whole = !(period > 0);
  let slot = 0;
  let left = whole ? Infinity : patternMm[0]!;
  let made = 0;
  const n = points.length;
  for (let i = 0; i + 1 < n + (closed && n > 2 ? 1 : 0); i++) {
    const a = points[i]!;
    const b = points[(i + 1) % n]!;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]);
    if (!Number.isFinite(length) || !(length > 0)) continue;
    let at = 0;
    while (at < length) {
      if (++made > MOST_DASHES) return;
      const step = Math.min(left, length - at);
      if (slot % 2 === 0) {
        const s = at / length;
        const e = (at + step) / length;
        out.push(
          a[0] + (b[0] - a[0]) * s,
          a[1] + (b[1] - a[1]) * s,
          a[2] + (b[2] - a[2]) * s,
          a[0] + (b[0] - a[0]) * e,
          a[1] + (b[1] - a[1]) * e,
          a[2] + (b[2] - a[2]) * e,
        );
      }
      at += step;
      left -= step;
      while (!whole && left <= 1e-9) {
        slot = (slot + 1) % patternMm.length;
        left += patternMm[slot]!;
      }
    }
  }
}
