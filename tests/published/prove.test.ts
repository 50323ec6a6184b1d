// The rule by which causes are ranked, against a general-purpose library: with readings y = A·v + error, error normal with
// covariance C and v normal with widths W, the chance of y is that of a normal distribution of covariance C + A·W²·Aᵀ.
// That was worked out directly, with no fit and no determinant of our own, by SciPy 1.17.1 (stats.multivariate_normal.logpdf)
// and NumPy 2.4.6 (linalg.solve, linalg.inv, linalg.slogdet); numbers printed by them, copied here. The readings are made up.
//   C = diag(s²) + G·Gᵀ with G = [0.15, 0.05·x]; logpdf(y, 0, C + A·W²·Aᵀ) − logpdf(y, 0, C)
import { describe, expect, it } from 'vitest';
import { fitHypothesis, whitener } from '../../core/prove';
import { chiSquareTail } from '../../core/solve';
import { expectClose, withinEither } from '../support/close';

const x = [0, 1, 2, 3, 4, 5, 6, 7];
const y = [0.31, 1.18, 1.79, 3.42, 3.86, 5.31, 5.78, 7.36];
const s = [0.2, 0.2, 0.3, 0.3, 0.2, 0.25, 0.2, 0.3];
const shared = x.map((v) => [0.15, 0.05 * v]);
const w = whitener(s, shared);
const none = fitHypothesis(8, [], () => w.whiten(y));

const HYPOTHESES = [
  {
    name: 'a slope',
    columns: [x],
    widths: [2],
    gain: 141.53787827945203,
    values: [0.9847950342976314],
    sigmas: [0.057812896762708406],
  },
  {
    name: 'a slope and a bend: explains no more, and pays for its second number',
    columns: [x, x.map((v) => v ** 2 / 10)],
    widths: [2, 0.7],
    gain: 140.19520040083106,
    values: [0.9411251628225048, 0.07241252018770093],
    sigmas: [0.11574016204051253, 0.1662606209086497],
  },
  {
    name: 'one and the same shift',
    columns: [x.map(() => 1)],
    widths: [2],
    gain: 17.951439669497148,
    values: [1.2354979891147044],
    sigmas: [0.19397404886194602],
  },
];

describe('evidence of a hypothesis', () => {
  it.each(HYPOTHESES)('$name', ({ columns, widths, gain, values, sigmas }) => {
    const fit = fitHypothesis(8, widths, (v) =>
      w.whiten(y.map((read, i) => read - columns.reduce((sum, column, k) => sum + column[i]! * v[k]!, 0))),
    );
    expectClose(fit.lnEvidence - none.lnEvidence, gain, withinEither(2e-4, 0, 'one'), 'ln evidence');
    // the solver stops at a step of a few millionths of a width: far under any σ
    expectClose(fit.values, values, withinEither(2e-4, 0, 'one'), 'values');
    expectClose(fit.sigmas, sigmas, withinEither(0, 1e-4, 'one'), 'σ');
  });

  it('the joint covariance: its determinant and χ²', () => {
    expectClose(w.lnDet, -20.023683022077044, withinEither(1e-10, 0, 'one'), 'ln det');
    expectClose(none.chiSquare, 299.4096689087162, withinEither(1e-8, 0, 'one'), 'χ²');
  });

  it('the simplest that explains comes first', () => {
    const [slope, bend, shift] = HYPOTHESES.map((h) => h.gain);
    expect(slope!).toBeGreaterThan(bend!);
    expect(bend!).toBeGreaterThan(shift!);
  });

  // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4: upper critical values of χ² (7.815 at 0.05 with 3 degrees of
  // freedom, 23.209 at 0.01 with 10), further digits from SciPy 1.17.1's chi2.isf.
  it.each([
    [7.814727903251179, 3, 0.05],
    [23.209251158954356, 10, 0.01],
  ])('χ² %f with %i degrees of freedom has %f above it', (value, freedom, chance) => {
    expectClose(chiSquareTail(value, freedom), chance, withinEither(1e-10, 0, 'one'));
  });
});
