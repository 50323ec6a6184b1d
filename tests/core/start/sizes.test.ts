import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LidwrightError } from '../../../core/error';
import { assumedPath, readJob, resolveJob, valueAt, writeJob } from '../../../core/job';
import { LIES, type LidSizes, type Lie, jobOfSizes, lidOfSizes, readSizes, sizeIssues } from '../../../core/start';
import { toRad } from '../../../core/space';
import { openingAxis, poseAt } from '../../../core/travel';
import { workings } from '../../../core/workings';
import { runs, sample } from '../../support/tier';

/** A bench box in a van, own data: ply and a cushion, a table that comes off. */
const BENCH: LidSizes = {
  ...{ widthMm: 1100, depthMm: 480, kg: 9.5, heightMm: 420, openDeg: 85, slopeDeg: 5, coldC: -5, handCloseN: 60 },
  layers: [
    { name: 'Birch plywood', thicknessMm: 18, densityKgM3: 700 },
    { name: 'Cushion foam', thicknessMm: 40, densityKgM3: 35 },
  ],
  things: [{ name: 'Table', kg: 6, outMm: 240, overMm: 60, comesOff: true }],
};
const PLATE: LidSizes = { widthMm: 800, depthMm: 600, layers: [{ name: 'ply', thicknessMm: 20, densityKgM3: 500 }] };

describe('a job from sizes', () => {
  it('the bench box: nothing fails, and five lines at most do not hold, cautions apart', () => {
    const { findings } = workings(resolveJob(readJob(writeJob(jobOfSizes(BENCH)))));
    expect(findings.filter((f) => f.state === 'fails')).toEqual([]);
    const open = findings.filter((f) => f.state !== 'holds' && !f.caution);
    const lines = new Set(open.map((f) => `${f.id} ${f.subject}`));
    expect([...lines].length).toBeLessThanOrEqual(5);
  });

  it('mass and centre of layers, by hand', () => {
    // 1.1 × 0.48 m = 0.528 m²: ply 0.018 × 700 × 0.528 = 6.6528 kg at 9 mm, foam 0.040 × 35 × 0.528 = 0.7392 kg at 38 mm
    const { kg: _weighed, ...layered } = BENCH;
    const job = lidOfSizes({ ...layered, insetMm: 30 });
    const lid = job.masses[0]!;
    expect(lid.kg).toBeCloseTo(6.6528 + 0.7392, 9);
    const [x, y, z] = job.points.find((p) => p.id === lid.at)!.at as [number, number, number];
    // the middle of the depth, 30 mm of it behind the hinge line
    expect([x, y]).toEqual([-(240 - 30), 0]);
    expect(z).toBeCloseTo((6.6528 * 9 + 0.7392 * 38) / 7.392, 3);
    expect(job.assumed).toContain('masses.lid.kg');
    expect(lidOfSizes(BENCH).assumed).not.toContain('masses.lid.kg');
  });

  it.each(Object.keys(LIES) as Lie[])('%s: can be worked out, and opens outwards', (lies) => {
    const job = resolveJob(readJob(writeJob(lidOfSizes({ ...PLATE, lies }))));
    const grip = job.points.find((p) => p.id === 'grip')!.at;
    const moved = poseAt(openingAxis(job), grip, toRad(5));
    const out = LIES[lies].out.reduce<number>((sum, o, k) => sum + o * (moved[k]! - grip[k]!), 0);
    // 600 mm turned by 5°
    expect(out).toBeCloseTo(600 * Math.sin((5 * Math.PI) / 180), 0);
  });

  it.each(sample(Object.keys(LIES) as Lie[], 2))('%s: the first strut breaks no finding', (lies) => {
    const { findings } = workings(resolveJob(jobOfSizes({ ...PLATE, lies })));
    expect(findings.filter((f) => f.state === 'fails').map((f) => f.text)).toEqual([]);
  });

  it('a skew hinge line keeps its angle to the edge', () => {
    const at = new Map(lidOfSizes({ ...PLATE, skewDeg: 8 }).points.map((p) => [p.id, p.at as readonly number[]]));
    const [a, b] = [at.get('hingeA')!, at.get('hingeB')!];
    expect(Math.atan2(b[0]! - a[0]!, a[1]! - b[1]!) * (180 / Math.PI)).toBeCloseTo(8, 3);
  });

  it('every size left out is marked, and no other; each mark leads to a value', () => {
    const job = lidOfSizes(PLATE);
    for (const name of job.assumed!) expect(valueAt(job, assumedPath(job, name) ?? []), name).toBeTypeOf('number');
    expect(job.assumed).toEqual(expect.arrayContaining(['travel.openDeg', 'limits.handOpenN', 'limits.handCloseN']));
    expect(job.assumed!.some((name) => /^loadCases\.cold.*\.tempC$/.test(name))).toBe(true);
    const told = lidOfSizes({ ...PLATE, openDeg: 70, handOpenN: 100, coldC: -10, slopeDeg: 3 }).assumed!;
    expect(told.filter((name) => /openDeg|handOpenN|cold.*tempC|pitchDeg/.test(name))).toEqual([]);
  });

  it('random sizes: readable, computable, and the weight is that of the sizes', () => {
    const size = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    const lid = fc.record({
      ...{ widthMm: size(200, 3000), depthMm: size(200, 2000), openDeg: size(20, 120), insetMm: size(0, 100) },
      lies: fc.constantFrom(...(Object.keys(LIES) as Lie[])),
      layers: fc.array(
        fc.record({ name: fc.constant('layer'), thicknessMm: size(1, 60), densityKgM3: size(20, 8000) }),
        { minLength: 1, maxLength: 4 },
      ),
      things: fc.array(
        fc.record({ name: fc.constant('thing'), kg: size(0.1, 80), outMm: size(-100, 2000), leftMm: size(-900, 900) }),
        { maxLength: 3 },
      ),
    });
    fc.assert(
      fc.property(lid, (sizes) => {
        const job = resolveJob(readJob(writeJob(lidOfSizes(sizes))));
        const kg = job.masses.reduce((sum, m) => sum + m.kg, 0);
        const layers = sizes.layers.reduce((sum, l) => sum + l.thicknessMm * l.densityKgM3, 0);
        const byHand = sizes.widthMm * sizes.depthMm * layers * 1e-9 + sizes.things.reduce((sum, t) => sum + t.kg, 0);
        expect(Math.abs(kg / byHand - 1)).toBeLessThan(1e-9);
        expect(workings(job).trouble).toEqual([]);
      }),
      { numRuns: runs(1000, 30) },
    );
  });

  it('says every size that no lid has at once, and where', () => {
    const wrong = {
      ...PLATE,
      widthMm: 3,
      openDeg: 400,
      insetMm: 700,
      layers: [],
      things: Array(4).fill(BENCH.things![0]),
    };
    expect(sizeIssues(wrong).map((issue) => issue.where[0])).toEqual([
      'widthMm',
      'openDeg',
      'layers',
      'things',
      'insetMm',
    ]);
    expect(() => lidOfSizes(wrong)).toThrow(LidwrightError);
    expect(sizeIssues({ ...PLATE, heightMm: NaN })).toHaveLength(1);
  });
});

describe('sizes as typed', () => {
  it('takes units, layers by name or density, and things', () => {
    expect(
      readSizes({
        ...{ width: '3 ft', depth: '18 in', kg: '20 lb', open: '80', layer: ['birch; 18 mm', 'top, 3/4 in, 650'] },
        ...{ thing: ['Motor; 12 kg; 200; 30; -50; off'], seal: '60 N; 8 mm', lies: 'ramp', struts: '2' },
      }),
    ).toEqual({
      ...{ widthMm: 914.4, depthMm: 457.2, kg: 9.0718474, openDeg: 80, lies: 'ramp', quantity: 2 },
      layers: [
        { name: 'Birch plywood', thicknessMm: 18, densityKgM3: 700 },
        { name: 'top', thicknessMm: 19.05, densityKgM3: 650 },
      ],
      things: [{ name: 'Motor', kg: 12, outMm: 200, overMm: 30, leftMm: -50, comesOff: true }],
      seal: { forceN: 60, overMm: 8 },
    });
  });

  it('says everything that can’t be read at once', () => {
    const texts = { depth: 'x', thickness: '18', material: 'cheese', thing: ['box'], struts: '5', lies: 'sideways' };
    try {
      readSizes(texts);
      expect.unreachable();
    } catch (error) {
      const words = (error as LidwrightError).issues.map((issue) => issue.what).join('\n');
      for (const part of ['--width', '--depth', 'cheese', 'box', '--struts', '--lies']) expect(words).toContain(part);
    }
  });
});
