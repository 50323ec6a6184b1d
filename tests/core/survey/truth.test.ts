// Ground truth: simulated surveys of the three example jobs, noise at the stated σ, from printed seeds.
import { Matrix, inverse } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { resolveJob } from '../../../core/job';
import { adjustSurvey, ellipsoidFactor, setObservation, useObservation } from '../../../core/survey';
import { expectClose, within } from '../../support/close';
import { example, exampleNames } from '../examples/example';
import { plan, simulate } from './simulate';
import { runs } from '../../support/tier';

const nameOf = (seed: number) => exampleNames[seed % exampleNames.length]!;

describe('simulated surveys', () => {
  it('the true point lies inside the 95 % ellipsoid 92 to 98 % of the time, in every job and for every point', () => {
    const inside = new Map<string, [hits: number, all: number]>();
    const limit = ellipsoidFactor(0.95) ** 2;
    let scatter = 0;
    let surveys = 0;
    for (let seed = 1; seed <= runs(500, 200); seed++) {
      const { job, truth } = simulate(nameOf(seed), seed);
      const result = adjustSurvey(job);
      expect(result.reason, `seed ${seed}`).toBe('converged');
      scatter += result.s0! ** 2;
      surveys++;
      for (const p of result.points) {
        if (p.id === job.hinge.a) continue;
        const off = p.at.map((v, k) => v - truth.get(p.id)![k]!);
        const weight = inverse(new Matrix(p.covariance!.map((row) => [...row])));
        const square = Matrix.rowVector(off).mmul(weight).mmul(Matrix.columnVector(off)).get(0, 0);
        for (const key of [nameOf(seed), `${nameOf(seed)} ${p.id}`, 'all']) {
          const [hits, all] = inside.get(key) ?? [0, 0];
          inside.set(key, [hits + (square <= limit ? 1 : 0), all + 1]);
        }
      }
    }
    for (const [key, [hits, all]] of inside) {
      const share = hits / all;
      // one point alone has 167 trials: ± 4 of its own standard deviations; whole jobs and all are held to the demand
      const slack = key.includes(' ') ? 4 * Math.sqrt((0.95 * 0.05) / all) : 0.03;
      expect(Math.abs(share - 0.95), `${key}: ${(100 * share).toFixed(1)} % of ${all}`).toBeLessThan(slack);
    }
    expectClose(scatter / surveys, 1, within(0.05, 's₀²'));
    const [hits, all] = inside.get('all')!;
    console.log(
      `inside the 95 % ellipsoid: ${((100 * hits) / all).toFixed(1)} % of ${all} points in ${surveys} surveys`,
    );
  });

  it('a 10 mm blunder is named first in 90 % of the cases that the geometry can detect, and never absorbed in silence', () => {
    let detectable = 0;
    let named = 0;
    let suspected = 0;
    let hidden = 0;
    for (let seed = 1001; seed <= 1000 + runs(500, 150); seed++) {
      const name = nameOf(seed);
      const readings = plan(resolveJob(example(name)));
      const lengths = readings.flatMap((o, i) => (o.kind === 'angle-level' ? [] : [i]));
      const reading = lengths[seed % lengths.length]!;
      const by = seed % 2 === 0 ? 10 : -10;
      const { job } = simulate(name, seed, { blunder: { reading, by } });
      const result = adjustSurvey(job);
      const row = result.readings.find((r) => r.id === `r${reading}`)!;
      // whether geometry lets it be seen is told by the redundancy, which knows nothing of the blunder
      if (row.detectable !== null && row.detectable <= 10) {
        detectable++;
        if (result.worst?.id === row.id) named++;
        if (result.worst) suspected++;
      } else {
        hidden++;
        // said plainly: nothing controls it, or a slip must be larger than 10 mm to be seen
        expect(row.verdict === 'uncontrolled' ? row.detectable : row.detectable!, `seed ${seed}`).not.toBeLessThan(10);
        if (row.verdict === 'uncontrolled') expect(result.uncontrolled).toContain(row.name);
      }
    }
    console.log(
      `10 mm blunder: named first in ${named} of ${detectable} detectable cases (${((100 * named) / detectable).toFixed(1)} %), something suspected in ${suspected}; ${hidden} said to be out of sight`,
    );
    expect(detectable).toBeGreaterThan(runs(300, 100));
    expect(named / detectable).toBeGreaterThan(0.9);
    expect(suspected / detectable).toBeGreaterThan(0.95);
  });

  it('the estimated size of a named blunder is the blunder, give or take its σ', () => {
    let sum = 0;
    let n = 0;
    for (let seed = 2001; seed <= 2060; seed++) {
      const { job } = simulate(nameOf(seed), seed, { blunder: { reading: seed % 20, by: 14 } });
      const { worst, readings } = adjustSurvey(job);
      if (worst?.id !== `r${seed % 20}`) continue;
      const row = readings.find((r) => r.id === worst.id)!;
      expect(Math.abs(row.blunder! - 14)).toBeLessThan((4.5 * row.sigma) / Math.sqrt(row.redundancy));
      sum += row.blunder!;
      n++;
    }
    expect(n).toBeGreaterThan(45);
    expectClose(sum / n, 14, within(0.7, 'mm'));
  });

  it('with the blunder switched off every σ falls back and nothing is suspicious any more', () => {
    const { job } = simulate('workboat-hatch', 77, { blunder: { reading: 5, by: 18 } });
    const before = adjustSurvey(job);
    expect(before.worst?.id).toBe('r5');
    expect(before.widened).toBe(true);
    const after = adjustSurvey(useObservation(job, { id: 'r5', use: false }));
    expect(after.worst).toBeNull();
    expect(after.widened).toBe(false);
    for (const p of after.points) {
      const old = before.points.find((q) => q.id === p.id)!;
      if (p.id === job.hinge.a) continue;
      for (const k of [0, 1, 2] as const) expect(p.sigmaMm[k]!).toBeLessThan(old.sigmaMm[k]!);
    }
  });
});

describe.each(exampleNames)('%s', (name) => {
  it('without noise the true points come back, and readings taken with the lid open say the same', () => {
    const lidUp = plan(resolveJob(example(name))).map((o, i) =>
      i % 3 === 0 && o.kind === 'tape' ? { ...o, atDeg: 35 } : o,
    );
    for (const readings of [undefined, lidUp]) {
      const { job, truth } = simulate(name, 5, { noise: 0, ...(readings ? { plan: readings } : {}) });
      const result = adjustSurvey(job);
      expect(result.reason).toBe('converged');
      for (const p of result.points) expectClose(p.at, truth.get(p.id)!, within(1e-4, 'mm'), `${p.id}`);
      expect(result.worst).toBeNull();
      // rounding only
      expect(Math.max(...result.readings.map((r) => Math.abs(r.residual)))).toBeLessThan(1e-5);
    }
  });

  it('a wider σ on a row makes the points wider, never narrower', () => {
    // no noise, so that both are adjusted to the same place
    const { job } = simulate(name, 8, { noise: 0 });
    const narrow = adjustSurvey(job);
    const wide = adjustSurvey(setObservation(job, { id: 'r2', patch: { sigmaMm: 6 } }));
    for (const p of wide.points)
      for (const k of [0, 1, 2] as const)
        expect(p.sigmaMm[k]!).toBeGreaterThanOrEqual(narrow.points.find((q) => q.id === p.id)!.sigmaMm[k]! - 1e-9);
  });
});
