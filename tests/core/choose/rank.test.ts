// The ranking against a search that evaluates every entry × force one by one: same verdicts, same order.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  condense,
  defaultLeastOpenDeg,
  fitEntry,
  meritWords,
  rank,
  rankSteps,
  refusalWords,
} from '../../../core/choose';
import { type Job, resolveJob, usualCases } from '../../../core/job';
import { genericMetricList } from '../../../core/strut';
import { workings } from '../../../core/workings';
import { anyLid } from '../../support/arbitrary';
import { expectClose, withinEither } from '../../support/close';
import { exampleFiles, goldenFiles, jobAt } from '../../support/files';
import { refusal } from '../../support/refusal';
import { lid } from '../../support/build';
import { bruteForce, oddList, workOutNeeded } from './brute';
import { runs, sample } from '../../support/tier';

/** Both searches agree in every verdict and in the order; gives how many were accepted and refused by what. */
function agree(job: Job, list: ReturnType<typeof oddList>, strutIndex = 0): Record<string, number> {
  const resolved = resolveJob(job);
  const leastOpenDeg = defaultLeastOpenDeg(resolved);
  const brute = bruteForce(resolved, list, strutIndex, leastOpenDeg);
  const fast = rank(resolved, list, { strutId: resolved.struts[strutIndex]!.id })!;
  expect(fast.tried).toBe(brute.rows.length);
  expect(fast.ranked.map((r) => [r.entry, r.forceN])).toEqual(brute.accepted.map((r) => [r.entry, r.forceN]));
  fast.ranked.forEach((r, i) => {
    expect(r.merits.tightest.id).toBe(brute.accepted[i]!.tightest);
    expectClose(r.merits.tightest.share, brute.accepted[i]!.share, withinEither(1e-9, 1e-9, '1'));
  });
  const refused = brute.rows.filter((r) => r.refused !== null);
  const said: Record<string, number> = { accepted: fast.ranked.length };
  expect(fast.refused.map((r) => [r.entry, r.forceN])).toEqual(refused.map((r) => [r.entry, r.forceN]));
  fast.refused.forEach((r, i) => {
    const wanted = refused[i]!.refused!;
    expect([r.why.id, r.why.caseId]).toEqual([wanted.id, wanted.caseId]);
    if (wanted.value === null) expect(r.why.value).toBeNull();
    else expectClose(r.why.value, wanted.value, withinEither(1e-7, 1e-9, r.why.unit || '1'));
    said[r.why.id] = (said[r.why.id] ?? 0) + 1;
  });
  return said;
}

const spec0 = (job: Job) => resolveJob(job).struts[0]!.spec;
const around = (job: Job, count: number, seed: number) =>
  oddList(count, seed, spec0(job).extendedMm, spec0(job).strokeMm, spec0(job).forceN);

describe('rank agrees with one-by-one', () => {
  it('the yardstick’s findings are those of a job worked out in full', () => {
    for (const file of exampleFiles()) {
      const job = resolveJob(jobAt(file));
      const ids = new Set(workOutNeeded(job).findings.map((f) => f.id));
      expect(workOutNeeded(job).findings).toEqual(workings(job).findings.filter((f) => ids.has(f.id)));
    }
  });
  it.each(exampleFiles())('%s, odd bodies round its own', (file) => {
    const job = jobAt(file);
    const said = agree(job, around(job, runs(60, 10), 7));
    expect(Object.keys(said).length).toBeGreaterThan(3);
    expect(said['accepted']).toBeGreaterThan(0);
  });
  it('the workboat with the generic list', () => {
    const said = agree(
      jobAt('tests/fixtures/jobs/workboat-hatch.lidjob'),
      genericMetricList().filter((_, i) => i % runs(3, 20) === 0),
    );
    expect((said['closed-reserve'] ?? 0) + (said['strut-fits'] ?? 0)).toBeGreaterThan(0);
  });
  it('the trailer locker in the load cases made for it, with one of its pair lost and an aged strut', () => {
    const job = jobAt('assets/examples/trailer-locker.lidjob');
    const cases = usualCases(resolveJob(job));
    expect(cases.some((c) => c.lost?.length)).toBe(true);
    expect(cases.some((c) => c.ageLossPercent)).toBe(true);
    agree({ ...job, loadCases: cases }, around(job, runs(40, 8), 11));
    agree({ ...job, loadCases: cases.map((c) => ({ ...c, mustHold: true })) }, around(job, runs(25, 5), 12));
  });
  it.each(sample(goldenFiles(), 2))('%s', (file) => {
    const job = jobAt(file);
    agree(job, around(job, 12, 3), job.struts.length - 1);
  });
  it('random lids, all signs of lever arms, other struts beside it', () => {
    fc.assert(
      fc.property(anyLid({ struts: { min: 1, max: 2 }, cases: 3 }), fc.integer({ min: 1, max: 1e6 }), (job, seed) => {
        // limits so wide that forces are accepted too
        agree(
          { ...job, limits: { handOpenN: 900, handCloseN: 900, reserveMm: 0.5, holdOpenNm: 0 } },
          around(job, 4, seed),
        );
      }),
      { numRuns: runs(80), seed: 20261125 },
    );
  });
  it('a spring beside the strut counts in both', () => {
    const job = jobAt('tests/fixtures/jobs/workboat-hatch.lidjob');
    const sprung = {
      ...job,
      springs: [{ id: 't', kind: 'torsion', turns: 'open', rateNmPerDeg: 0.4, preloadNm: 30 }],
    } as Job;
    const list = around(job, runs(30, 15), 5);
    agree(sprung, list);
    expect(rank(resolveJob(sprung), list)!.ranked).not.toEqual(rank(resolveJob(job), list)!.ranked);
  });
});

describe('struts that can’t exist', () => {
  it('are never offered so that they fail: a list of the user’s own is watched at most, what is made by rule holds', () => {
    const hatch = jobAt('tests/fixtures/jobs/workboat-hatch.lidjob');
    const wide = hatch.struts.map((s) => ({
      ...s,
      ends: { base: { ...s.ends.base, rangeDeg: 89 }, lid: { ...s.ends.lid, rangeDeg: 89 } },
    }));
    const limits = { handOpenN: 1e4, handCloseN: 1e4, reserveMm: 0, holdOpenNm: 0, clearanceMm: 0 };
    const job: Job = { ...hatch, struts: wide, limits, brackets: [], obstacles: [] };
    const { extendedMm, strokeMm } = spec0(job);
    const entry = (stroke: number, i: number) => ({
      ...around(job, 1, 3)[0]!,
      rodMm: 14,
      tubeMm: 28,
      name: `${i}`,
      extendedMm,
      strokeMm: stroke,
    });
    // up to a stroke that leaves 1 mm for everything else: rod and tube would overlap
    const own = Array.from({ length: 10 }, (_, i) => entry(strokeMm + ((extendedMm - 1 - strokeMm) * i) / 9, i));
    const states = (list: Parameters<typeof rank>[1]): Set<string> => {
      const { ranked } = rank(resolveJob(job), list)!;
      return new Set(
        ranked
          .filter((r, i) => ranked.findIndex((other) => other.entry === r.entry) === i)
          .flatMap((r) => {
            const fitted = fitEntry(job, { strut: job.struts[0]!.id, entry: list[r.entry]!, forceN: r.forceN });
            return workings(resolveJob(fitted))
              .findings.filter((f) => f.id === 'strut-exists')
              .map((f) => f.state);
          }),
      );
    };
    expect(states(own)).toContain('watch');
    expect(states(own)).not.toContain('fails');
    expect(
      [...states(genericMetricList().filter((e) => e.rodMm === 10 && Math.abs(e.extendedMm - extendedMm) < 60))].every(
        (s) => s === 'holds',
      ),
    ).toBe(true);
  });
});

describe('what a ranking is good for', () => {
  const job = jobAt('tests/fixtures/jobs/workboat-hatch.lidjob');
  const list = around(job, 60, 7);
  const ranking = rank(resolveJob(job), list)!;
  it('fitting the best is one edit, after which no finding of the strut fails', () => {
    const best = ranking.ranked[0]!;
    const fitted = fitEntry(job, { strut: 's1', entry: list[best.entry]!, forceN: best.forceN });
    const bad = workings(resolveJob(fitted))
      .findings.filter((f) => f.state === 'fails')
      .map((f) => f.id);
    expect(bad.filter((id) => id !== 'base-joint')).toEqual([]);
    expect(fitted.points).toBe(job.points);
    const again = fitEntry(fitted, {
      strut: 's1',
      entry: { ...list[best.entry]!, ratio: 1.3, frictionN: 20, toleranceN: 20 },
      forceN: 500,
    });
    expect(again.struts[0]!.spec.assumed).toBeUndefined();
    expect(refusal(() => fitEntry(job, { strut: 'x', entry: list[0]!, forceN: 1 })).what).toContain('"x"');
  });
  it('every verdict can be said in words with numbers', () => {
    const resolved = resolveJob(job);
    for (const r of ranking.refused) expect(refusalWords(resolved, r.why)).toMatch(/^\S.*[.]$/);
    for (const r of ranking.ranked) for (const line of meritWords(resolved, list, r)) expect(line).toMatch(/^\S.*[.]$/);
  });
  it('condensed: the best, and the nearest force of each entry that is refused with all', () => {
    const short = condense(ranking, 5);
    expect(short.ranked).toEqual(ranking.ranked.slice(0, 5));
    const accepted = new Set(ranking.ranked.map((r) => r.entry));
    const entries = short.refused.map((r) => r.entry);
    expect(new Set(entries).size).toBe(entries.length);
    expect(entries.sort((a, b) => a - b)).toEqual(list.map((_, i) => i).filter((i) => !accepted.has(i)));
  });
  it('tells its progress and stops when told', () => {
    const many = Array.from({ length: 10 }, () => list).flat();
    const shares = [...rankSteps(resolveJob(job), many, { sieve: true })];
    expect(shares.length).toBeGreaterThan(5);
    expect(shares.every((s, i) => s > (shares[i - 1] ?? 0) && s < 1)).toBe(true);
    let calls = 0;
    expect(rank(resolveJob(job), many, { onProgress: () => ++calls < 2 })).toBeNull();
    expect(calls).toBe(2);
  });
  it('a job whose own spec can’t be is ranked all the same; one without a strut is refused', () => {
    const broken = { ...job, struts: [{ ...job.struts[0]!, spec: { ...job.struts[0]!.spec, strokeMm: 5 } }] } as Job;
    expect(rank(resolveJob(broken), list)!.ranked.length).toBe(ranking.ranked.length);
    const bare = lid({ a: [0, 0, 0], b: [0, 500, 0], grip: [800, 10, 5], masses: [{ kg: 5, at: [400, 0, 0] }] });
    expect(refusal(() => rank(resolveJob(bare), list)).what).toContain('no strut');
  });
});
