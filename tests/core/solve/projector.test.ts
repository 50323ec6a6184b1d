import { describe, expect, it } from 'vitest';
import { Projector, solve } from '../../../core/solve';
import { expectClose, within } from '../../support/close';
import { Linkage, seeded } from './linkage';

describe('nearest state to a dragged target', () => {
  it('a point on a circle goes to the nearest point of the circle', () => {
    const link = new Linkage(2);
    link.point(10, 20);
    link.point(110, 20);
    link.pin(0).distance(0, 1, 100);
    const projector = new Projector(link.problem(), { moved: link.of(1) });
    const start = Float64Array.from(link.values);
    for (const [x, y] of [
      [10, 320],
      [200, -70],
      [55, 40],
      [-300, 21],
    ] as const) {
      const target = start.slice();
      target.set([x, y], 2);
      const { held, x: at } = projector.project(start, target);
      expect(held).toBe(true);
      const d = Math.hypot(x - 10, y - 20);
      expectClose(link.at(at, 1), [10 + ((x - 10) / d) * 100, 20 + ((y - 20) / d) * 100], within(1e-6, 'mm'));
    }
  });

  it('agrees with the full solver on random trusses', () => {
    for (let seed = 1; seed <= 30; seed++) {
      const random = seeded(seed);
      const link = new Linkage(3);
      for (let p = 0; p < 6; p++) link.point(...[0, 1, 2].map(() => 800 * random()));
      link.pin(0);
      for (const [a, b] of [
        [0, 1],
        [1, 2],
        [2, 3],
        [3, 4],
        [4, 5],
        [0, 3],
      ] as const)
        link.distance(a, b, Math.hypot(...link.at(link.values, a).map((v, k) => v - link.at(link.values, b)[k]!)));
      link.same(4, 5, 2).same(2, 4, 0);
      link.values[17] = link.values[14]!;
      const problem = link.problem();
      const start = solve(problem).x;
      expect(solve(problem).reason).not.toBe('contradictory');
      const target = start.slice();
      for (let k = 0; k < 3; k++) target[15 + k] = target[15 + k]! + 120 * (random() - 0.5);
      const near = new Projector(problem).project(start, target);
      expect(near.held).toBe(true);
      expect(near.hardError).toBeLessThan(1e-9);
      const pulls = Array.from(start, (_, j) => ({
        name: `pull${j}`,
        kind: 'soft' as const,
        variables: [j],
        size: 1,
        residual: (v: Float64Array, out: Float64Array) => void (out[0] = v[0]! - target[j]!),
      }));
      const full = solve({ ...problem, variables: start, equations: [...problem.equations, ...pulls] });
      expectClose(near.distance, Math.sqrt(full.figures.sumSquares), within(1e-3, 'mm'), `seed ${seed}`);
    }
  });

  it('moves only what hangs together with the dragged point, and allocates its result once', () => {
    const link = new Linkage(2);
    for (const p of [
      [0, 0],
      [50, 10],
      [400, 400],
      [460, 410],
    ] as const)
      link.point(...p);
    link.distance(0, 1, Math.hypot(50, 10)).distance(2, 3, Math.hypot(60, 10));
    const projector = new Projector(link.problem(), { moved: link.of(1) });
    const start = Float64Array.from(link.values);
    const target = start.slice();
    target.set([90, 40], 2);
    target.set([999, 999], 4);
    const first = projector.project(start, target);
    expectClose(link.at(first.x, 2), [400, 400], within(0, 'mm'));
    expect(projector.project(start, target).x).toBe(first.x);
  });

  it('weights say who gives way', () => {
    const link = new Linkage(2);
    link.point(0, 0);
    link.point(100, 0);
    link.distance(0, 1, 100);
    const weights = [1, 1, 1e6, 1e6];
    const projector = new Projector(link.problem(), { weights, moved: link.of(1) });
    const start = Float64Array.from(link.values);
    const target = start.slice();
    target[2] = 130;
    const { x } = projector.project(start, target);
    expectClose(x, [30, 0, 130, 0], within(1e-3, 'mm'));
  });

  it('where the demands can’t hold it says so, names the worst, and gives the start back', () => {
    const link = new Linkage(2);
    link.point(0, 0);
    link.point(100, 0);
    link.point(40, 5);
    link.pin(0).pin(1).distance(0, 2, 30, 'hard', undefined, 'near').distance(1, 2, 50, 'hard', undefined, 'far');
    const projector = new Projector(link.problem());
    const start = Float64Array.from(link.values);
    const result = projector.project(start, start);
    expect(result.held).toBe(false);
    expect(['near', 'far']).toContain(result.hardWorst);
    expect([...result.x]).toEqual(link.values);
  });

  it('a long drag in small moves ends where one move ends, and every state on the way holds', () => {
    const link = new Linkage(2);
    for (const p of [
      [0, 0],
      [430, -25],
      [60, 150],
      [390, 270],
    ] as const)
      link.point(...p);
    link
      .pin(0)
      .pin(1)
      .distance(0, 2, Math.hypot(60, 150))
      .distance(2, 3, Math.hypot(330, 120))
      .distance(3, 1, Math.hypot(40, 295));
    const projector = new Projector(link.problem(), { moved: link.of(2) });
    const start = Float64Array.from(link.values);
    let state = start;
    const target = start.slice();
    for (let k = 1; k <= 200; k++) {
      target.set([60 + 0.4 * k, 150 - 0.3 * k], 4);
      const step = projector.project(state, target);
      expect(step.held).toBe(true);
      expect(step.hardError).toBeLessThan(1e-9);
      state = step.x.slice();
    }
    // one degree of freedom: the crank's own circle fixes it
    const crank = Math.atan2(state[5]!, state[4]!);
    expect(Math.hypot(state[4]!, state[5]!)).toBeCloseTo(Math.hypot(60, 150), 7);
    expect(crank).toBeLessThan(Math.atan2(150, 60));
  });
});
