// The works map against the full findings, cell by cell.
import { expect, it } from 'vitest';
import {
  CELL,
  MAP_STEPS,
  type MapOptions,
  cellAt,
  decidesAt,
  fullVerdict,
  mapSteps,
  mapperOf,
  zoneGrid,
} from '../../../core/find';
import { seeded } from '../../../core/find/random';
import { type Job, resolveJob } from '../../../core/job';
import { type Vec3, add, dot, scale, sub } from '../../../core/space';
import { genericMetricList } from '../../../core/strut';
import { makeFrame } from '../../../core/travel';
import { jobAt } from '../../support/files';
import { runs } from '../../support/tier';
import { plant } from './plant';

const LIST = genericMetricList();

/** A planted job with both balls over the middles of their zones and the best strut of the list at the best place of its map. */
function fitted(seed: number): Job {
  const { job } = plant(seed);
  const resolved = resolveJob(job);
  const at = new Map(resolved.zones.map((z) => [z.on, z.corners.reduce(add)]));
  const middle = (on: 'base' | 'lid'): Vec3 => {
    const zone = resolved.zones.find((z) => z.on === on)!;
    return add(scale(at.get(on)!, 1 / zone.corners.length), scale(zone.faces, (zone.offMm[0] + zone.offMm[1]) / 2));
  };
  const points = job.points.map((p) =>
    p.id === 'p1' ? { ...p, at: middle('base') } : p.id === 'p2' ? { ...p, at: middle('lid') } : p,
  );
  const there = { ...job, points } as Job;
  const grid = zoneGrid(resolved.zones[0]!, 25, 9);
  const mapper = mapperOf(there, { strutId: 's1', end: 'base', grid, zoneId: 'z1', list: LIST });
  const map = mapper.map();
  const best = map.spare.reduce((a, s, i) => (s > map.spare[a]! || Number.isNaN(map.spare[a]!) ? i : a), 0);
  return mapper.jobAt(map, best);
}

const halfApart = (job: Job, base: Vec3, lid: Vec3): number => {
  const { axis } = makeFrame(resolveJob(job));
  const middle = (p: Vec3): number => dot(sub(p, axis.origin), axis.along) - axis.spanMm / 2;
  const [b, l] = [middle(base), middle(lid)];
  return b * l <= 0 ? 0 : 2 * Math.min(Math.abs(b), Math.abs(l));
};

/** Random cells of a finished map against what the findings say of the job at them; gives how many work. */
function agrees(job: Job, options: MapOptions, cells: number, seed: number): number {
  const steps = mapSteps(job, options, [options.grid.columns]);
  let step = steps.next();
  while (!step.done) step = steps.next();
  const map = step.value;
  const mapper = mapperOf(job, options);
  const draw = seeded(seed);
  let works = 0;
  for (let i = 0; i < cells; i++) {
    const cell = Math.floor(draw() * map.state.length);
    const state = map.state[cell]!;
    expect(state).not.toBe(CELL.open);
    if (state === CELL.off) continue;
    const verdict = fullVerdict(mapper, map, cell)!;
    const made = resolveJob(mapper.jobAt(map, cell));
    const strut = made.struts.find((s) => s.id === options.strutId)!;
    const at = (id: string): Vec3 => made.points.find((p) => p.id === id)!.at;
    const twins = strut.quantity === 2 && halfApart(job, at(strut.base), at(strut.lid)) < strut.spec.tubeMm + made.limits.clearanceMm; // prettier-ignore
    const refused = verdict.refused.map((f) => f.id);
    const where = `seed ${seed}, cell ${cell} at ${cellAt(map.grid, cell).map((v) => v.toFixed(1)).join()}: ${map.spare[cell]} by ${decidesAt(map, cell)}; findings: ${refused.join()}`; // prettier-ignore
    expect(state === CELL.works, where).toBe(refused.length === 0 && !twins);
    if (state === CELL.works) {
      works++;
      expect(map.spare[cell]!, where).toBeCloseTo(Math.min(1, verdict.spare), 4);
      if (verdict.spare < 1) expect([decidesAt(map, cell), map.caseIds[map.caseOf[cell]!] ?? null], where).toEqual([verdict.tightest.id, verdict.tightest.case]); // prettier-ignore
    }
  }
  return works;
}

const across = (job: Job, id: string, mm: number): MapOptions['grid'] => {
  const at = resolveJob(job).points.find((p) => p.id === id)!.at;
  return { at: [at[0] - mm, at[1], at[2] - mm], across: [mm / 15, 0, 0], up: [0, 0, mm / 15], columns: 31, rows: 31 };
};

it('says of every cell what the full findings say there', () => {
  const jobs = runs(20, 1);
  const each = 13;
  let works = 0;
  let cells = 0;
  for (let seed = 1; seed <= jobs; seed++) {
    const job = fitted(seed);
    const zones = resolveJob(job).zones;
    for (const end of ['base', 'lid'] as const) {
      const zone = zones.find((z) => z.on === end)!;
      const over = {
        strutId: 's1',
        end,
        grid: zoneGrid(zone, (zone.offMm[0] + zone.offMm[1]) / 2, 40),
        zoneId: zone.id,
      };
      const plane = { strutId: 's1', end, grid: across(job, end === 'base' ? 'p1' : 'p2', 60) };
      works += agrees(job, over, each, seed) + agrees(job, plane, each, seed);
      works += agrees(job, { ...over, list: LIST }, each, seed) + agrees(job, { ...plane, list: LIST }, each, seed);
      cells += 4 * each;
    }
  }
  console.log(`map: ${works} of ${cells} cells work, every verdict as in the full findings`);
  expect(works).toBeGreaterThan(cells / 20);
});

it('finishes what takes the full findings: things in the way, a strut that stops the lid, ratings', () => {
  for (let seed = 1; seed <= runs(12, 1); seed++) {
    const plain = fitted(100 + seed);
    const [base, lid] = ['p1', 'p2'].map((id) => resolveJob(plain).points.find((p) => p.id === id)!.at) as [Vec3, Vec3];
    const middle = scale(add(base, lid), 0.5);
    const box = { id: 'o1', on: 'base', box: { centre: add(middle, [60, 30, 0]), sizeMm: [60, 60, 60] } };
    const job = [
      { ...plain, obstacles: [box] },
      { ...plain, travel: { ...plain.travel, stop: 'strut' } },
      { ...plain, hinge: { ...plain.hinge, ratedN: 900 }, limits: { ...plain.limits, letGoJ: 40 } },
    ][seed % 3] as Job;
    for (const list of [undefined, LIST.slice(0, 40)])
      agrees(job, { strutId: 's1', end: 'base', grid: { ...across(job, 'p1', 60), across: [15, 0, 0], up: [0, 0, 15], columns: 9, rows: 9 }, ...(list ? { list } : {}) }, 20, seed); // prettier-ignore
  }
});

it('for a drag leaves open what only the full findings tell, in one picture', () => {
  const job = jobAt('assets/examples/workboat-hatch.lidjob');
  const { id, base } = resolveJob(job).struts[0]!;
  const options: MapOptions = { strutId: id, end: 'base', grid: { ...across(job, base, 200), columns: 40, rows: 40 } };
  const steps = mapSteps(job, options, MAP_STEPS.dragging, false);
  let step = steps.next();
  for (; !step.done; step = steps.next()) expect(step.value).toBeNull();
  expect(step.value.state).toContain(CELL.open);
  expect(step.value.state).toContain(CELL.fails);
  expect(step.value.state).not.toContain(CELL.works);
});
