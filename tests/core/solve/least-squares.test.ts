import { describe, expect, it } from 'vitest';
import { SOLVE_DEFAULTS, type EquationBlock, adjustment, solve } from '../../../core/solve';
import { expectClose, within, withinEither } from '../../support/close';
import { refusal } from '../../support/refusal';
import { Linkage, normal, seeded } from './linkage';

/** A network of n points round a pinned base, each pair measured with noise; some lengths demanded exactly. */
function network(seed: number, n: number, scale: number, hard: number): { link: Linkage; truth: number[][] } {
  const random = seeded(seed);
  const link = new Linkage();
  const truth = Array.from({ length: n }, () => [0, 1, 2].map(() => scale * (random() - 0.5) * 1000));
  for (const [i, p] of truth.entries()) {
    link.point(...p.map((v) => v + (i < 3 ? 0 : scale * 40 * (random() - 0.5))));
    if (i < 3) link.pin(i);
  }
  let left = hard;
  for (let a = 0; a < n; a++)
    for (let b = a + 1; b < n; b++) {
      if (b < 3) continue;
      const d = Math.hypot(...truth[a]!.map((v, k) => v - truth[b]![k]!));
      if (a >= 3 && left-- > 0) link.distance(a, b, d);
      else link.distance(a, b, d + scale * normal(random), 'soft', scale);
    }
  return { link, truth };
}

describe('laws of a solution', () => {
  const seeds = Array.from({ length: 20 }, (_, k) => 100 + k);

  it.each(seeds)('the residual stands square to every direction that is left (seed %i)', (seed) => {
    const { link } = network(seed, 7, 1, seed % 3);
    const problem = link.problem();
    const found = solve(problem);
    expect(found.reason).toBe('converged');
    expect(found.figures.hardError).toBeLessThan(1e-9);
    expect(found.figures.gradient).toBeLessThan(1e-6);
    // and no step along the demanded lengths makes the sum smaller
    const random = seeded(seed * 7);
    for (let k = 0; k < 5; k++) {
      const moved = { ...problem, variables: found.x.map((v, j) => (j < 9 ? v : v + 1e-3 * (random() - 0.5))) };
      const back = solve({ ...moved, equations: moved.equations.filter((e) => e.kind === 'hard') });
      const sum = (x: Float64Array): number => adjustment(problem, x).sumSquares;
      expect(sum(back.x)).toBeGreaterThanOrEqual(sum(found.x) - 1e-9);
    }
  });

  it.each(seeds)('redundancies lie in 0 … 1 and add up to the freedom; every hard block adds one (seed %i)', (seed) => {
    const { link } = network(seed, 7, 1, seed % 4);
    const problem = link.problem();
    const a = adjustment(problem, solve(problem).x);
    const hard = link.equations.filter((e) => e.kind === 'hard').length;
    expect(a.freedom).toBe(link.equations.length - hard - (12 - hard));
    expectClose(
      a.residuals.reduce((s, r) => s + r.redundancy, 0),
      a.freedom,
      within(1e-9, '1'),
    );
    for (const r of a.residuals) expect(r.redundancy >= 0 && r.redundancy <= 1).toBe(true);
  });

  it.each([1e-9, 1e-6, 1e-3, 1, 1e3, 1e6, 1e9])(
    'the whole problem at scale %d gives the same answer at that scale',
    (scale) => {
      const one = network(11, 6, 1, 2).link.problem();
      const many = network(11, 6, scale, 2).link.problem();
      const [a, b] = [solve(one), solve(many)];
      expect(b.reason).toBe('converged');
      expectClose(
        b.x.map((v) => v / scale),
        a.x,
        within(1e-7, 'of 1000'),
      );
      const [sa, sb] = [adjustment(one, a.x), adjustment(many, b.x)];
      expectClose(
        sb.residuals.map((r) => r.w),
        sa.residuals.map((r) => r.w!),
        within(1e-6, '1'),
      );
      expectClose(sb.sigmaOf(10) / scale, sa.sigmaOf(10), withinEither(0, 1e-6, '1'));
    },
  );

  it.each(seeds)('without noise the true points come back (seed %i)', (seed) => {
    const random = seeded(seed);
    const link = new Linkage();
    const truth = Array.from({ length: 8 }, () => [0, 1, 2].map(() => 900 * random()));
    truth.forEach((p, i) => {
      link.point(...p.map((v) => (i < 4 ? v : v + 60 * (random() - 0.5))));
      if (i < 4) link.pin(i);
    });
    for (let a = 0; a < 8; a++)
      for (let b = Math.max(4, a + 1); b < 8; b++)
        link.distance(a, b, Math.hypot(...truth[a]!.map((v, k) => v - truth[b]![k]!)), (a + b) % 3 ? 'soft' : 'hard');
    const found = solve(link.problem());
    expect(found.reason).toBe('converged');
    expectClose(found.x, truth.flat(), within(1e-6, 'mm'));
  });

  it('the covariance agrees with the spread of 3000 simulated adjustments, demanded length and all', () => {
    const random = seeded(5);
    const truth = [0, 0, 800, 30, 310, 270, 640, 300];
    const cross = Math.hypot(330, 30);
    const sums = new Float64Array(16);
    const mean = new Float64Array(4);
    const runs = 3000;
    let predicted = new Float64Array(0);
    for (let k = 0; k < runs; k++) {
      const link = new Linkage(2);
      for (let p = 0; p < 4; p++) link.point(truth[2 * p]!, truth[2 * p + 1]!);
      link.pin(0).pin(1).distance(2, 3, cross);
      for (const [a, b, sigma] of [
        [0, 2, 1.5],
        [1, 2, 2],
        [0, 3, 1],
        [1, 3, 3],
      ] as const) {
        const d = Math.hypot(truth[2 * a]! - truth[2 * b]!, truth[2 * a + 1]! - truth[2 * b + 1]!);
        link.distance(a, b, d + sigma * normal(random), 'soft', sigma);
      }
      const problem = link.problem();
      const { x } = solve(problem);
      if (k === 0) predicted = adjustment(problem, Float64Array.from(truth)).covariance.slice();
      for (let i = 0; i < 4; i++) {
        mean[i] = mean[i]! + (x[4 + i]! - truth[4 + i]!) / runs;
        for (let j = 0; j < 4; j++)
          sums[4 * i + j] = sums[4 * i + j]! + ((x[4 + i]! - truth[4 + i]!) * (x[4 + j]! - truth[4 + j]!)) / runs;
      }
    }
    for (let i = 0; i < 4; i++) {
      expect(Math.abs(mean[i]!)).toBeLessThan(0.15);
      for (let j = 0; j < 4; j++) {
        const size = Math.sqrt(predicted[8 * (4 + i) + 4 + i]! * predicted[8 * (4 + j) + 4 + j]!);
        // 3000 runs leave 2.6 % on a variance; four times that
        expect(Math.abs(sums[4 * i + j]! - predicted[8 * (4 + i) + 4 + j]!)).toBeLessThan(0.11 * size);
      }
    }
  });
});

describe('derivatives by differences', () => {
  it('agree with written ones, also where a variable is far smaller than its neighbours', () => {
    const model = (v: Float64Array): number => v[0]! * Math.exp(-v[1]! * 340) + Math.atan2(v[2]!, v[0]!);
    const at = Float64Array.of(238.9, 5.5e-4, 3.1e-7);
    const written = (v: Float64Array, rows: Float64Array): void => {
      const e = Math.exp(-v[1]! * 340);
      const q = v[0]! ** 2 + v[2]! ** 2;
      rows[0] = e - v[2]! / q;
      rows[1] = -340 * v[0]! * e;
      rows[2] = v[0]! / q;
    };
    const block = (jacobian?: EquationBlock['jacobian']): EquationBlock => ({
      name: 'm',
      kind: 'soft',
      variables: [0, 1, 2],
      size: 1,
      residual: (v, out) => void (out[0] = model(v)),
      ...(jacobian ? { jacobian } : {}),
    });
    // one row: the covariance of its pseudo-inverse shows the row; compare through the redundancy-free single fit
    const slope = (b: EquationBlock, k: number): number => {
      const a = adjustment({ variables: at, equations: [b], fixed: [0, 1, 2].filter((j) => j !== k) }, at);
      return 1 / a.sigmaOf(k);
    };
    for (const k of [0, 1, 2])
      expectClose(slope(block(), k), slope(block(written), k), withinEither(0, 2e-8, '1'), `variable ${k}`);
  });
});

describe('it says why it stopped', () => {
  it('converged, with the figures', () => {
    const link = network(3, 6, 1, 1).link;
    const { reason, figures } = solve(link.problem());
    expect(reason).toBe('converged');
    expect(figures.open).toBe(0);
    expect(figures.rank).toBe(9 - 1);
    expect(figures.hardWorst).toBe('d3-4');
    expect(figures.accepted).toBeLessThanOrEqual(figures.steps);
  });

  it('rank-deficient where a point can swing, with the covariance infinite for that point only', () => {
    const link = new Linkage(2);
    link.point(0, 0);
    link.point(500, 20);
    link.point(220, 310);
    link.point(700, 400);
    link.pin(0).pin(1);
    link.distance(0, 2, 380, 'soft', 1).distance(1, 2, 400, 'soft', 1).distance(1, 3, 430, 'soft', 1);
    const problem = link.problem();
    const found = solve(problem);
    expect(found.reason).toBe('rank-deficient');
    expect(found.figures.open).toBe(1);
    const a = adjustment(problem, found.x);
    expect([...a.undetermined]).toEqual([0, 0, 0, 0, 0, 0, 1, 1]);
    expect(a.sigmaOf(6)).toBe(Infinity);
    expect(a.sigmaOf(4)).toBeLessThan(2);
    expect(a.residuals.every((r) => r.w === null && r.redundancy === 0)).toBe(true);
  });

  it('limit-reached when it has too few steps', () => {
    const link = network(4, 6, 1, 0).link;
    const { reason, figures } = solve(link.problem(), { mostSteps: 1 });
    expect(reason).toBe('limit-reached');
    expect(figures.steps).toBe(2);
    expect(SOLVE_DEFAULTS.mostSteps).toBeGreaterThan(100);
  });

  it('contradictory hard equations, with the one that is furthest off', () => {
    const link = new Linkage(2);
    link.point(0, 0);
    link.point(100, 0);
    link.point(40, 30);
    link.pin(0).pin(1).distance(0, 2, 30).distance(1, 2, 50);
    const { reason, figures } = solve(link.problem());
    expect(reason).toBe('contradictory');
    expect(figures.hardError).toBeGreaterThan(1e-3);
    expect(['d0-2', 'd1-2']).toContain(figures.hardWorst);
  });

  it('stalled where the residual is not a number beyond the start', () => {
    const wall: EquationBlock = {
      name: 'wall',
      kind: 'soft',
      variables: [0],
      size: 1,
      // slope says "go up", but there is nothing above 1
      residual: (v, out) => void (out[0] = v[0]! > 1 ? NaN : 5 - v[0]!),
      jacobian: (_v, rows) => void (rows[0] = -1),
    };
    const { reason, x } = solve({ variables: Float64Array.of(1), equations: [wall] });
    expect(reason).toBe('stalled');
    expect(x[0]).toBe(1);
  });
});

describe('malformed problems are refused in words', () => {
  const block: EquationBlock = {
    name: 'b',
    kind: 'soft',
    variables: [0],
    size: 1,
    residual: (v, out) => void (out[0] = v[0]!),
  };
  it('a variable that is not there, a sigma of 0, a start that is no number', () => {
    expect(
      refusal(() => solve({ variables: Float64Array.of(1), equations: [{ ...block, variables: [3] }] })).what,
    ).toContain('variable 3');
    expect(refusal(() => solve({ variables: Float64Array.of(1), equations: [{ ...block, sigma: 0 }] })).what).toContain(
      'sigma 0',
    );
    expect(refusal(() => solve({ variables: Float64Array.of(NaN), equations: [block] })).what).toContain('NaN');
  });
});
