import { Matrix as Dense, EigenvalueDecomposition, inverse } from 'ml-matrix';
import { fail } from '../error';

/** Rows of numbers. */
export type Matrix = readonly (readonly number[])[];

/** A linear fit of correlated readings. */
export interface LinearFit {
  readonly x: readonly number[];
  readonly covariance: Matrix;
  /** Fitted less read. */
  readonly residuals: readonly number[];
  /** Residual over its own σ; null where nothing checks that reading. */
  readonly w: readonly (number | null)[];
  readonly spare: number;
}

/**
 * rows·x ≈ values for readings of the given covariance: x = (AᵀPA)⁻¹AᵀP·l, P the inverse covariance (Gauss–Markov).
 * Throws a LidwrightError when the readings leave x open.
 */
export function generalisedFit(
  rows: Matrix,
  values: readonly number[],
  covariance: Matrix,
  where: readonly (string | number)[],
): LinearFit {
  const a = dense(rows);
  const q = dense(covariance);
  const p = inverse(q);
  const n = a.columns;
  const scales = Array.from({ length: n }, (_, j) => Math.hypot(...a.getColumn(j)) || 1);
  const scaled = a.clone();
  for (let i = 0; i < a.rows; i++) for (let j = 0; j < n; j++) scaled.set(i, j, a.get(i, j) / scales[j]!);
  const normal = scaled.transpose().mmul(p).mmul(scaled);
  const values2 = new EigenvalueDecomposition(normal, { assumeSymmetric: true }).realEigenvalues;
  if (!(Math.min(...values2) > 1e-12 * Math.max(...values2)))
    return fail('these readings leave the answer open', where, 'Take another reading in a clearly different place.');
  const inv = inverse(normal);
  const y = inv
    .mmul(scaled.transpose())
    .mmul(p)
    .mmul(Dense.columnVector([...values]))
    .getColumn(0);
  const fitted = scaled.mmul(Dense.columnVector(y)).getColumn(0);
  const residuals = fitted.map((v, i) => v - values[i]!);
  const own = q.clone().sub(scaled.mmul(inv).mmul(scaled.transpose()));
  const spare = values.length - n;
  return {
    x: y.map((v, j) => v / scales[j]!),
    covariance: inv.to2DArray().map((row, i) => row.map((v, j) => v / (scales[i]! * scales[j]!))),
    residuals,
    w: residuals.map((v, i) => (own.get(i, i) > 1e-9 * q.get(i, i) ? v / Math.sqrt(own.get(i, i)) : null)),
    spare,
  };
}

const dense = (m: Matrix): Dense => new Dense(m.map((row) => [...row]));

/** j·c·jᵀ. */
export const carriedThrough = (j: Matrix, c: Matrix): number[][] =>
  dense(j).mmul(dense(c)).mmul(dense(j).transpose()).to2DArray();
