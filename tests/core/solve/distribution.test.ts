// The distributions by closed forms, and w by hand.
import { describe, it } from 'vitest';
import {
  type EquationBlock,
  adjustment,
  chiSquareQuantile,
  chiSquareTail,
  logGamma,
  normalQuantile,
  normalTail,
} from '../../../core/solve';
import { expectClose, within, withinEither } from '../../support/close';

describe('distributions', () => {
  it('w = v/(σ·√r), and the detectable blunder of a mean of four, by hand', () => {
    // four readings of one length: r = 3/4 each, so w = v/(σ·√0.75) and a blunder of δ₀·σ/√0.75 is found
    const read = [11, 12, 10.5, 19.3];
    const a = adjustment(
      {
        variables: Float64Array.of(0),
        equations: read.map((l, i): EquationBlock => ({
          name: `${i}`,
          kind: 'soft',
          variables: [0],
          size: 1,
          sigma: 1.7,
          residual: (v, out) => void (out[0] = v[0]! - l),
        })),
      },
      Float64Array.of(13.2),
    );
    const by = 1.7 * Math.sqrt(0.75);
    expectClose(
      a.residuals.map((r) => r.w),
      read.map((l) => (13.2 - l) / by),
      within(1e-12, '1'),
    );
    expectClose(a.residuals[2]!.detectable, (4.132148 * 1.7) / Math.sqrt(0.75), within(1e-5, '1'));
  });
  it('closed forms: two degrees are an exponential; quantile and tail undo one another', () => {
    for (const x of [0.01, 1.3, 7, 40]) expectClose(chiSquareTail(x, 2), Math.exp(-x / 2), withinEither(0, 1e-13, '1'));
    for (const p of [1e-8, 0.001, 0.3, 0.77]) {
      expectClose(normalTail(normalQuantile(p)), p, withinEither(0, 1e-11, '1'));
      expectClose(chiSquareTail(chiSquareQuantile(p, 7), 7), p, withinEither(0, 1e-11, '1'));
      expectClose(normalQuantile(1 - p), -normalQuantile(p), withinEither(0, 1e-7, '1'));
    }
  });
  it('ln Γ of whole and half numbers', () => {
    expectClose(logGamma(11), Math.log(3628800), withinEither(0, 1e-14, '1'));
    expectClose(logGamma(0.5), Math.log(Math.PI) / 2, withinEither(0, 1e-13, '1'));
  });
});
