// What an adjustment and a drag step with relations cost, beside one frame of a 60 Hz screen, and how that grows.
import { availableParallelism } from 'node:os';
import { afterAll, describe, expect, it } from 'vitest';
import { Projector, adjustment, findConflict, solve } from '../../core/solve';
import { Linkage, normal, seeded } from '../core/solve/linkage';
import { type Measured, fitLine, measure, sink, table } from './stopwatch';

const FRAME_MS = 1000 / 60;
const rows: string[][] = [['', 'min ms', 'mean ms', '± sd', 'runs', 'of a frame']];
const ms = (v: number): string => v.toPrecision(3);
const put = (name: string, m: Measured): void =>
  void rows.push([
    name,
    ms(m.minMs),
    ms(m.meanMs),
    ms(m.sdMs),
    String(m.runs),
    `${((100 * m.meanMs) / FRAME_MS).toFixed(0)} %`,
  ]);
const notes: string[] = [];

/** n points round a pinned base of three, `readings` lengths with a σ of 1 mm, started 20 mm off. */
function survey(n: number, readings: number): Linkage {
  const random = seeded(n);
  const link = new Linkage(3);
  const truth = Array.from({ length: n + 3 }, () => [0, 1, 2].map(() => 1000 * random()));
  truth.forEach((p, i) => link.point(...p.map((v) => v + (i < 3 ? 0 : 40 * (random() - 0.5)))));
  link.pin(0).pin(1).pin(2);
  let left = readings;
  for (let step = 1; left > 0; step++)
    for (let p = 3; p < n + 3 && left > 0; p++, left--) {
      const q = step <= 3 ? step - 1 : 3 + ((p - 3 + step) % n);
      if (q === p) continue;
      const d = Math.hypot(...truth[p]!.map((v, k) => v - truth[q]![k]!));
      link.distance(q, p, d + normal(random), 'soft', 1);
    }
  return link;
}

/** A truss of n points with `relations` demands that hold at its start; its last point is dragged. */
function truss(n: number, relations: number): Linkage {
  const random = seeded(3 * n);
  const link = new Linkage(3);
  for (let p = 0; p < n; p++) link.point(...[0, 1, 2].map(() => 1000 * random()));
  link.pin(0);
  const at = (p: number): number[] => link.at(link.values, p);
  for (let k = 0; k < relations; k++) {
    const p = 1 + (k % (n - 1));
    const turn = Math.floor(k / (n - 1));
    if (turn === 0 || k % 3 === 0) {
      const q = turn === 0 ? p - 1 : (p + turn + 1) % n;
      link.distance(p, q, Math.hypot(...at(p).map((v, i) => v - at(q)[i]!)), 'hard', undefined, `${k}`);
    } else {
      const offset = at(p)[turn % 3]! - at(p - 1)[turn % 3]!;
      const variables = [link.of(p - 1)[turn % 3]!, link.of(p)[turn % 3]!];
      link.equations.push({
        name: `${k}`,
        kind: 'hard',
        variables,
        size: 1,
        residual: (v, out) => void (out[0] = v[1]! - v[0]! - offset),
      });
    }
  }
  return link;
}

function dragger(n: number, relations: number): () => number {
  const link = truss(n, relations);
  const last = n - 1;
  const weights = Float64Array.from(link.values, (_, j) => (j >= 3 * last ? 100 : 1));
  const projector = new Projector(link.problem(), { weights, moved: link.of(last) });
  const start = Float64Array.from(link.values);
  const state = start.slice();
  const target = start.slice();
  let step = 0;
  return () => {
    // the pointer goes round a circle of 60 mm, 7° a frame
    const turn = (step++ * 7 * Math.PI) / 180;
    target.set(state);
    target[3 * last] = start[3 * last]! + 30 * Math.cos(turn) - 30;
    target[3 * last + 2] = start[3 * last + 2]! + 30 * Math.sin(turn);
    const { held, x } = projector.project(state, target);
    if (!held) throw new Error('a drag step was lost');
    state.set(x);
    return x[0]!;
  };
}

describe('bench', () => {
  it('an adjustment of 12 points and 40 readings, with its covariance and tests', () => {
    const problem = survey(12, 40).problem();
    const { it: m } = measure({
      it: () => {
        const found = solve(problem);
        return adjustment(problem, found.x).sigmaOf(12);
      },
    }) as { it: Measured };
    expect(solve(problem).reason).toBe('converged');
    put('adjust 12 points, 40 readings', m);
    expect(m.minMs).toBeLessThan(FRAME_MS);
  });

  it('a drag step with 20 relations', () => {
    const { it: m } = measure({ it: dragger(12, 20) }) as { it: Measured };
    put('drag step, 12 points, 20 relations', m);
    expect(m.minMs).toBeLessThan(FRAME_MS);
  });

  it('cost over 10 to 100 points', () => {
    const solved: [number, number][] = [];
    const dragged: [number, number][] = [];
    for (const n of [10, 18, 32, 56, 100]) {
      const problem = survey(n, 4 * n).problem();
      const opts = { repeats: 3, batchMs: 5, warmMs: 20 };
      const { it: a } = measure({ it: () => solve(problem).x[9]! }, opts) as { it: Measured };
      put(`adjust ${n} points, ${4 * n} readings`, a);
      solved.push([Math.log(n), Math.log(a.minMs)]);
      const { it: d } = measure({ it: dragger(n, Math.round(1.7 * n)) }, opts) as { it: Measured };
      put(`drag step ${n} points, ${Math.round(1.7 * n)} relations`, d);
      dragged.push([Math.log(n), Math.log(d.minMs)]);
    }
    notes.push(
      `growth: adjustment with the ${fitLine(solved).b.toFixed(2)}th power of the points, drag step with the ${fitLine(dragged).b.toFixed(2)}th`,
    );
    // dense algebra: no worse than the cube and a little
    expect(fitLine(solved).b).toBeLessThan(3.6);
    expect(fitLine(dragged).b).toBeLessThan(3.6);
  });

  it('refusing one relation too many among 20', () => {
    const link = truss(12, 20);
    link.coordinate(11, 0, 30_000, 'hard', undefined, 'too far');
    const problem = link.problem();
    const { it: m } = measure(
      { it: () => findConflict(problem, { keep: ['too far'] })!.names.length },
      { repeats: 3, warmMs: 10 },
    ) as {
      it: Measured;
    };
    put('name the conflict among 21 relations', m);
    expect(findConflict(problem)!.names).toContain('too far');
  });

  afterAll(() => {
    console.log(
      [
        `node ${process.version}, ${process.platform} ${process.arch}, ${availableParallelism()} cores`,
        '',
        table(rows),
        '',
        ...notes,
        `(sum of all results: ${sink.value.toPrecision(6)})`,
      ].join('\n'),
    );
  });
});
