import { Matrix, inverse } from 'ml-matrix';
import type { Against } from './rank';
import { together } from './together';
import type { Cause } from './causes';
import type { Change } from './types';

/**
 * The fitted thing as it was measured: with a cause in it (none where nothing is wrong), everything that may differ, the cause's
 * numbers and the everyday doubts, as the readings leave it. Numbers are in units of their widths and doubts' σ.
 */
export interface Measured {
  /** Best values; the cause's own first, then one a doubt. */
  readonly best: Float64Array;
  /** How many are the cause's own. */
  readonly own: number;
  /** Their covariance. */
  readonly covariance: Matrix;
  /** What the lid is like at such values. */
  readonly at: (values: ArrayLike<number>) => Change;
}

/** Half a step for a slope, in widths. */
const STEP = 0.05;

/**
 * Everything that may differ, estimated from the readings about the fitted values of a cause: weighted least squares with what is
 * usual as further observations, taken as linear there. Source: Bayesian linear regression, (JᵀR⁻¹J + 1)⁻¹; any textbook on
 * least squares with prior weights.
 */
export function measured(
  { expectation: e, doubts }: Against,
  cause: Cause | null,
  values: readonly number[],
): Measured {
  const widths = cause?.widths ?? [];
  const own = widths.length;
  const changed = (v: readonly number[]): Change => cause?.change(v) ?? {};
  const predicted = e.read(changed(values));
  const columns = widths.map((width, k) => {
    const at = (by: number): Float64Array => e.read(changed(values.map((v, j) => (j === k ? v + by * width : v))));
    const [up, down] = [at(STEP), at(-STEP)];
    return up.map((v, i) => (v - down[i]!) / (2 * STEP));
  });
  const n = own + doubts.length;
  const start = widths.map((width, k) => values[k]! / width);
  const normal = Matrix.eye(n);
  const right = Matrix.columnVector([...start.map((v) => -v), ...doubts.map(() => 0)]);
  e.observed.forEach((read, i) => {
    const row = [...columns.map((c) => c[i]!), ...e.effects[i]!];
    const weight = 1 / e.readSigma[i]! ** 2;
    for (let a = 0; a < n; a++) {
      right.set(a, 0, right.get(a, 0) + row[a]! * weight * (read - predicted[i]!));
      for (let b = 0; b < n; b++) normal.set(a, b, normal.get(a, b) + row[a]! * weight * row[b]!);
    }
  });
  const covariance = inverse(normal);
  const best = Float64Array.from(covariance.mmul(right).to1DArray(), (v, k) => v + (start[k] ?? 0));
  return {
    best,
    own,
    covariance,
    at: (of) =>
      together(
        changed(widths.map((width, k) => width * of[k]!)),
        ...doubts.map((doubt, k) => doubt.change(doubt.sigma * of[own + k]!)),
      ),
  };
}
