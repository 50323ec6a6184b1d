// Random jobs of which something fails: forces, lengths, limits, ratings, stops and joints are drawn wide of what would do.
import fc from 'fast-check';
import { type Job, resolveJob, setValue } from '../../../core/job';
import { type Workings, workings } from '../../../core/workings';
import { anyLid, anyPressedLid } from '../../support/arbitrary';

const set = (job: Job, path: (string | number)[], value: unknown): Job => setValue(job, { path, value });

/** Draws within a range, evenly over its logarithm. */
const factor = (low: number, high: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 1000 }).map((n) => low * (high / low) ** (n / 1000));

const turns = fc.record({
  force: factor(0.1, 6),
  longer: fc.constantFrom(0, 0, 0, 0, -60, 40, 150),
  stop: fc.constantFrom<'lid' | 'strut'>('lid', 'lid', 'lid', 'strut'),
  fitting: fc.constantFrom('ball-stud', 'angled-ball-13-m8', 'fork'),
  rangeDeg: fc.constantFrom(18, 80, 80, 90),
  handN: factor(20, 900),
  letGoJ: fc.option(factor(1, 60)),
  letGoN: fc.option(factor(10, 200)),
  hingeN: fc.option(factor(100, 3000)),
  latchN: fc.option(factor(20, 1500)),
  overCentre: fc.boolean(),
});

/** The hinge stood upright; what then turns the lid is a slope. */
function upright(job: Job): Job {
  const a = job.points.find((p) => p.id === job.hinge.a)!;
  const b = job.points.findIndex((p) => p.id === job.hinge.b);
  return set(job, ['points', b, 'at'], [a.at[0], a.at[1], (a.at[2] as number) + 700]);
}

function turned(job: Job, t: typeof turns extends fc.Arbitrary<infer T> ? T : never): Job {
  let next = set(job, ['travel', 'stop'], t.stop);
  next = set(next, ['limits'], {
    ...{ handOpenN: t.handN, handCloseN: t.handN * 1.3, reserveMm: 2, holdOpenNm: 3 },
    ...(t.letGoJ === null ? {} : { letGoJ: t.letGoJ }),
    ...(t.letGoN === null ? {} : { letGoN: t.letGoN }),
  });
  if (t.hingeN !== null) next = set(next, ['hinge', 'ratedN'], t.hingeN);
  if (t.overCentre) next = set(next, ['hinge', 'overCentre'], true);
  if (next.latch && t.latchN !== null) next = set(next, ['latch', 'ratedN'], t.latchN);
  next.struts.forEach(({ spec }, i) => {
    const at = ['struts', i];
    next = set(next, [...at, 'spec', 'forceN'], Math.round((spec.forceN as number) * t.force));
    // the first strut alone is out: the others stay as they are
    if (i === 0) next = set(next, [...at, 'spec', 'extendedMm'], (spec.extendedMm as number) + t.longer);
    for (const end of ['base', 'lid']) {
      next = set(next, [...at, 'ends', end, 'fitting'], t.fitting);
      next = set(next, [...at, 'ends', end, 'rangeDeg'], t.rangeDeg);
    }
  });
  return next;
}

/** What a strut does to its lid over the travel. */
export function kindsOf(w: Workings): string[] {
  const table = w.tables[0]!;
  const { opening } = w.frame.axis;
  const weight = table.weightMomentNm.reduce((sum, nm) => sum + nm, 0);
  const struts = table.struts.map(({ leverArmMm }) => {
    const [some, none] = [leverArmMm.some((h) => h > 0.01), leverArmMm.every((h) => h > 0.01)];
    return none ? 'pushes' : some ? 'crosses dead centre' : weight > 0 ? 'holds back' : 'pulls';
  });
  const way = Math.abs(opening[2]) > 0.985 ? 'opens sideways' : `opens ${w.job.hinge.opens}`;
  return [...struts, way, ...(w.frame.stoppedBy === null ? [] : ['stops its lid'])];
}

export const KINDS = [
  ...['pushes', 'pulls', 'holds back', 'crosses dead centre'],
  ...['opens up', 'opens down', 'opens sideways', 'stops its lid'],
];

/** Random jobs in which some finding fails. */
export const anyFailing: fc.Arbitrary<Job> = fc
  .tuple(
    fc.oneof(
      { arbitrary: anyLid({ struts: { min: 1, max: 2 }, cases: 2 }), weight: 3 },
      { arbitrary: anyPressedLid({ struts: { min: 1, max: 1 }, cases: 1 }), weight: 1 },
      { arbitrary: anyLid({ struts: { min: 1, max: 1 }, cases: 2, pairs: false }).map(upright), weight: 1 },
    ),
    turns,
  )
  .map(([job, t]) => turned(job, t))
  .filter((job) => {
    try {
      return workings(resolveJob(job)).quickFindings.some((f) => f.state === 'fails');
    } catch {
      return false; // a hinge that opens neither way, a strut whose gas can't be: not what this is about
    }
  });
