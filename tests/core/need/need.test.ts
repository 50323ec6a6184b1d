// Whether a lid needs help: by hand for a level panel, a light flap and a door; the answer never gets less as a lid gets heavier.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { resolveJob } from '../../../core/job';
import { EFFORTS, effortLimitsN, needOf } from '../../../core/need';
import { METRIC } from '../../../core/quantity';
import { type LidSizes, lidOfSizes } from '../../../core/start';
import { jobAt } from '../../support/files';
import { expectClose, within } from '../../support/close';
import { runs } from '../../support/tier';

const ply = (thicknessMm: number) => [{ name: 'ply', thicknessMm, densityKgM3: 680 }];
const of = (sizes: Partial<LidSizes>, mover: 'home' | 'work' = 'home') =>
  needOf(resolveJob(lidOfSizes({ widthMm: 600, depthMm: 500, layers: ply(12), slopeDeg: 0, ...sizes })), mover, METRIC);

describe('by hand', () => {
  it('a level panel of 20 kg asks for half its weight and falls with its whole rise', () => {
    const { bare } = of({ kg: 20, layers: ply(1e-1), openDeg: 75 });
    expectClose(bare.handN, (20 * 9.80665) / 2, within(1.5, 'N'));
    expect(bare.atDeg).toBeLessThan(2);
    expectClose(bare.fallJ, 20 * 9.80665 * 0.25 * Math.sin((75 * Math.PI) / 180), within(0.1, 'J'));
    expect([bare.falls, bare.stays]).toEqual(['shut', false]);
  });
  it('a mass that nobody stated is to be weighed before anybody goes by the answer; a job that must hold nothing is answered', () => {
    expect(of({}).text).toMatch(/mass is assumed: weigh it/);
    expect(of({ kg: 5 }).text).not.toMatch(/assumed/);
    const job = resolveJob(lidOfSizes({ widthMm: 600, depthMm: 500, layers: ply(12), kg: 20 }));
    const asked = needOf(job, 'home', METRIC);
    const told = { ...job, loadCases: job.loadCases.map((c) => ({ ...c, mustHold: false })) };
    expect(needOf(told, 'home', METRIC).bare).toEqual(asked.bare);
  });
  it('limits are EN 1005-3’s share of what one arm and both give', () => {
    expect(effortLimitsN('home')).toEqual({
      'one hand': 0.5 * 0.8 * 31,
      'both hands': 0.5 * 0.8 * 96,
      watch: 0.7 * 0.8 * 96,
    });
    for (const key of ['one hand', 'both hands', 'watch'] as const)
      expect(effortLimitsN('work')[key]).toBeGreaterThan(effortLimitsN('home')[key]);
  });
  it('a door asks for nothing; a light lid that goes over the top needs no help; a light one that does not, a prop', () => {
    expect(of({ lies: 'door-left', openDeg: 90 }).bare.handN).toBeLessThan(1);
    const small = { widthMm: 300, depthMm: 200, layers: ply(9) };
    expect(of({ ...small, openDeg: 75 }).answer).toBe('prop');
    const over = of({ widthMm: 500, depthMm: 350, layers: ply(12), openDeg: 120 });
    expect(over.bare.holdsNm).toBeGreaterThan(0);
    expect(over.bare.stays === (over.answer === 'nothing')).toBe(true);
  });
  it('a middling lid is served by a spring that was tried, a heavy narrow one by a strut, a wide one by a pair', () => {
    const middling = of({ kg: 9 }, 'work');
    expect(middling.serves.find((s) => s.what === 'nothing')!.serves).toBe(false);
    expect(middling.spring!.handling.handN).toBeLessThan(middling.bare.handN);
    expect(of({ widthMm: 600, kg: 25 }).answer).toBe('strut');
    expect(of({ widthMm: 1200, kg: 25 }).answer).toBe('pair');
  });
  it('reads the bare lid, whatever is fitted', () => {
    const job = resolveJob(jobAt('tests/fixtures/jobs/workboat-hatch.lidjob'));
    const light = { ...job, struts: [], springs: [], brackets: [] };
    expect(needOf(job, 'home', METRIC).bare).toEqual(needOf(light, 'home', METRIC).bare);
  });
});

it('a heavier lid never needs less, and grown-ups at work never more help than anybody', () => {
  const order = ['nothing', 'prop', 'spring', 'strut', 'pair'];
  fc.assert(
    fc.property(
      fc.double({ min: 1, max: 40, noNaN: true }),
      fc.double({ min: 1.05, max: 3, noNaN: true }),
      fc.constantFrom('opens-up', 'opens-down', 'flap', 'ramp', 'door-right'),
      fc.integer({ min: 30, max: 120 }),
      (kg, by, lies, openDeg) => {
        const [light, heavy] = [of({ kg, lies, openDeg }), of({ kg: kg * by, lies, openDeg })];
        expect(heavy.bare.handN).toBeGreaterThanOrEqual(light.bare.handN - 1e-9);
        expect(heavy.bare.fallJ).toBeGreaterThanOrEqual(light.bare.fallJ - 1e-9);
        expect(EFFORTS.indexOf(heavy.bare.effort)).toBeGreaterThanOrEqual(EFFORTS.indexOf(light.bare.effort));
        const work = of({ kg, lies, openDeg }, 'work');
        expect(order.indexOf(work.answer)).toBeLessThanOrEqual(order.indexOf(light.answer));
        for (const { serves } of [light, heavy]) expect(serves.at(-1)!.serves).toBe(true);
      },
    ),
    { numRuns: runs(200) },
  );
});
