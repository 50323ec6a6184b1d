// The promise of the Prove stage: with one cause planted, that cause is ranked first in at least nine of ten fit-ups.
import { describe, expect, it } from 'vitest';
import { AGREES_OVER, CHANCE_AGREES, rankCauses, rankPairs, setAgainst, together } from '../../../core/prove';
import { jobAt } from '../../support/files';
import { resolveJob } from '../../../core/job';
import { runs, sample } from '../../support/tier';
import { bedOf, numbers, plantable, readLid } from './simulate';

const JOBS = [
  'assets/examples/machine-guard.lidjob',
  'assets/examples/trailer-locker.lidjob',
  'tests/fixtures/jobs/workboat-hatch.lidjob',
  'tests/fixtures/golden/lid-02.lidjob',
  'tests/fixtures/golden/lid-03.lidjob',
  'tests/fixtures/golden/lid-07.lidjob',
  'tests/fixtures/golden/lid-10.lidjob',
];
/** Fit-ups a cause and job; where each kind of cause is judged by itself, fewer would tell nothing of it. */
const RUNS = runs(5, 2);
const EACH = 5;

describe('simulated fit-ups', () => {
  it('with the whole checklist the planted cause is first in 90 % and more, each kind of cause by itself', () => {
    const tally = new Map<string, { first: number; all: number }>();
    sample(JOBS, 2).forEach((file, n) => {
      const bed = bedOf(resolveJob(jobAt(file)), 'all');
      const { even, normal } = numbers(51_000 + n);
      for (const { id, draw } of plantable(bed))
        for (let run = 0; run < EACH; run++) {
          const ranking = rankCauses(bed.trial, readLid(bed, draw(even), normal));
          const kind = id.split(':')[0]!;
          const t = tally.get(kind) ?? { first: 0, all: 0 };
          tally.set(kind, { first: t.first + (ranking.causes[0]!.cause.id === id ? 1 : 0), all: t.all + 1 });
        }
    });
    const rows = [...tally].map(([kind, { first, all }]) => `${kind} ${first}/${all}`);
    console.info(`planted cause first: ${rows.join(', ')}`);
    const sum = [...tally.values()].reduce((s, t) => ({ first: s.first + t.first, all: s.all + t.all }));
    expect(sum.all).toBeGreaterThan(runs(250, 50));
    expect(sum.first / sum.all).toBeGreaterThanOrEqual(0.9);
    for (const [kind, { first, all }] of tally) expect(first / all, kind).toBeGreaterThanOrEqual(0.9);
  });

  it('with only what the checklist needs, a planted cause is first or not told apart from the first', () => {
    let good = 0;
    let first = 0;
    let all = 0;
    for (const [n, file] of JOBS.slice(0, 3).entries()) {
      const bed = bedOf(resolveJob(jobAt(file)), 'needed');
      const { even, normal } = numbers(77_000 + n);
      for (const { id, draw } of plantable(bed))
        for (let run = 0; run < RUNS; run++) {
          const { causes, apart } = rankCauses(bed.trial, readLid(bed, draw(even), normal));
          const place = causes.findIndex((c) => c.cause.id === id);
          all++;
          if (place === 0) first++;
          if (place === 0 || (!apart && place <= 2)) good++;
        }
    }
    console.info(`short checklist: first ${first}/${all}, first or honestly not told apart ${good}/${all}`);
    expect(good / all).toBeGreaterThanOrEqual(0.9);
  });

  it.each([
    ['exactly as entered', false],
    ['with everyday errors in everything', true],
  ])('a lid %s is said to agree in 19 of 20 and more', (name, hidden) => {
    let agrees = 0;
    let all = 0;
    JOBS.forEach((file, n) => {
      const bed = bedOf(resolveJob(jobAt(file)), 'all');
      const { normal } = numbers(90_000 + n);
      for (let run = 0; run < 2 * RUNS; run++) {
        const { nothingWrong, chance } = rankCauses(bed.trial, readLid(bed, {}, normal, hidden));
        all++;
        if (nothingWrong > AGREES_OVER && chance > CHANCE_AGREES) agrees++;
      }
    });
    console.info(`nothing planted, ${name}: agrees ${agrees}/${all}`);
    expect(agrees / all).toBeGreaterThanOrEqual(0.95);
  });

  it('everyday errors hidden in the lid do not hide the planted cause', () => {
    let first = 0;
    let all = 0;
    for (const [n, file] of JOBS.slice(0, 3).entries()) {
      const bed = bedOf(resolveJob(jobAt(file)), 'all');
      const { even, normal } = numbers(33_000 + n);
      for (const { id, draw } of plantable(bed))
        for (let run = 0; run < RUNS; run++) {
          const [best] = rankCauses(bed.trial, readLid(bed, draw(even), normal, true)).causes;
          all++;
          if (best!.cause.id === id) first++;
        }
    }
    console.info(`with everyday errors hidden: first ${first}/${all}`);
    expect(first / all).toBeGreaterThanOrEqual(0.9);
  });

  it('beside pairs, one planted cause is still first in 90 %; two planted are first as a pair, or in it, in 80 %', () => {
    const one = { first: 0, all: 0 };
    const two = { pair: 0, part: 0, all: 0 };
    for (const [n, file] of JOBS.slice(0, 3).entries()) {
      const bed = bedOf(resolveJob(jobAt(file)), 'all');
      const { even, normal } = numbers(44_000 + n);
      const planted = plantable(bed);
      const bestOf = (change: Parameters<typeof readLid>[1]) => {
        const readings = readLid(bed, change, normal);
        const against = setAgainst(bed.trial, readings);
        return rankPairs(against, rankCauses(bed.trial, readings, {}, against)).causes[0]!.cause;
      };
      for (const { id, draw } of planted) {
        one.all++;
        if (bestOf(draw(even)).id === id) one.first++;
        // a strut that gives nothing hides what else may be wrong with it
        const other = planted[Math.floor(even() * planted.length)]!;
        if (other.id === id || [id, other.id].some((x) => x.startsWith('lost'))) continue;
        two.all++;
        const found = bestOf(together(draw(even), other.draw(even)));
        const ids = found.both?.map((c) => c.id) ?? [found.id];
        const right = ids.filter((x) => x === id || x === other.id).length;
        if (right === 2) two.pair++;
        if (right > 0) two.part++;
      }
    }
    console.info(`beside pairs: ${JSON.stringify({ one, two })}`);
    expect(one.first / one.all).toBeGreaterThanOrEqual(0.9);
    expect(two.pair / two.all).toBeGreaterThanOrEqual(0.8);
  });
});
