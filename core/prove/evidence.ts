import { CholeskyDecomposition, Matrix, determinant } from 'ml-matrix';
import { adjustment, solve } from '../solve';

/** Turns a vector of correlated errors into independent ones of σ 1. */
export interface Whitener {
  readonly whiten: (v: ArrayLike<number>) => Float64Array;
  /** ln det of the covariance. */
  readonly lnDet: number;
}

/**
 * Whitens errors of covariance diag(sigma²) + effects·effectsᵀ: sigma one a reading, effects one row a reading and one
 * column a shared doubt. L⁻¹ of the Cholesky factor.
 */
export function whitener(sigma: ArrayLike<number>, effects: readonly ArrayLike<number>[]): Whitener {
  const n = sigma.length;
  const covariance = Matrix.zeros(n, n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let sum = i === j ? sigma[i]! ** 2 : 0;
      const a = effects[i]!;
      const b = effects[j]!;
      for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
      covariance.set(i, j, sum);
      covariance.set(j, i, sum);
    }
  const l = new CholeskyDecomposition(covariance).lowerTriangularMatrix.to2DArray();
  return {
    lnDet: 2 * l.reduce((sum, row, i) => sum + Math.log(row[i]!), 0),
    whiten(v) {
      const out = new Float64Array(n);
      for (let i = 0; i < n; i++) {
        let sum = v[i]!;
        const row = l[i]!;
        for (let j = 0; j < i; j++) sum -= row[j]! * out[j]!;
        out[i] = sum / row[i]!;
      }
      return out;
    },
  };
}

/** A hypothesis fitted to readings. */
export interface Fitted {
  readonly values: readonly number[];
  /** One standard deviation of each value, from readings and width together. */
  readonly sigmas: readonly number[];
  /** Σ of the whitened residuals squared at the best values, without the part of the widths. */
  readonly chiSquare: number;
  /** ln of the chance of the readings under the hypothesis, less the constants that all hypotheses share. */
  readonly lnEvidence: number;
}

/**
 * Fits values with prior widths to whitened residuals (read − predicted, σ 1) by weighted least squares, and says how well
 * the hypothesis explains them: ln Z = −½·(Σ residuals² + Σ (value/width)²) + ½·ln det(covariance of the values) − Σ ln width.
 * That is Laplace's approximation, exact where the residuals are linear in the values. The last two terms are the price of
 * the hypothesis' freedom: a value that could have been anything within its width and had to be tuned costs ln(width/σ).
 * `residuals` writes into `out`. Source (from memory): MacKay, Information Theory, Inference, and Learning Algorithms
 * (2003), chapter 28, "Occam factor"; checked in tests/published/prove.test.ts against a general-purpose library.
 */
export function fitHypothesis(
  count: number,
  widths: readonly number[],
  residuals: (values: ArrayLike<number>) => ArrayLike<number>,
): Fitted {
  const n = widths.length;
  if (n === 0) {
    const chiSquare = sumOfSquares(residuals([]));
    return { values: [], sigmas: [], chiSquare, lnEvidence: -chiSquare / 2 };
  }
  // values are fitted in units of their width, so that all are of like size
  const values = (u: ArrayLike<number>): number[] => widths.map((w, k) => w * u[k]!);
  const problem = {
    variables: new Float64Array(n),
    scale: widths.map(() => 1),
    equations: [
      {
        name: 'readings',
        kind: 'soft' as const,
        variables: widths.map((_, k) => k),
        size: count,
        residual: (u: Float64Array, out: Float64Array) => out.set(residuals(values(u)) as Float64Array),
      },
      {
        name: 'widths',
        kind: 'soft' as const,
        variables: widths.map((_, k) => k),
        size: n,
        residual: (u: Float64Array, out: Float64Array) => out.set(u),
      },
    ],
  };
  const { x } = solve(problem, { mostSteps: 40, stepTolerance: 1e-5, reductionTolerance: 1e-6 });
  const { covariance } = adjustment(problem, x);
  const chiSquare = sumOfSquares(residuals(values(x)));
  const det = n === 1 ? covariance[0]! : determinant(new Matrix(toRows(covariance, n)));
  // in units of the widths, Σ ln width is 0
  const lnEvidence = -(chiSquare + sumOfSquares(x)) / 2 + Math.log(Math.max(det, 1e-300)) / 2;
  return {
    values: values(x),
    sigmas: widths.map((w, k) => w * Math.sqrt(covariance[k * n + k]!)),
    chiSquare,
    // values that end where nothing can be predicted explain nothing
    lnEvidence: Number.isNaN(lnEvidence) ? -Infinity : lnEvidence,
  };
}

const sumOfSquares = (v: ArrayLike<number>): number => {
  let sum = 0;
  for (let i = 0; i < v.length; i++) sum += v[i]! ** 2;
  return sum;
};

const toRows = (flat: ArrayLike<number>, n: number): number[][] =>
  Array.from({ length: n }, (_, i) => Array.from({ length: n }, (__, j) => flat[i * n + j]!));
