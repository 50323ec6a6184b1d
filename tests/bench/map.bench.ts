// The works map: 10 load cases × 71 angles, with the strut as fitted and with the best of 60 entries, against working the job out anew at every cell.
import { expect, it } from 'vitest';
import { type MapOptions, mapSteps, mapperOf, withCells } from '../../core/find';
import { type Job, resolveJob, usualCases } from '../../core/job';
import { genericMetricList } from '../../core/strut';
import { makeFrame, makePlan, sweep, travelAngles } from '../../core/travel';
import { jobAt } from '../support/files';
import { processorSeconds } from '../support/tier';

const hatch = jobAt('assets/examples/workboat-hatch.lidjob');
const cases = usualCases(resolveJob(hatch), { off: ['canister', 'cradle'] }).slice(0, 10);
const { panel: _panel, obstacles: _obstacles, brackets: _brackets, latch: _latch, ...bare } = hatch;
const job = { ...bare, loadCases: cases, travel: { ...hatch.travel, openDeg: 70, stop: 'lid' }, limits: { ...hatch.limits, letGoJ: undefined }, hinge: { ...hatch.hinge, ratedN: undefined } } as unknown as Job; // prettier-ignore
const strut = resolveJob(job).struts[0]!;
const at = resolveJob(job).points.find((p) => p.id === strut.base)!.at;
const all = genericMetricList();
const list = all.filter((_, i) => i % Math.ceil(all.length / 60) === 0).slice(0, 60);
const ask = (side: number, best = false): MapOptions => ({
  strutId: strut.id,
  end: 'base',
  grid: withCells({ at: [at[0] - 300, at[1], at[2] - 300], across: [600, 0, 0], up: [0, 0, 600], columns: 2, rows: 2 }, side), // prettier-ignore
  ...(best ? { list } : {}),
});
const took = (run: () => void): number => {
  let best = Infinity;
  for (let go = 0; go < 5; go++) {
    const start = 1000 * processorSeconds();
    run();
    best = Math.min(best, 1000 * processorSeconds() - start);
  }
  return best;
};

it('is drawn at once, and finer while one looks (processor time)', () => {
  expect(cases).toHaveLength(10);
  expect(mapperOf(job, ask(10)).sure).toBe(true);
  const first = (best: boolean, sides: readonly number[]): number =>
    took(() => mapSteps(job, ask(200, best), sides).next());
  const whole = (best: boolean, sides: readonly number[]): number =>
    took(() => {
      const steps = mapSteps(job, ask(200, best), sides);
      while (!steps.next().done);
    });
  const [rough, fine, drag] = [first(false, [50, 200]), whole(false, [50, 200]), whole(false, [40])];
  const [bestRough, bestFine, bestDrag] = [first(true, [50, 200]), whole(true, [50, 200]), whole(true, [40])];
  // the job worked out anew at a cell, nothing kept, tables only
  const one = took(() => {
    const resolved = resolveJob(job);
    const frame = makeFrame(resolved);
    const angles = travelAngles(frame.openDeg);
    for (const c of cases) sweep(makePlan(frame, c.id), angles);
  });
  console.log(
    `works map, ${cases.length} cases × 71 angles. This strut: first picture ${rough.toFixed(0)} ms, 200 × 200 ${fine.toFixed(0)} ms, 40 × 40 ${drag.toFixed(1)} ms (${(1000 / drag).toFixed(0)} a second). ` +
      `Best of ${list.length}: first picture ${bestRough.toFixed(0)} ms, 200 × 200 ${bestFine.toFixed(0)} ms, 40 × 40 ${bestDrag.toFixed(0)} ms. ` +
      `A cell costs 1/${((one * 40_000) / fine).toFixed(0)} of the job's tables worked out there (${one.toFixed(2)} ms).`,
  );
  expect((one * 40_000) / fine).toBeGreaterThan(10);
});
