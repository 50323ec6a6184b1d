// Critical values of the w-test and of the distributions behind it.
import { describe, expect, it } from 'vitest';
import { chiSquareQuantile, criticalW, detectableW } from '../../core/solve';
import { expectClose, within } from '../support/close';

const last = within(6e-7, '1');

describe('Baarda, A Testing Procedure for Use in Geodetic Networks (1968)', () => {
  // 3.29, and δ₀ 4.13, λ₀ 17.07 at a power of 0.80, are what texts on network reliability give; further digits by SciPy (norm.isf).
  it('critical w', () => {
    expectClose([criticalW(0.05), criticalW(0.01), criticalW(0.001)], [1.959964, 2.575829, 3.290527], last);
    expect(criticalW()).toBe(criticalW(0.001));
  });
  it('δ₀ and λ₀ = δ₀² at α 0.001 and 0.05, power 0.80', () => {
    expectClose([detectableW(0.001, 0.8), detectableW(0.05, 0.8)], [4.132148, 2.801585], last);
    expectClose([detectableW(0.001, 0.8) ** 2, detectableW(0.05, 0.8) ** 2], [17.0746, 7.8489], within(6e-5, '1'));
  });
});

describe('tables of the χ² and normal distributions', () => {
  // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4, held to the digits printed there.
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
});
