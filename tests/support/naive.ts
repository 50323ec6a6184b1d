// The kernel's sums once more, the long way: quaternions, one mass at a time, P·V/T, acos. Shares no code with core.
import type { ResolvedJob } from '../../core/job';
import type { V3 } from './build';

export const plus = (...all: V3[]): V3 =>
  all.reduce<V3>((sum, v) => [sum[0] + v[0], sum[1] + v[1], sum[2] + v[2]], [0, 0, 0]);
export const minus = (a: V3, b: V3): V3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const times = (a: V3, k: number): V3 => [a[0] * k, a[1] * k, a[2] * k];
export const inner = (a: V3, b: V3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const outer = (a: V3, b: V3): V3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const size = (a: V3): number => Math.sqrt(inner(a, a));
export const dir = (a: V3): V3 => times(a, 1 / size(a));

/** v turned about the unit axis by `rad`, as q v q*. */
export function spin(v: V3, axis: V3, rad: number): V3 {
  const w = Math.cos(rad / 2);
  const q = times(axis, Math.sin(rad / 2));
  const t = times(outer(q, v), 2);
  return plus(v, times(t, w), outer(q, t));
}

interface NaiveStrut {
  readonly base: V3;
  readonly lid: V3;
  readonly lengthMm: number;
  /** Unit, base to lid. */
  readonly u: V3;
  /** By difference of the length, mm/rad. */
  readonly armMm: number;
  /** Moment about the opening axis of a unit push, mm. */
  readonly leverMm: number;
  readonly outN: number | null;
  readonly inN: number | null;
}

export interface Naive {
  readonly a: V3;
  readonly b: V3;
  readonly opening: V3;
  readonly gravity: V3;
  readonly masses: readonly { readonly kg: number; readonly at: V3 }[];
  readonly grip: V3;
  readonly struts: readonly NaiveStrut[];
  /** Seal and wind on the lid, N. */
  readonly pressed: readonly { readonly at: V3; readonly f: V3 }[];
  readonly weightNmm: number;
  readonly openingNmm: number | null;
  readonly closingNmm: number | null;
}

/** Everything at one angle of one load case, in plain sums; `opening` is the unit axis that a positive angle turns about. */
export function naive(job: ResolvedJob, caseIndex: number, opening: V3, rad: number): Naive {
  const at = new Map(job.points.map((p) => [p.id, p.at as V3]));
  const a = at.get(job.hinge.a)!;
  const b = at.get(job.hinge.b)!;
  const pose = (id: string, angle: number): V3 => plus(a, spin(minus(at.get(id)!, a), opening, angle));
  const load = job.loadCases[caseIndex]!;
  const [p, r] = [(load.pitchDeg * Math.PI) / 180, (load.rollDeg * Math.PI) / 180];
  // "down" written in the axes of a base that was first rolled about x, then pitched about y
  const level: V3 = times([-Math.sin(p), Math.cos(p) * Math.sin(r), Math.cos(p) * Math.cos(r)], -9.80665);
  const gravity = minus(level, times(load.accelG as V3, 9.80665));
  const masses = job.masses.filter((m) => !load.off.includes(m.id)).map((m) => ({ kg: m.kg, at: pose(m.at, rad) }));
  const weightNmm = masses.reduce((sum, m) => sum + inner(opening, outer(minus(m.at, a), times(gravity, m.kg))), 0);
  const grip = pose(job.grip, rad);
  const pressed = pressures(job, caseIndex, opening, rad, a, pose);
  const pressedNmm = pressed.reduce((sum, load) => sum + inner(opening, outer(minus(load.at, a), load.f)), 0);
  let openingNmm: number | null = weightNmm + pressedNmm - 1000 * job.hinge.frictionNm;
  let closingNmm: number | null = weightNmm + pressedNmm + 1000 * job.hinge.frictionNm;
  const struts = job.struts.map((s): NaiveStrut => {
    const base = at.get(s.base)!;
    const lengthAt = (angle: number): number => size(minus(pose(s.lid, angle), base));
    const lid = pose(s.lid, rad);
    const lengthMm = lengthAt(rad);
    const eps = 1e-5;
    const armMm =
      (8 * (lengthAt(rad + eps) - lengthAt(rad - eps)) - (lengthAt(rad + 2 * eps) - lengthAt(rad - 2 * eps))) /
      (12 * eps);
    const compression = s.spec.extendedMm - lengthMm;
    const area = (Math.PI * s.spec.rodMm ** 2) / 4;
    const inside = compression >= -1e-6 && compression <= s.spec.strokeMm + 1e-6;
    let outN: number | null = null;
    let inN: number | null = null;
    if (inside) {
      const { forceN, ratio, frictionN, strokeMm, toleranceN } = s.spec;
      const absolute = (force: number): number => (force + frictionN / 2) / area + 0.101325;
      // gas column at full extension (mm of rod area) so that P·V is the same at both rating points
      const p5 = absolute(forceN);
      const pEnd = absolute(ratio * forceN);
      const column = pEnd === p5 ? Infinity : (pEnd * (strokeMm - 5) - p5 * 5) / (pEnd - p5);
      const charged = absolute(
        forceN + (load.force === 'low' ? toleranceN[0] : load.force === 'high' ? toleranceN[1] : 0),
      );
      const squeeze = column === Infinity ? 1 : (column - 5) / (column - Math.min(Math.max(compression, 0), strokeMm));
      const mid = (charged * squeeze * ((load.tempC + 273.15) / 293.15) - 0.101325) * area;
      outN = mid - frictionN / 2;
      inN = mid + frictionN / 2;
      if (openingNmm !== null && closingNmm !== null) {
        openingNmm += s.quantity * (armMm >= 0 ? outN : inN) * armMm;
        closingNmm += s.quantity * (armMm >= 0 ? inN : outN) * armMm;
      }
    } else {
      openingNmm = null;
      closingNmm = null;
    }
    const u = dir(minus(lid, base));
    return { base, lid, lengthMm, u, armMm, leverMm: inner(opening, outer(minus(lid, a), u)), outN, inN };
  });
  if (struts.some((s) => s.outN === null)) openingNmm = closingNmm = null;
  return { a, b, opening, gravity, masses, grip, struts, pressed, weightNmm, openingNmm, closingNmm };
}

/** Seal and wind at the middle of the outline, turned corner by corner. */
function pressures(
  job: ResolvedJob,
  caseIndex: number,
  opening: V3,
  rad: number,
  a: V3,
  pose: (id: string, angle: number) => V3,
): { at: V3; f: V3 }[] {
  const corners = job.outline.map((id) => pose(id, rad));
  if (corners.length < 3) return [];
  const fan = corners.slice(2).map((c, i) => [corners[0]!, corners[i + 1]!, c] as const);
  const area2 = plus(...fan.map(([p, q, r]) => outer(minus(q, p), minus(r, p))));
  const n = dir(area2);
  const shares = fan.map(([p, q, r]) => inner(outer(minus(q, p), minus(r, p)), n) / size(area2));
  const at = plus(...fan.map((t, i) => times(plus(...t), shares[i]! / 3)));
  const way = outer(opening, minus(at, a));
  const normal = inner(n, way) < 0 ? times(n, -1) : n;
  const loads: { at: V3; f: V3 }[] = [];
  if (job.seal) {
    const moved = size(way) * rad;
    loads.push({
      at,
      f: times(dir(way), moved < job.seal.overMm ? job.seal.forceN * (1 - moved / job.seal.overMm) : 0),
    });
  }
  const { wind } = job.loadCases[caseIndex]!;
  if (wind) {
    const full = (0.5 * 1.225 * wind.ms ** 2 * wind.coefficient * size(area2)) / 2e6;
    const along = wind.towards === 'open' ? 1 : wind.towards === 'shut' ? -1 : inner(dir(wind.towards as V3), normal);
    loads.push({ at, f: times(normal, full * along) });
  }
  return loads;
}

/** Σ m·g·height along the case's gravity, J (against any fixed level). */
export const heightEnergyJ = (n: Naive): number =>
  n.masses.reduce((sum, m) => sum - (m.kg * inner(n.gravity, m.at)) / 1000, 0);

/** Moment with no friction at all, N·mm; null where a strut can't be. */
export function meanMomentNmm(job: ResolvedJob, n: Naive): number | null {
  let sum = n.weightNmm;
  for (const [k, s] of n.struts.entries()) {
    if (s.outN === null || s.inN === null) return null;
    sum += (job.struts[k]!.quantity * s.leverMm * (s.outN + s.inN)) / 2;
  }
  return sum;
}

/** Changes of sign of f over [from, to], each pinned by bisection, with at least `count` samples. */
export function scanRoots(f: (x: number) => number, from: number, to: number, count: number): number[] {
  const roots: number[] = [];
  let x0 = from;
  let f0 = f(from);
  for (let i = 1; i <= count; i++) {
    const x1 = from + ((to - from) * i) / count;
    const f1 = f(x1);
    if (f0 * f1 < 0) {
      let [lo, hi] = [x0, x1];
      for (let k = 0; k < 60; k++) {
        const mid = (lo + hi) / 2;
        if (f(mid) * f0 > 0) lo = mid;
        else hi = mid;
      }
      roots.push((lo + hi) / 2);
    }
    [x0, f0] = [x1, f1];
  }
  return roots;
}
