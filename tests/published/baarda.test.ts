// Critical values of the w-test and of the distributions behind it.
import { describe, expect, it } from 'vitest';
import {
  type EquationBlock,
  adjustment,
  chiSquareQuantile,
  chiSquareTail,
  criticalW,
  detectableW,
  logGamma,
  normalQuantile,
  normalTail,
} from '../../core/solve';
import { expectClose, within, withinEither } from '../support/close';

const last = within(6e-7, '1');

describe('Baarda, A Testing Procedure for Use in Geodetic Networks (1968)', () => {
  // From the normal distribution, worked out independently (scipy); 3.2905 at α 0.001 and power 0.80 also read in a survey manual.
  it('critical w', () => {
    expectClose([criticalW(0.05), criticalW(0.01), criticalW(0.001)], [1.959964, 2.575829, 3.290527], last);
    expect(criticalW()).toBe(criticalW(0.001));
  });
  it('δ₀ and λ₀ = δ₀² at α 0.001 and 0.05, power 0.80', () => {
    expectClose([detectableW(0.001, 0.8), detectableW(0.05, 0.8)], [4.132148, 2.801585], last);
    expectClose([detectableW(0.001, 0.8) ** 2, detectableW(0.05, 0.8) ** 2], [17.0746, 7.8489], within(6e-5, '1'));
  });
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
});

describe('tables of the χ² and normal distributions', () => {
  // Upper 5 % and 1 % points as in any statistics handbook (common tables, from memory), held to the digits printed there …
  it('upper points of χ²', () => {
    const table: [number, number, number][] = [
      [0.05, 1, 3.841],
      [0.05, 2, 5.991],
      [0.05, 3, 7.815],
      [0.01, 3, 11.345],
      [0.05, 10, 18.307],
      [0.95, 10, 3.94],
      [0.05, 30, 43.773],
    ];
    for (const [chance, freedom, value] of table)
      expectClose(chiSquareQuantile(chance, freedom), value, within(6e-4, '1'), `${chance}, ${freedom}`);
  });
  // … and closed forms, which no memory can get wrong.
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
