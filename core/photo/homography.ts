import { fail } from '../error';
import type { Mat3 } from '../space';
import { inverted, nullVector, product } from './linear';
import { refine } from './refine';

/** A place in a plane or a picture: two coordinates, their unit named by whoever holds it. */
export type Plane2 = readonly [number, number];

/** Where the same mark lies in two planes. */
export interface PlanePair {
  readonly from: Plane2;
  readonly to: Plane2;
}

/** A homography that was fitted, and how well. */
export interface HomographyFit {
  /** from → to, row by row; the last entry is 1 unless the origin of `from` lies on the vanishing line. */
  readonly matrix: Mat3;
  /** Fitted less given target, for each pair, target units. */
  readonly residuals: readonly Plane2[];
  /** Sum of squared residuals. */
  readonly sumOfSquares: number;
  /** Target coordinates beyond the eight that a homography needs: 2n − 8. */
  readonly spare: number;
  /** Standard deviation of one target coordinate as the residuals show it; null where none is spare. */
  readonly sigma: number | null;
  /**
   * Covariance of the nine entries of `matrix` for a target σ of 1 (9 × 9, row by row): times σ² it is the covariance
   * itself. Singular along the scale, which is fixed.
   */
  readonly cofactor: readonly (readonly number[])[];
}

/** Under this the equations leave more than one answer. */
const FIRM = 1e-9;
/** Least height of the flattest triangle of three marks over its longest side. */
const FLAT = 1e-3;

/** True when p lies on the same side of the vanishing line as the origin of a matrix with a positive last entry. */
const depth = (h: Mat3, p: Plane2): number => h[2][0] * p[0] + h[2][1] * p[1] + h[2][2];

/** h·p. Throws a LidwrightError for a point on the vanishing line. @example applyHomography([[0, 1, 0], [-1, 0, 1], [0, 0, 1]], [0.25, 0.5]) // [0.5, 0.75] */
export function applyHomography(h: Mat3, p: Plane2): Plane2 {
  const w = depth(h, p);
  const scale = Math.abs(h[2][0] * p[0]) + Math.abs(h[2][1] * p[1]) + Math.abs(h[2][2]);
  if (!(Math.abs(w) > 1e-12 * scale))
    return fail(
      'a place on the vanishing line of the plane has no picture',
      [],
      'Mark a place further from the horizon.',
    );
  return [(h[0][0] * p[0] + h[0][1] * p[1] + h[0][2]) / w, (h[1][0] * p[0] + h[1][1] * p[1] + h[1][2]) / w];
}

/** The homography the other way, last entry 1 where it can be. Throws a LidwrightError when there is none. */
export function invertHomography(h: Mat3): Mat3 {
  const inv = (() => {
    try {
      return inverted(h);
    } catch {
      return null;
    }
  })();
  if (inv === null || !inv.flat().every(Number.isFinite))
    return fail('this picture of a plane has no way back', [], 'Choose marks that are not in one line.');
  return unitLast(inv);
}

/** Scaled so that the last entry is 1; where that is 0, so that the largest is 1. */
function unitLast(m: readonly (readonly number[])[]): Mat3 {
  const largest = Math.max(...m.flat().map(Math.abs));
  const k = Math.abs(m[2]![2]!) > 1e-12 * largest ? m[2]![2]! : largest;
  return m.map((row) => row.map((v) => v / k)) as unknown as Mat3;
}

/** Moves the centroid to 0 and the mean distance from it to √2: Hartley, "In defense of the eight-point algorithm" (1997). */
function normaliser(points: readonly Plane2[]): { t: Mat3; back: Mat3 } {
  const n = points.length;
  const cx = points.reduce((s, p) => s + p[0], 0) / n;
  const cy = points.reduce((s, p) => s + p[1], 0) / n;
  const mean = points.reduce((s, p) => s + Math.hypot(p[0] - cx, p[1] - cy), 0) / n;
  const k = Math.SQRT2 / mean;
  return {
    t: [
      [k, 0, -k * cx],
      [0, k, -k * cy],
      [0, 0, 1],
    ],
    back: [
      [1 / k, 0, cx],
      [0, 1 / k, cy],
      [0, 0, 1],
    ],
  };
}

/** Height of the triangle over its longest side; 0 when two corners fall together. */
function flatness(a: Plane2, b: Plane2, c: Plane2): number {
  const area2 = Math.abs((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));
  const longest = Math.max(
    Math.hypot(b[0] - a[0], b[1] - a[1]),
    Math.hypot(c[0] - b[0], c[1] - b[1]),
    Math.hypot(a[0] - c[0], a[1] - c[1]),
  );
  return longest > 0 ? area2 / (longest * longest) : 0;
}

/** Refuses sets of marks of which no four have no three in line. */
function refuseFlat(pairs: readonly PlanePair[], where: readonly (string | number)[]): void {
  const flat = (i: number, j: number, k: number): boolean =>
    flatness(pairs[i]!.from, pairs[j]!.from, pairs[k]!.from) < FLAT ||
    flatness(pairs[i]!.to, pairs[j]!.to, pairs[k]!.to) < FLAT;
  const n = pairs.length;
  let seen: readonly [number, number, number] | null = null;
  for (let i = 0; i < n; i++)
    for (let j = i + 1; j < n; j++)
      for (let k = j + 1; k < n; k++) {
        if (flat(i, j, k)) {
          seen ??= [i, j, k];
          continue;
        }
        for (let l = k + 1; l < n; l++) if (!flat(i, j, l) && !flat(i, k, l) && !flat(j, k, l)) return;
      }
  const [i, j, k] = seen ?? [0, 1, 2];
  fail(
    `marks ${i + 1}, ${j + 1} and ${k + 1} lie in one line (or fall together), and no four others can do without them`,
    where,
    'Choose four marks of which no three are in line: the corners of a rectangle are best.',
  );
}

/** The normalised direct linear solution, in normalised coordinates. Source: Hartley & Zisserman, Multiple View Geometry, algorithm 4.2 (from memory). */
function directLinear(pairs: readonly PlanePair[]): { matrix: number[][]; conditioning: number } {
  const rows = pairs.flatMap(({ from: [x, y], to: [u, v] }) => [
    [-x, -y, -1, 0, 0, 0, u * x, u * y, u],
    [0, 0, 0, -x, -y, -1, v * x, v * y, v],
  ]);
  const { vector: h, conditioning } = nullVector(rows);
  return { matrix: [h.slice(0, 3), h.slice(3, 6), h.slice(6, 9)] as number[][], conditioning };
}

/**
 * The homography that takes `from` to `to`: exactly through four pairs; through more by least squares of the target
 * residuals (normalised direct linear start, then Levenberg–Marquardt).
 * Throws a LidwrightError for fewer than four pairs, for three of the only four in line, and for pairs that no
 * camera can have seen (the plane would run through it between the marks).
 */
export function fitHomography(
  pairs: readonly PlanePair[],
  options: { readonly refine?: boolean; readonly where?: readonly (string | number)[] } = {},
): HomographyFit {
  const where = options.where ?? [];
  const n = pairs.length;
  if (n < 4) return fail(`${n} marks: a plane needs four`, where, 'Mark four places or more whose distances you know.');
  pairs.forEach((p, i) => {
    if (![...p.from, ...p.to].every(Number.isFinite))
      fail(`mark ${i + 1} is not a number`, [...where, i], 'Give both coordinates.');
  });
  refuseFlat(pairs, where);
  const a = normaliser(pairs.map((p) => p.from));
  const b = normaliser(pairs.map((p) => p.to));
  const unitPairs = pairs.map((p) => ({ from: applyHomography(a.t, p.from), to: applyHomography(b.t, p.to) }));
  const linear = directLinear(unitPairs);
  if (linear.conditioning < FIRM || Math.abs(linear.matrix[2]![2]!) < 1e-9)
    return fail('these marks fit more than one picture of a plane', where, 'Spread the marks out further.');
  const start = linear.matrix.map((row) => row.map((v) => v / linear.matrix[2]![2]!));
  if (unitPairs.some((p) => !(depth(start as unknown as Mat3, p.from) > 1e-6)))
    return fail(
      'these marks can’t be one flat face seen by a camera',
      where,
      'Check that the marks are given in the same order as the places on the plane.',
    );
  const h = [...start[0]!, ...start[1]!, start[2]![0]!, start[2]![1]!];
  const fit = refine(h, 2 * n, (x, r, jac) => unitResiduals(unitPairs, x, r, jac), {
    steps: options.refine === false || n === 4 ? 0 : undefined,
  });
  const x = fit.x;
  const unitH = [
    [x[0]!, x[1]!, x[2]!],
    [x[3]!, x[4]!, x[5]!],
    [x[6]!, x[7]!, 1],
  ];
  const raw = product(product(b.back, unitH), a.t);
  const matrix = unitLast(raw);
  const residuals = pairs.map(({ from, to }): Plane2 => {
    const [u, v] = applyHomography(matrix, from);
    return [u - to[0], v - to[1]];
  });
  const sumOfSquares = residuals.reduce((s, r) => s + r[0] * r[0] + r[1] * r[1], 0);
  const spare = 2 * n - 8;
  return {
    matrix,
    residuals,
    sumOfSquares,
    spare,
    sigma: spare > 0 ? Math.sqrt(sumOfSquares / spare) : null,
    cofactor: entriesCofactor(fit.cofactor, raw, a.t, b.back),
  };
}

/** Residuals and Jacobian of the eight free entries in normalised coordinates. */
function unitResiduals(pairs: readonly PlanePair[], h: readonly number[], r: number[], jac: number[][] | null): void {
  pairs.forEach(({ from: [x, y], to: [u, v] }, i) => {
    const w = h[6]! * x + h[7]! * y + 1;
    const p = (h[0]! * x + h[1]! * y + h[2]!) / w;
    const q = (h[3]! * x + h[4]! * y + h[5]!) / w;
    r[2 * i] = p - u;
    r[2 * i + 1] = q - v;
    if (!jac) return;
    jac[2 * i] = [x / w, y / w, 1 / w, 0, 0, 0, (-p * x) / w, (-p * y) / w];
    jac[2 * i + 1] = [0, 0, 0, x / w, y / w, 1 / w, (-q * x) / w, (-q * y) / w];
  });
}

/** Covariance of the nine scaled entries from that of the eight normalised ones. Residual unit: `to`'s own, hence the factor. */
function entriesCofactor(
  unitCofactor: readonly (readonly number[])[],
  raw: readonly (readonly number[])[],
  t: Mat3,
  back: Mat3,
): number[][] {
  const last = raw[2]![2]!;
  const largest = Math.max(...raw.flat().map(Math.abs));
  const byLast = Math.abs(last) > 1e-12 * largest;
  const flat = raw.flat();
  const columns = Array.from({ length: 8 }, (_, k) => {
    const e = [
      [0, 0, 0],
      [0, 0, 0],
      [0, 0, 0],
    ];
    e[Math.floor(k / 3)]![k % 3] = 1;
    const d = product(product(back, e), t).flat();
    if (!byLast) return d.map((v) => v / largest);
    return d.map((v, i) => (v - (flat[i]! / last) * d[8]!) / last);
  });
  // a target σ of 1 is a σ of 1/back scale in normalised coordinates
  const k = 1 / back[0][0];
  const j = Array.from({ length: 9 }, (_, i) => columns.map((c) => c[i]! * k));
  return product(
    product(j, unitCofactor),
    columns.map((_, c) => j.map((row) => row[c]!)),
  );
}

/** Partial derivatives of h·p by p, 2 × 2. */
export function homographySlope(h: Mat3, p: Plane2): readonly [Plane2, Plane2] {
  const w = depth(h, p);
  const [u, v] = applyHomography(h, p);
  return [
    [(h[0][0] - u * h[2][0]) / w, (h[0][1] - u * h[2][1]) / w],
    [(h[1][0] - v * h[2][0]) / w, (h[1][1] - v * h[2][1]) / w],
  ];
}

/** Partial derivatives of h·p by the nine entries of h, 2 × 9. */
export function homographyEntrySlope(h: Mat3, p: Plane2): readonly [readonly number[], readonly number[]] {
  const w = depth(h, p);
  const [u, v] = applyHomography(h, p);
  const q = [p[0] / w, p[1] / w, 1 / w];
  return [
    [...q, 0, 0, 0, ...q.map((c) => -u * c)],
    [0, 0, 0, ...q, ...q.map((c) => -v * c)],
  ];
}
