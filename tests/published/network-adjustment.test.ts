// Survey networks with data from print; where the source gives data only, the expected result was worked out with NumPy
// and SciPy, which is said.
import { describe, expect, it } from 'vitest';
import { type EquationBlock, adjustment, solve } from '../../core/solve';
import { expectClose, within } from '../support/close';

/** A distance from a known anchor to the unknown point (variables 0 … dimension − 1). */
const range = (anchor: readonly number[], measured: number, name: string): EquationBlock => ({
  name,
  kind: 'soft',
  variables: anchor.map((_, k) => k),
  size: 1,
  residual: (v, out) => void (out[0] = Math.hypot(...anchor.map((a, k) => v[k]! - a)) - measured),
});

const fit = (start: readonly number[], equations: readonly EquationBlock[]) => {
  const problem = { variables: Float64Array.from(start), equations };
  const found = solve(problem);
  expect(found.reason).toBe('converged');
  return { x: found.x, ...adjustment(problem, found.x) };
};
const sigmas = (a: ReturnType<typeof fit>): number[] => Array.from(a.x, (_, j) => a.sigmaOf(j, true));

describe('3D point from six measured distances', () => {
  // Norrdine, "An algebraic solution to the multilateration problem", IPIN 2012, the measured distances;
  // solutions by NumPy and SciPy.
  const anchors = [
    [27.297, -4.953, 1.47],
    [20.693, -4.849, 1.93],
    [22.59, 0.524, 1.2],
    [17.113, -3.003, 2.17],
    [22.554, 4.727, 1.77],
    [22.447, -7.88, 1.6],
  ] as const;
  const measured = [3.652, 7.036, 4.586, 9.96, 7.542, 7.883];
  const micro = within(1e-6, 'm');

  it('equal weights, raw distances', () => {
    const a = fit(
      [25, -2, 1],
      anchors.map((p, i) => range(p, measured[i]!, `d${i + 1}`)),
    );
    expectClose(a.x, [26.782676, -1.399174, 0.756439], micro);
    expectClose(
      a.residuals.map((r) => r.residual),
      [0.009062, 0.060668, 0.047992, -0.056816, -0.029409, -0.040119],
      micro,
    );
    expectClose(a.sumSquares, 0.0117684589, within(1e-9, 'm²'));
    expectClose(Math.sqrt(a.varianceFactor!), 0.062632, micro);
    expectClose(sigmas(a), [0.061491, 0.046886, 0.336888], micro);
  });

  it('with 0.12 m and 0.14 m taken off distances 4 and 5, as the author does', () => {
    const less = [0, 0, 0, 0.12, 0.14, 0];
    const a = fit(
      [25, -2, 1],
      anchors.map((p, i) => range(p, measured[i]! - less[i]!, `d${i + 1}`)),
    );
    expectClose(a.x, [26.784011, -1.328696, 1.452564], micro);
    expectClose(a.sumSquares, 0.001029238, within(1e-9, 'm²'));
    expectClose(Math.sqrt(a.varianceFactor!), 0.018522, micro);
    expectClose(sigmas(a), [0.01222, 0.011592, 0.183877], micro);
  });

  it('three distances leave two exact places, each found from its own side', () => {
    // Same source; both places computed.
    const three = [
      range([27.297, -4.953, 1.47], 3.851, 'd1'),
      range([25.475, -6.124, 2.36], 3.875, 'd2'),
      range([22.59, 0.524, 1.2], 3.514, 'd3'),
    ];
    expectClose(fit([24.2, -2.6, 1.4], three).x, [24.312291, -2.520452, 1.536488], within(2e-6, 'm'));
    const other = fit([24.4, -2.4, 1.8], three);
    expectClose(other.x, [24.350615, -2.481095, 1.666729], within(2e-6, 'm'));
    expect(other.varianceFactor).toBeNull();
    expect(other.residuals.every((r) => r.w === null)).toBe(true);
  });
});

it('trilateration in the plane from three stations', () => {
  // Ghilani, Adjustment Computations, the trilateration chapter's example: data from memory, so not alone: the result
  // is NumPy's, and residuals under 0.1 ft in 5000 ft say that the data are right.
  const a = fit(
    [7000, 3500],
    [
      range([865.4, 4527.15], 6049, 'A'),
      range([2432.55, 2047.25], 4736.83, 'B'),
      range([2865.22, 27.15], 5446.49, 'C'),
    ],
  );
  expectClose(a.x, [6861.3168, 3727.8186], within(1e-4, 'ft'));
  expectClose(
    a.residuals.map((r) => r.residual),
    [-0.0374, 0.0768, -0.0474],
    within(6e-5, 'ft'),
  );
  expectClose(Math.sqrt(a.varianceFactor!), 0.0977, within(6e-5, 'ft'));
  expectClose(sigmas(a), [0.0775, 0.1542], within(6e-5, 'ft'));
});

it('level net of eight lines with weights by length', () => {
  // Mikhail & Ackermann, Observations and Least Squares (1976), Table 7-1, p. 147 (data); result computed.
  const lines: [from: number, to: number, rise: number, km: number][] = [
    [-1, 0, 25.42, 18.1],
    [0, 1, 10.34, 9.4],
    [1, -1, -35.2, 14.2],
    [0, 2, -15.54, 17.6],
    [2, 3, 21.32, 13.5],
    [3, 1, 4.82, 9.9],
    [3, -1, -31.02, 13.8],
    [1, 2, -26.11, 14],
  ];
  const net = lines.map(([from, to, rise, km], i): EquationBlock => {
    const ends = [from, to].filter((v) => v >= 0);
    return {
      name: `line ${i + 1}`,
      kind: 'soft',
      variables: ends,
      size: 1,
      sigma: Math.sqrt(0.1 * km),
      residual: (v, out) => {
        const height = (p: number): number => (p < 0 ? 800 : v[ends.indexOf(p)]!);
        out[0] = height(to) - height(from) - rise;
      },
    };
  });
  const a = fit([800, 800, 800, 800], net);
  const fine = within(6e-5, 'm');
  expectClose(a.x, [825.2206, 835.5354, 809.5339, 830.846], fine);
  expectClose(
    a.residuals.map((r) => r.residual),
    [-0.1994, -0.0252, -0.3354, -0.1467, -0.0079, -0.1306, 0.174, 0.1085],
    fine,
  );
  expectClose(a.varianceFactor, 0.0404284, within(6e-8, '1'));
  expectClose(sigmas(a), [0.1805, 0.1615, 0.201, 0.1711], fine);
  expectClose(
    a.residuals.map((r) => r.redundancy),
    [0.5547, 0.4037, 0.5459, 0.5487, 0.4715, 0.4538, 0.4754, 0.5462],
    within(6e-5, '1'),
  );
  expectClose(
    a.residuals.reduce((s, r) => s + r.redundancy, 0),
    4,
    within(1e-12, '1'),
  );
});

it('three angles of a triangle that must make 180°: a hard equation shares out the misclosure', () => {
  // Mikhail & Ackermann (1976), examples 7.1 and 7.6 (data); the sum is 180°00′03″, so each angle gets −1″.
  const seconds = (d: number, m: number, s: number): number => 3600 * d + 60 * m + s;
  const measured = [seconds(40, 19, 2), seconds(70, 30, 1), seconds(69, 11, 0)];
  const problem = {
    variables: Float64Array.from(measured),
    equations: [
      ...measured.map((angle, i): EquationBlock => ({
        name: `angle ${i + 1}`,
        kind: 'soft',
        variables: [i],
        size: 1,
        residual: (v, out) => void (out[0] = v[0]! - angle),
      })),
      {
        name: 'sum',
        kind: 'hard' as const,
        variables: [0, 1, 2],
        size: 1,
        residual: (v: Float64Array, out: Float64Array) => void (out[0] = v[0]! + v[1]! + v[2]! - 648000),
      },
    ],
  };
  const found = solve(problem);
  expect(found.reason).toBe('converged');
  expectClose(found.x, [seconds(40, 19, 1), seconds(70, 30, 0), seconds(69, 10, 59)], within(1e-7, '″'));
  const a = adjustment(problem, found.x);
  expect(a.freedom).toBe(1);
  // by hand: each angle of three with σ 1″ and their sum exact has the cofactor 1 − 1/3
  expectClose(a.sigmaOf(0), Math.sqrt(2 / 3), within(1e-12, '″'));
  expectClose(a.covariance[1], -1 / 3, within(1e-12, '″²'));
});

it('both sides of a relation measured, the relation exact', () => {
  // y = [a −b; b a]·x. Mikhail & Ackermann (1976), Table 6.2 and example 7.8 (data); result computed.
  const xs = [0, 1, 1, 0, 1, 1];
  const ys = [
    [-2.1, 1.1],
    [1, 2],
    [-0.9, 2.8],
  ];
  // variables: a, b, then the three true x pairs; σ² of an x coordinate 0.01
  const problem = {
    variables: Float64Array.from([1, 2, ...xs]),
    equations: [
      ...xs.map((x, i): EquationBlock => ({
        name: `x${i}`,
        kind: 'soft',
        variables: [2 + i],
        size: 1,
        sigma: 0.1,
        residual: (v, out) => void (out[0] = v[0]! - x),
      })),
      ...ys.map(([y0, y1], i): EquationBlock => ({
        name: `y${i}`,
        kind: 'hard',
        variables: [0, 1, 2 + 2 * i, 3 + 2 * i],
        size: 2,
        residual: (v, out) => {
          out[0] = v[0]! * v[2]! - v[1]! * v[3]! - y0!;
          out[1] = v[1]! * v[2]! + v[0]! * v[3]! - y1!;
        },
      })),
    ],
  };
  const found = solve(problem);
  expect(found.reason).toBe('converged');
  expectClose(found.x.slice(0, 2), [1.003123, 1.956091], within(1e-6, '1'));
  const a = adjustment(problem, found.x);
  expect(a.freedom).toBe(4);
  expectClose(a.sumSquares * 0.01, 0.01245459, within(6e-9, '1'));
  expectClose(a.varianceFactor, 0.311365, within(6e-7, '1'));
});
