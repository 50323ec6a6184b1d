// The decomposition against a general-purpose library (ml-matrix), and by the laws it must obey.
import { Matrix, SingularValueDecomposition, solve as leastSquares } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { PivotedQr, norm2 } from '../../../core/solve/qr';
import { expectClose, within, withinEither } from '../../support/close';
import { seeded } from './linkage';

/** Column-major entries of a rows × columns matrix of given rank. */
function made(seed: number, rows: number, columns: number, rank: number, scale = 1): number[][] {
  const random = seeded(seed);
  const left = Array.from({ length: rows }, () => Array.from({ length: rank }, () => random() - 0.5));
  const right = Array.from({ length: rank }, () => Array.from({ length: columns }, () => random() - 0.5));
  return left.map((l) =>
    Array.from({ length: columns }, (_, c) => scale * l.reduce((s, v, k) => s + v * right[k]![c]!, 0)),
  );
}
const flat = (a: number[][]): Float64Array => Float64Array.from(a[0]!.flatMap((_, c) => a.map((row) => row[c]!)));

describe('column-pivoted QR', () => {
  const shapes = [
    [7, 4, 4],
    [4, 7, 4],
    [9, 9, 6],
    [30, 12, 12],
    [12, 30, 5],
    [5, 1, 1],
  ] as const;

  it.each(shapes)(
    '%i × %i of rank %i: same rank as the singular values say; Q·R·Pᵀ gives the matrix back',
    (m, n, rank) => {
      for (const scale of [1e-9, 1, 1e9]) {
        const a = made(m * 100 + n, m, n, rank, scale);
        const qr = new PivotedQr().factor(flat(a), m, n, 1e-10);
        const s = new SingularValueDecomposition(new Matrix(a), { autoTranspose: true }).diagonal;
        expect(qr.rank).toBe(rank);
        expect(s.filter((v) => v > 1e-10 * s[0]!)).toHaveLength(rank);
        for (let place = 0; place < n; place++) {
          const column = Float64Array.from({ length: m }, (_, i) => (i < rank ? qr.r(i, place) : 0));
          qr.applyQ(column);
          expectClose(
            column,
            a.map((row) => row[qr.order[place]!]!),
            within(1e-12 * scale, '1'),
          );
        }
        for (let k = 1; k < rank; k++)
          expect(Math.abs(qr.r(k, k))).toBeLessThanOrEqual(Math.abs(qr.r(k - 1, k - 1)) * (1 + 1e-12));
      }
    },
  );

  it('least squares as the library solves them, and Q keeps lengths', () => {
    const random = seeded(9);
    const a = made(77, 20, 6, 6);
    const b = Float64Array.from({ length: 20 }, () => random() - 0.5);
    const qr = new PivotedQr().factor(flat(a), 20, 6, 1e-12);
    const y = b.slice();
    qr.applyQt(y);
    expectClose(norm2(y, 0, 20), norm2(b, 0, 20), withinEither(0, 1e-14, '1'));
    qr.solveR(y);
    const x = new Float64Array(6);
    for (let k = 0; k < 6; k++) x[qr.order[k]!] = y[k]!;
    expectClose(
      x,
      leastSquares(new Matrix(a), Matrix.columnVector(b), true).to1DArray(),
      withinEither(1e-12, 1e-10, '1'),
    );
  });

  it('solveRt undoes Rᵀ', () => {
    const qr = new PivotedQr().factor(flat(made(5, 6, 6, 6)), 6, 6, 1e-12);
    const want = Float64Array.of(1, -2, 3, 0.5, 7, -4);
    const b = Float64Array.from({ length: 6 }, (_, i) => want.reduce((s, v, k) => s + qr.r(k, i) * v, 0));
    qr.solveRt(b);
    expectClose(b, want, within(1e-9, '1'));
  });

  it('a matrix of zeros has rank 0; lengths survive what would overflow or underflow', () => {
    expect(new PivotedQr().factor(new Float64Array(12), 4, 3, 1e-10).rank).toBe(0);
    expectClose(norm2(Float64Array.of(3e200, 4e200), 0, 2), 5e200, withinEither(0, 1e-15, '1'));
    expectClose(norm2(Float64Array.of(3e-200, 4e-200), 0, 2), 5e-200, withinEither(0, 1e-15, '1'));
  });
});
