/**
 * Value of a row of a travel table at an angle, straight between the rows beside it; null outside the table and beside an
 * angle where it can't exist. @example valueOfRow([0, 10], [0, 100], 2.5) // 25
 */
export function valueOfRow(angleDeg: ArrayLike<number>, row: ArrayLike<number | null>, at: number): number | null {
  const last = angleDeg.length - 1;
  if (last < 0 || !(at >= angleDeg[0]! - 1e-9 && at <= angleDeg[last]! + 1e-9)) return null;
  let lo = 0;
  let hi = last;
  while (hi - lo > 1) {
    const mid = (lo + hi) >> 1;
    if (angleDeg[mid]! <= at) lo = mid;
    else hi = mid;
  }
  const [x0, x1] = [angleDeg[lo]!, angleDeg[hi]!];
  const part = x1 > x0 ? Math.min(Math.max((at - x0) / (x1 - x0), 0), 1) : 0;
  const [a, b] = [row[lo] ?? NaN, row[hi] ?? NaN];
  const value = part < 1e-9 ? a : part > 1 - 1e-9 ? b : a + (b - a) * part;
  return Number.isFinite(value) ? value : null;
}
