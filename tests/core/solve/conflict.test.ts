// Sets of demands that can't hold together: 100 made up from seeds, each refused with a set that really conflicts.
import { describe, expect, it } from 'vitest';
import { type EquationBlock, findConflict, findState, freedom, solve } from '../../../core/solve';
import { runs } from '../../support/tier';
import { Linkage, seeded } from './linkage';

/** A mechanism of n points in the plane or in space whose demands all hold; then one more that can't. */
function contradiction(seed: number): { link: Linkage; bad: string } {
  const random = seeded(seed);
  const dimension = seed % 2 === 0 ? 2 : 3;
  const link = new Linkage(dimension);
  const n = 4 + Math.floor(random() * 5);
  for (let i = 0; i < n; i++) link.point(...Array.from({ length: dimension }, () => Math.round(1000 * random())));
  link.pin(0);
  const length = (a: number, b: number): number =>
    Math.hypot(...link.at(link.values, a).map((v, k) => v - link.at(link.values, b)[k]!));
  // a rigid core of dimension + 1 points, then points hung on loosely or by coordinates
  const core = dimension + 1;
  for (let b = 1; b < core; b++) for (let a = 0; a < b; a++) link.distance(a, b, length(a, b));
  for (let p = core; p < n; p++) {
    link.distance(p - 1, p, length(p - 1, p));
    if (random() < 0.6) link.coordinate(p, 0, link.at(link.values, p)[0]!);
    if (random() < 0.4) link.distance(p, Math.floor(random() * (p - 1)), length(p, 0), 'soft', 5);
  }
  const kind = seed % 4;
  const bad = 'one too many';
  if (kind < 2) {
    // a length that the rigid core, or a chain, can never have
    const [a, b] = kind === 0 ? [0, core - 1] : [0, n - 1];
    let reach = 0;
    for (let p = core; p <= b; p++) reach += length(p - 1, p);
    let across = 0;
    for (let p = 1; p < core; p++) across = Math.max(across, length(0, p));
    link.distance(a!, b!, kind === 0 ? length(a!, b!) * 1.07 : (across + reach) * 1.05 + 1, 'hard', undefined, bad);
  } else {
    // a coordinate out of reach of a chain from the pinned point
    let reach = 0;
    for (let p = 1; p < n; p++) reach += length(p - 1, p);
    link.coordinate(n - 1, 1, link.values[1]! + (kind === 2 ? 1 : -1) * (reach * 1.02 + 3), 'hard', undefined, bad);
  }
  return { link, bad };
}

const only = (link: Linkage, keep: (b: EquationBlock) => boolean) => ({
  ...link.problem(),
  equations: link.equations.filter(keep),
});

describe('contradictory demands', () => {
  it('made-up sets are each refused, naming a set that really conflicts', () => {
    const sizes: number[] = [];
    for (let seed = 1; seed <= runs(100, 40); seed++) {
      const { link, bad } = contradiction(seed);
      const problem = link.problem();
      expect(solve(problem).reason, `seed ${seed}`).toBe('contradictory');
      const conflict = findConflict(problem, { keep: [bad] });
      expect(conflict, `seed ${seed}`).not.toBeNull();
      const named = conflict!.names;
      expect(named, `seed ${seed}`).toContain(bad);
      sizes.push(named.length);
      // together they can't hold, by a search of its own from many starts …
      const together = only(link, (b) => named.includes(b.name));
      expect(findState(together, { restarts: 6 }), `seed ${seed}`).toBeNull();
      // … and without any single one of them the others can, to the last digit
      for (const name of named) {
        const rest = only(link, (b) => named.includes(b.name) && b.name !== name);
        const state = findState(rest);
        expect(state, `seed ${seed}: without ${name}`).not.toBeNull();
        for (const block of rest.equations) {
          const out = new Float64Array(block.size);
          block.residual(
            Float64Array.from(block.variables, (j) => state![j]!),
            out,
          );
          expect(Math.abs(out[0]!), `seed ${seed}: without ${name}, ${block.name}`).toBeLessThan(1e-5);
        }
      }
      // what was asked last is a cure for the whole set
      expect(conflict!.correctionSet).toContain(bad);
      expect(findState(only(link, (b) => b.name !== bad)), `seed ${seed}`).not.toBeNull();
    }
    expect(Math.max(...sizes)).toBeGreaterThan(3);
    expect(Math.min(...sizes)).toBeGreaterThan(1);
  });

  it('nothing is refused that can hold, even far from where it starts or just touching', () => {
    const link = new Linkage(2);
    link.point(0, 0);
    link.point(3, 5);
    link.point(-2, 900);
    link.pin(0);
    // 300 and 400 in line: one state only, and both lengths touch there
    link.distance(0, 1, 300).distance(1, 2, 400).coordinate(2, 0, 700).coordinate(2, 1, 0);
    const state = findState(link.problem());
    expect(state).not.toBeNull();
    expect(Math.abs(state![2]! - 300)).toBeLessThan(0.01);
    expect(findConflict(link.problem())).toBeNull();
  });

  it('two conflicts that have nothing to do with each other: one is named, and no single cure is promised', () => {
    const link = new Linkage(2);
    for (const p of [
      [0, 0],
      [10, 3],
      [500, 500],
      [600, 520],
    ] as const)
      link.point(...p);
    link.coordinate(1, 0, 10, 'hard', undefined, 'a').coordinate(1, 0, 12, 'hard', undefined, 'b');
    link.coordinate(3, 1, 520, 'hard', undefined, 'c').coordinate(3, 1, 540, 'hard', undefined, 'd');
    const conflict = findConflict(link.problem())!;
    expect([
      ['a', 'b'],
      ['c', 'd'],
    ]).toContainEqual([...conflict.names].sort());
    expect(conflict.correctionSet).toEqual([]);
  });

  it('a redundant demand is no contradiction', () => {
    const link = new Linkage(2);
    link.point(0, 0);
    link.point(30, 40);
    link.pin(0).distance(0, 1, 50, 'hard', undefined, 'first').distance(0, 1, 50, 'hard', undefined, 'second');
    expect(findConflict(link.problem())).toBeNull();
    expect(freedom(link.problem(), Float64Array.from(link.values)).redundant).toEqual([
      { name: 'second', saidBy: ['first'] },
    ]);
  });
});
