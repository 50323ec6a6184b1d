import { Matrix, SVD, inverse } from 'ml-matrix';

/** The right singular vector of the smallest singular value, and how well the rows fix it. */
export interface NullVector {
  readonly vector: readonly number[];
  /** Second smallest singular value over the largest: near 0 when the rows leave more than one answer. */
  readonly conditioning: number;
}

/** Unit vector that the rows (m × n, m ≥ n − 1) send nearest to 0. */
export function nullVector(rows: readonly (readonly number[])[]): NullVector {
  const n = rows[0]!.length;
  // padded to a square: the decomposition gives only min(m, n) vectors otherwise
  const padded = rows.map((row) => [...row]);
  while (padded.length < n) padded.push(new Array<number>(n).fill(0));
  const svd = new SVD(new Matrix(padded), { computeLeftSingularVectors: false });
  const values = svd.diagonal;
  return { vector: svd.rightSingularVectors.getColumn(n - 1), conditioning: values[n - 2]! / values[0]! };
}

/** Singular values of a matrix, largest first. */
export const singularValues = (rows: readonly (readonly number[])[]): readonly number[] =>
  new SVD(new Matrix(rows.map((row) => [...row])), {
    autoTranspose: true,
    computeLeftSingularVectors: false,
    computeRightSingularVectors: false,
  }).diagonal;

/** Solves rows·x ≈ right by least squares (QR by way of singular values); rows must have full column rank. */
export function leastSquares(rows: readonly (readonly number[])[], right: readonly number[]): readonly number[] {
  const svd = new SVD(new Matrix(rows.map((row) => [...row])), { autoTranspose: true });
  return svd.solve(Matrix.columnVector([...right])).getColumn(0);
}

/** Inverse of a square matrix. */
export const inverted = (m: readonly (readonly number[])[]): number[][] =>
  inverse(new Matrix(m.map((row) => [...row]))).to2DArray();

/** a·b of two plain matrices. */
export const product = (a: readonly (readonly number[])[], b: readonly (readonly number[])[]): number[][] =>
  a.map((row) => b[0]!.map((_, j) => row.reduce((sum, v, k) => sum + v * b[k]![j]!, 0)));

/** j·c·jᵀ: a covariance carried through a linear step. */
export const carried = (j: readonly (readonly number[])[], c: readonly (readonly number[])[]): number[][] =>
  product(
    product(j, c),
    j[0]!.map((_, k) => j.map((row) => row[k]!)),
  );

/** The rotation nearest to a 3 × 3 matrix (Frobenius norm), determinant +1. */
export function nearestRotation(m: readonly (readonly number[])[]): number[][] {
  const svd = new SVD(new Matrix(m.map((row) => [...row])));
  const u = svd.leftSingularVectors.to2DArray();
  const v = svd.rightSingularVectors.to2DArray();
  const vt = v[0]!.map((_, k) => v.map((row) => row[k]!));
  const r = product(u, vt);
  if (determinant(r) > 0) return r;
  return product(
    u.map((row) => [row[0]!, row[1]!, -row[2]!]),
    vt,
  );
}

/** Determinant of a 3 × 3 matrix. */
export const determinant = (m: readonly (readonly number[])[]): number =>
  m[0]![0]! * (m[1]![1]! * m[2]![2]! - m[1]![2]! * m[2]![1]!) -
  m[0]![1]! * (m[1]![0]! * m[2]![2]! - m[1]![2]! * m[2]![0]!) +
  m[0]![2]! * (m[1]![0]! * m[2]![1]! - m[1]![1]! * m[2]![0]!);
