import { type Vec3, angleBetween, asin, dot, toDeg } from '../space';

/**
 * How the strut's direction moves over the travel, seen from the body that the joint is fixed to.
 * `directions` are unit vectors from base end to lid end, x, y, z one after another, one for each of `angleDeg` (ascending);
 * `at` gives them for any opening angle, degrees.
 */
export interface Swing {
  readonly angleDeg: Float64Array;
  readonly directions: Float64Array;
  at(angleDeg: number): Vec3;
}

/** A stem at its worst over the travel. */
export interface Worst {
  /** How far off `nominalDeg` the joint gets, degrees. */
  readonly deviationDeg: number;
  /** The opening angle where, degrees, and the joint angle there. */
  readonly atDeg: number;
  readonly jointDeg: number;
}

const INVERSE_GOLDEN = (Math.sqrt(5) - 1) / 2;

/** Where f is largest in [from, to], by golden section: exact for one hump. */
export function highest(f: (x: number) => number, from: number, to: number, steps = 60): number {
  let [a, b] = [from, to];
  let c = b - INVERSE_GOLDEN * (b - a);
  let d = a + INVERSE_GOLDEN * (b - a);
  let [fc, fd] = [f(c), f(d)];
  for (let i = 0; i < steps && b - a > 1e-12 * (1 + Math.abs(a)); i++) {
    if (fc >= fd) {
      [b, d, fd] = [d, c, fc];
      c = b - INVERSE_GOLDEN * (b - a);
      fc = f(c);
    } else {
      [a, c, fc] = [c, d, fd];
      d = a + INVERSE_GOLDEN * (b - a);
      fd = f(d);
    }
  }
  const best = [a, b, c, d].reduce((x, y) => (f(y) > f(x) ? y : x));
  return best;
}

/** The unit direction of row i of a swing. */
export const directionAt = ({ directions }: Swing, i: number): Vec3 => [
  directions[3 * i]!,
  directions[3 * i + 1]!,
  directions[3 * i + 2]!,
];

/**
 * The largest value of f over the travel and where: the table's rows first, then between the neighbours of every row that
 * could still win, so that nothing is lost between two rows.
 */
export function highestOverTravel(
  swing: Swing,
  f: (u: Vec3) => number,
): { readonly value: number; readonly atDeg: number } {
  const n = swing.angleDeg.length;
  const rows = Float64Array.from({ length: n }, (_, i) => f(directionAt(swing, i)));
  let value = -Infinity;
  let atDeg = swing.angleDeg[0] ?? 0;
  for (let i = 0; i < n; i++) if (rows[i]! > value) [value, atDeg] = [rows[i]!, swing.angleDeg[i]!];
  const top = value;
  for (let i = 0; i < n; i++) {
    const [before, here, after] = [rows[i - 1] ?? -Infinity, rows[i]!, rows[i + 1] ?? -Infinity];
    if (here < before || here < after) continue;
    // a hump between rows rises no more over its rows than those differ from their neighbours
    const slack = Math.max(here - (rows[i - 1] ?? here), here - (rows[i + 1] ?? here), 1e-9);
    if (here + slack < top) continue;
    const from = swing.angleDeg[Math.max(0, i - 1)]!;
    const to = swing.angleDeg[Math.min(n - 1, i + 1)]!;
    if (!(to > from)) continue;
    const at = highest((x) => f(swing.at(x)), from, to);
    const found = f(swing.at(at));
    if (found > value) [value, atDeg] = [found, at];
  }
  return { value, atDeg };
}

/** Worst deviation of a unit stem from square to the strut over the whole travel. */
export function worstDeviation(swing: Swing, stem: Vec3): Worst {
  const { value, atDeg } = highestOverTravel(swing, (u) => Math.abs(dot(stem, u)));
  return {
    deviationDeg: toDeg(asin(Math.min(1, value))),
    atDeg,
    jointDeg: toDeg(angleBetween(stem, swing.at(atDeg))),
  };
}

/** Worst angle between the stem (either way along it) and the strut, degrees: what an axial joint is held to. */
export function worstFromLine(swing: Swing, stem: Vec3): Worst {
  const { value, atDeg } = highestOverTravel(swing, (u) => 1 - Math.abs(dot(stem, u)));
  const jointDeg = toDeg(angleBetween(stem, swing.at(atDeg)));
  return { deviationDeg: value === -Infinity ? 0 : Math.min(jointDeg, 180 - jointDeg), atDeg, jointDeg };
}

/** Joint angle φ at every row of the travel, degrees. */
export const anglesOver = (swing: Swing, stem: Vec3): Float64Array =>
  Float64Array.from({ length: swing.angleDeg.length }, (_, i) => toDeg(angleBetween(stem, directionAt(swing, i))));

/** Whether a stem at `angleDeg` to the strut is inside 90° ± range; null where the angle can't exist. */
export const inRange = (angleDeg: number, rangeDeg: number): boolean | null =>
  Number.isFinite(angleDeg) ? Math.abs(90 - angleDeg) <= rangeDeg + 1e-9 : null;
