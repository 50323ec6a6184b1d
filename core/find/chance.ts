/** z of a standard normal variable that exceeds 95 % of a two-sided interval's middle. */
const Z95 = 1.959963984540054;

/** Wilson's 95 % interval for the share of failing ones, k of n. Source: E. B. Wilson, JASA 22 (1927) 209–212. */
export function wilson(k: number, n: number): readonly [number, number] {
  if (n === 0) return [0, 1];
  const share = k / n;
  const square = (Z95 * Z95) / n;
  const middle = (share + square / 2) / (1 + square);
  const half = (Z95 * Math.sqrt((share * (1 - share)) / n + square / (4 * n))) / (1 + square);
  return [k === 0 ? 0 : Math.max(0, middle - half), k === n ? 1 : Math.min(1, middle + half)];
}

const A = [-39.69683028665376, 220.9460984245205, -275.9285104469687, 138.357751867269, -30.66479806614716, 2.506628277459239]; // prettier-ignore
const B = [-54.47609879822406, 161.5858368580409, -155.6989798598866, 66.80131188771972, -13.28068155288572, 1];
const C = [-0.007784894002430293, -0.3223964580411365, -2.400758277161838, -2.549732539343734, 4.374664141464968, 2.938163982698783]; // prettier-ignore
const D = [0.007784695709041462, 0.3224671290700398, 2.445134137142996, 3.754408661907416, 1];
const horner = (c: readonly number[], x: number): number => c.reduce((sum, k) => sum * x + k, 0);
const TAIL = 0.02425;

/**
 * z below which a standard normal variable lies with chance p, 0 < p < 1, to about 1e-9 of itself.
 * Source: P. J. Acklam's rational approximation (from memory); tested against the exact quantile.
 */
export function normalAt(p: number): number {
  if (p < TAIL) {
    const q = Math.sqrt(-2 * Math.log(p));
    return horner(C, q) / horner(D, q);
  }
  if (p > 1 - TAIL) return -normalAt(1 - p);
  const q = p - 0.5;
  return (horner(A, q * q) * q) / horner(B, q * q);
}
