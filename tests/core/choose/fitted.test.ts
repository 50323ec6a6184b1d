// What is offered does it: fitted, nothing fails that can fail and did not before; past every edge of a window something does.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Bound, fitEntry, needs, rank } from '../../../core/choose';
import { attempt } from '../../../core/error';
import type { Finding } from '../../../core/findings';
import { type Job, resolveJob, setValue, setValues } from '../../../core/job';
import { workings } from '../../../core/workings';
import { anyLid, anyPressedLid } from '../../support/arbitrary';
import { jobAt } from '../../support/files';
import { runs } from '../../support/tier';
import { oddList } from './brute';

const boat = jobAt('tests/fixtures/jobs/workboat-hatch.lidjob');
const set = (job: Job, path: (string | number)[], value: unknown): Job => setValue(job, { path, value });
const wide = fc.integer({ min: 0, max: 1000 });
const between = (low: number, high: number): fc.Arbitrary<number> => wide.map((n) => low * (high / low) ** (n / 1000));

/** Lids with limits that some struts meet, ratings that some do not; of the workboat its bracket, clearances and canister too. */
const anyJob: fc.Arbitrary<Job> = fc.oneof(
  {
    weight: 7,
    arbitrary: fc
      .tuple(
        fc.oneof(
          anyLid({ struts: { min: 1, max: 2 }, cases: 2 }),
          anyPressedLid({ struts: { min: 1, max: 1 }, cases: 1 }),
        ),
        fc.record({
          handN: between(150, 2500),
          letGoJ: fc.option(between(20, 900)),
          letGoN: fc.option(between(60, 1500)),
          hingeN: fc.option(between(500, 8000)),
          latchN: fc.option(between(60, 3000)),
          stop: fc.constantFrom<'lid' | 'strut'>('lid', 'lid', 'strut'),
          fitting: fc.constantFrom('ball-stud', 'angled-ball-13-m8', 'fork'),
        }),
      )
      .map(([job, t]) => {
        let next = set(job, ['travel', 'stop'], t.stop);
        const letGo = { ...(t.letGoJ && { letGoJ: t.letGoJ }), ...(t.letGoN && { letGoN: t.letGoN }) };
        next = set(next, ['limits'], {
          handOpenN: t.handN,
          handCloseN: t.handN,
          reserveMm: 0.5,
          holdOpenNm: 0,
          ...letGo,
        });
        if (t.hingeN) next = set(next, ['hinge', 'ratedN'], t.hingeN);
        if (next.latch && t.latchN) next = set(next, ['latch', 'ratedN'], t.latchN);
        for (const end of ['base', 'lid']) next = set(next, ['struts', 0, 'ends', end, 'fitting'], t.fitting);
        return next;
      }),
  },
  {
    weight: 1,
    arbitrary: fc.tuple(wide, wide, between(0.5, 3)).map(([x, z, thin]) => {
      const i = boat.points.findIndex((p) => p.id === boat.struts[0]!.lid);
      const at = boat.points[i]!.at as readonly number[];
      return setValues(set(boat, ['limits', 'handCloseN'], 400), {
        settings: [
          { path: ['points', i, 'at'], value: [at[0]! + x / 25 - 20, at[1], at[2]! + z / 25 - 20] },
          { path: ['brackets', 0, 'thicknessMm'], value: (boat.brackets![0]!.thicknessMm as number) * thin },
        ],
      });
    }),
  },
);

/** Such a job with a list of which five struts at least do for themselves what is asked of them. */
const anyOffers = fc
  .tuple(anyJob, fc.integer({ min: 1, max: 1e6 }))
  .map(([job, seed]) => {
    const { spec, id } = resolveJob(job).struts[0]!;
    return { job, id, list: oddList(12, seed, spec.extendedMm, spec.strokeMm, spec.forceN) };
  })
  .filter(({ job, list }) => rank(resolveJob(job), list, { sieve: true })!.does >= 5);

const keyOf = (f: Finding): string => `${f.id} ${f.subject} ${f.everyCase ? '' : f.case}`;
/** Findings that name their own worst case are one, whichever case that is. */
const named = (f: Finding): string =>
  /^(hand-|stays-open|rod-buckling)/.test(f.id) ? keyOf(f) : `${f.id} ${f.subject}`;
const failing = (job: Job): Map<string, Finding> =>
  new Map(
    workings(resolveJob(job))
      .findings.filter((f) => f.state === 'fails')
      .map((f) => [named(f), f]),
  );

/** The list's struts that are looked at: first, last and three between. */
const five = <T>(all: readonly T[]): T[] =>
  all.length <= 5 ? [...all] : [0, 0.25, 0.5, 0.75, 1].map((share) => all[Math.round(share * (all.length - 1))]!);

/** Something of a demand fails beyond an edge and not inside; a strut that can't be is no less a failure. */
function flips(bound: Bound, inside: Job, outside: Job, why: string): void {
  const fails = (job: Job): boolean =>
    [...failing(job).values()].some(
      (f) =>
        f.id === bound.id &&
        // another strut may have failed the same demand all along
        !job.struts.slice(1).some((other) => other.id === f.subject) &&
        (f.everyCase || bound.caseId === null || f.case === bound.caseId),
    );
  const beyond = attempt(() => fails(outside)).value ?? true;
  expect(beyond, `${why}: beyond, ${bound.id} ${bound.caseId} fails`).toBe(true);
  expect(fails(inside), `${why}: inside, ${bound.id} ${bound.caseId} holds`).toBe(false);
}

describe('what is offered does it', () => {
  it('ranked: five struts a job, fitted, break nothing that can fail and did not; edges of windows flip the verdict', () => {
    let [jobs, fitted, edges, narrowed] = [0, 0, 0, 0];
    fc.assert(
      fc.property(anyOffers, ({ job, id, list }) => {
        jobs++;
        const before = failing(job);
        const { ranked } = rank(resolveJob(job), list, { strutId: id })!;
        for (const { entry, forceN } of five(ranked)) {
          fitted++;
          const after = failing(fitEntry(job, { strut: id, entry: list[entry]!, forceN }));
          const news = [...after].filter(([key]) => !before.has(key)).map(([, f]) => f.text);
          expect(news, `${list[entry]!.name}, ${forceN} N`).toEqual([]);
        }
        const n = needs(workings(resolveJob(job)), id);
        const { least, most, empty } = n.force;
        const withForce = (force: number): Job =>
          set(job, ['struts', 0, 'spec'], {
            ...job.struts[0]!.spec,
            ...{ extendedMm: n.body.extendedMm, strokeMm: n.body.strokeMm, forceN: force },
          });
        if (!empty) {
          if (least && least.forceN > 2) {
            edges++;
            flips(least, withForce(least.forceN * (1 + 1e-5)), withForce(least.forceN * (1 - 1e-4)), 'least force');
          }
          if (most && Number.isFinite(most.forceN)) {
            edges++;
            flips(most, withForce(most.forceN * (1 - 1e-5)), withForce(most.forceN * (1 + 1e-4)), 'most force');
          }
          narrowed += [least, most].filter((b) => b && !/^(hand-|stays-open|rod-)/.test(b.id)).length;
        }
        const { length } = n;
        if (!length.empty && job.travel.stop !== 'strut') {
          const withLength = (extendedMm: number): Job => set(job, ['struts', 0, 'spec', 'extendedMm'], extendedMm);
          edges += 2;
          flips(length.from, withLength(length.fromMm + 0.01), withLength(length.fromMm - 0.05), 'least length');
          flips(length.to, withLength(length.toMm - 0.01), withLength(length.toMm + 0.05), 'greatest length');
        }
      }),
      { numRuns: runs(500, 3), ...(runs(1, 0) === 0 ? { seed: 20261129 } : {}) },
    );
    console.log(
      `fitted: ${jobs} jobs, ${fitted} struts fitted, ${edges} edges, ${narrowed} of them by the rest of the job`,
    );
    expect(fitted).toBeGreaterThan(3 * jobs);
    expect(edges).toBeGreaterThan(jobs);
  });

  it('a job near its bracket’s limit is offered no strut that breaks the bracket', () => {
    const [thin] = [1, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3]
      .map((share) => set(boat, ['brackets', 0, 'thicknessMm'], (boat.brackets![0]!.thicknessMm as number) * share))
      .filter((job) => {
        const least = Math.min(
          ...workings(resolveJob(job))
            .assessment(job.brackets![0]!.id)
            .results.map((r) => r.safetyFactor),
        );
        return least < 1.15 && least >= 1;
      });
    expect(thin).toBeDefined();
    const job = set(thin!, ['limits'], { handOpenN: 400, handCloseN: 400, reserveMm: 1, holdOpenNm: 0 });
    const { spec, id } = resolveJob(job).struts[0]!;
    const list = [{ name: 'own', ...spec, forceMinN: 500, forceMaxN: 1600, forceStepN: 50, toleranceN: 30 }];
    const alone = rank(resolveJob(job), list, { sieve: true })!;
    const all = rank(resolveJob(job), list)!;
    expect(all.does).toBeLessThan(alone.does);
    expect(all.refused.some((r) => r.why.id.startsWith('bracket-strength-'))).toBe(true);
    const before = failing(job);
    for (const { entry, forceN } of all.ranked) {
      const after = failing(fitEntry(job, { strut: id, entry: list[entry]!, forceN }));
      expect([...after.keys()].filter((key) => !before.has(key))).toEqual([]);
    }
    const { force } = needs(workings(resolveJob(job)), id);
    expect(force.most!.id).toMatch(/^bracket-strength-/);
  });

  it('no force window while another strut is out of its stroke', () => {
    const two = fc.sample(anyLid({ struts: { min: 2, max: 2 } }), { numRuns: 1, seed: 4 })[0]!;
    const out = set(two, ['struts', 1, 'spec', 'extendedMm'], (two.struts[1]!.spec.extendedMm as number) * 2);
    const { force } = needs(workings(resolveJob(out)), two.struts[0]!.id);
    expect(force).toMatchObject({ unknown: true, empty: true, least: null, most: null });
    expect(needs(workings(resolveJob(two)), two.struts[0]!.id).force.unknown).toBe(false);
  });
});
