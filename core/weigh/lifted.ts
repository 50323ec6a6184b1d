import { fail } from '../error';
import { type Vec3, add, cross, dot, norm, perpendicularTo, scale, sub, toRad, unit, toVec3 } from '../space';
import { STANDARD_GRAVITY } from '../quantity';
import { type Matrix, carriedThrough, generalisedFit } from './fit';

/** A scale or a block under the lid. */
export interface Support {
  /** Where it carries, lid coordinates (base frame, lid closed), mm. Along the edge it may stand anywhere. */
  readonly atMm: Vec3;
  /** What its scale reads, N; null where a block stands instead of a scale. */
  readonly forceN: number | null;
  readonly sigmaN?: number;
}

/** The lid lifted off and standing on two supports in one attitude. */
export interface Weighing {
  readonly name?: string;
  /** What was up then, lid coordinates (any length). A lid lying as if closed on a level base has (0, 0, 1). */
  readonly up: Vec3;
  readonly supports: readonly [Support, Support];
  /** σ of the tilt about the supports, degrees; 0 where not given. */
  readonly sigmaTiltDeg?: number;
  /** σ of where each support carries, mm, along the line between them; 0 where not given. */
  readonly sigmaAtMm?: number;
}

/** Mass and centre of mass. */
export interface MassFound {
  readonly kg: number;
  /** Lid coordinates (base frame, lid closed), mm. */
  readonly atMm: Vec3;
  /** Of [kg, x, y, z]; kg², kg·mm, mm². Directions that were assumed have none. */
  readonly covariance: Matrix;
  readonly sigmaKg: number;
  readonly sigmaMm: Vec3;
  /** Unit directions along which the place was not measured but taken from `assumedMm`. */
  readonly assumed: readonly Vec3[];
  readonly residualsN: readonly number[];
  readonly w: readonly (number | null)[];
  readonly spare: number;
}

interface Row {
  readonly row: number[];
  readonly weighing: number;
  readonly support: 0 | 1;
  readonly forceN: number;
  readonly sigmaN: number;
}

/**
 * Mass and centre of mass of a lid that was lifted off and weighed at two edges, in one attitude or more. With p and q the supports,
 * d the level direction from q to p and û up: F_p·(p − q)·d = m·g·(c − q)·d, and the same the other way round, which is
 * linear in m and m·c. A second attitude, tilted about the same edges, gives the height above the panel; weighing at the other
 * two edges gives the place along them. A direction that no attitude measured is taken from `assumedMm`, and named.
 * Throws a LidwrightError where the mass itself is not fixed, or supports stand above one another.
 */
export function massFromWeighings(weighings: readonly Weighing[], assumedMm: Vec3): MassFound {
  const setups = weighings.map(setUp);
  const rows = weighings.flatMap((w, i) => rowsOf(w, i, setups[i]!, assumedMm));
  const directions = independent(setups.map((s) => s.level));
  if (rows.length < 1 + directions.length)
    return fail(
      `${rows.length} scale reading${rows.length === 1 ? '' : 's'} can’t give both mass and place`,
      ['weighings'],
      'Read the scale under each of the two edges, then again with the lid tilted.',
    );
  // unknowns: m, and m·(c − assumed) along each measured direction
  const design = rows.map(({ row }) => [row[0]!, ...directions.map((e) => dot(e, toVec3(row.slice(1))))]);
  const values = rows.map((r) => r.forceN);
  let x: readonly number[] = [0];
  let fit = null as ReturnType<typeof generalisedFit> | null;
  for (let pass = 0; pass < 3; pass++) {
    fit = generalisedFit(design, values, readingCovariance(rows, weighings, setups, x, directions, assumedMm), [
      'weighings',
    ]);
    x = fit.x;
  }
  const kg = x[0]!;
  if (!(kg > 0))
    return fail(
      `the readings give a mass of ${kg.toFixed(2)} kg`,
      ['weighings'],
      'Check the scale’s sign and its zero.',
    );
  const offset = (v: readonly number[]): Vec3 =>
    directions.reduce<Vec3>((s, e, k) => add(s, scale(e, v[k + 1]! / v[0]!)), [0, 0, 0]);
  const c = offset(x);
  // d(kg, c)/d(m, m·c along each direction)
  const slope = [
    [1, ...directions.map(() => 0)],
    ...[0, 1, 2].map((axis) => [-c[axis]! / kg, ...directions.map((e) => e[axis]! / kg)]),
  ];
  const covariance = carriedThrough(slope, fit!.covariance);
  const sigma = (k: number): number => Math.sqrt(Math.max(0, covariance[k]![k]!));
  return {
    kg,
    atMm: add(assumedMm, c),
    covariance,
    sigmaKg: sigma(0),
    sigmaMm: [sigma(1), sigma(2), sigma(3)],
    assumed: complement(directions),
    residualsN: fit!.residuals,
    w: fit!.w,
    spare: fit!.spare,
  };
}

interface Setup {
  readonly up: Vec3;
  /** Level unit vector from the second support to the first. */
  readonly level: Vec3;
  /** Level distance between the supports, mm. */
  readonly spanMm: number;
}

function setUp(w: Weighing, i: number): Setup {
  const where = ['weighings', i];
  const numbers = [...w.up, ...w.supports.flatMap((s) => [...s.atMm, s.forceN ?? 0, s.sigmaN ?? 1])];
  if (!numbers.every(Number.isFinite))
    return fail(`weighing ${i + 1} is not all numbers`, where, 'Fill in its numbers.');
  w.supports.forEach((s, k) => {
    if (s.forceN !== null && !((s.sigmaN ?? 0) > 0))
      fail('a scale’s σ is not over 0', [...where, 'supports', k], 'Give how finely the scale reads, in N.');
  });
  const up = unit(w.up);
  const apart = sub(w.supports[0].atMm, w.supports[1].atMm);
  const level = perpendicularTo(apart, up);
  const spanMm = norm(level);
  if (!(spanMm > 0.05 * norm(apart)) || !(spanMm > 1))
    return fail(
      `in weighing ${i + 1} one support stands above the other`,
      where,
      'Set the supports apart sideways, or tilt the lid less.',
    );
  return { up, level: scale(level, 1 / spanMm), spanMm };
}

/** F = g/L·((s − other)·d·m …): coefficients of [m, m·(c − assumed)] in x, y, z. */
function rowsOf(w: Weighing, weighing: number, { level, spanMm }: Setup, assumedMm: Vec3): Row[] {
  return ([0, 1] as const).flatMap((support) => {
    const { forceN, sigmaN } = w.supports[support];
    if (forceN === null) return [];
    const other = w.supports[support === 0 ? 1 : 0].atMm;
    const sign = support === 0 ? 1 : -1;
    const k = (STANDARD_GRAVITY / spanMm) * sign;
    return [
      {
        row: [k * dot(sub(assumedMm, other), level), ...scale(level, k)],
        weighing,
        support,
        forceN,
        sigmaN: sigmaN!,
      },
    ];
  });
}

/** Scatter of the readings: the scales' own, and what tilt and places of the supports add, shared within a weighing. */
function readingCovariance(
  rows: readonly Row[],
  weighings: readonly Weighing[],
  setups: readonly Setup[],
  x: readonly number[],
  directions: readonly Vec3[],
  assumedMm: Vec3,
): number[][] {
  const kg = x[0]!;
  const at =
    kg > 0 ? directions.reduce<Vec3>((s, e, k) => add(s, scale(e, (x[k + 1] ?? 0) / kg)), assumedMm) : assumedMm;
  /** Slopes of a reading by tilt (rad) and by the place of either support (mm). */
  const slopes = rows.map((r) => {
    const w = weighings[r.weighing]!;
    const { up, level, spanMm } = setups[r.weighing]!;
    const [p, q] = [w.supports[0].atMm, w.supports[1].atMm];
    const weight = kg * STANDARD_GRAVITY;
    const share = dot(sub(at, q), level) / spanMm;
    const sign = r.support === 0 ? 1 : -1;
    // tilting turns `level` towards up: d(share)/dφ = ((c − q)·û − share·(p − q)·û)/L
    const byTilt = (sign * weight * (dot(sub(at, q), up) - share * dot(sub(p, q), up))) / spanMm;
    return { byTilt, byFirst: (-sign * weight * share) / spanMm, bySecond: (-sign * weight * (1 - share)) / spanMm };
  });
  return rows.map((a, i) =>
    rows.map((b, j) => {
      let c = i === j ? a.sigmaN ** 2 : 0;
      if (a.weighing === b.weighing) {
        const w = weighings[a.weighing]!;
        const tilt = toRad(w.sigmaTiltDeg ?? 0);
        const place = w.sigmaAtMm ?? 0;
        c += slopes[i]!.byTilt * slopes[j]!.byTilt * tilt ** 2;
        c += (slopes[i]!.byFirst * slopes[j]!.byFirst + slopes[i]!.bySecond * slopes[j]!.bySecond) * place ** 2;
      }
      return c;
    }),
  );
}

/** Orthonormal directions that span the given ones; ones within half a degree count as one. */
function independent(vectors: readonly Vec3[]): Vec3[] {
  const out: Vec3[] = [];
  for (const v of vectors) {
    const rest = out.reduce<Vec3>((r, e) => sub(r, scale(e, dot(r, e))), v);
    if (norm(rest) > 0.009) out.push(unit(rest));
  }
  return out;
}

/** Orthonormal directions square to all given (themselves orthonormal). */
function complement(directions: readonly Vec3[]): Vec3[] {
  const axes: Vec3[] = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  if (directions.length === 0) return axes;
  if (directions.length === 3) return [];
  if (directions.length === 2) return [unit(cross(directions[0]!, directions[1]!))];
  const d = directions[0]!;
  const least = axes.reduce((best, a) => (Math.abs(dot(a, d)) < Math.abs(dot(best, d)) ? a : best));
  const first = unit(perpendicularTo(least, d));
  return [first, cross(d, first)];
}
