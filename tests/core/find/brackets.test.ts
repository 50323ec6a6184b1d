// First brackets of places: on zones that say what they are made of.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  FIRST_TILTS,
  bracketSpecOf,
  bracketsTo,
  checkBracket,
  firstHeights,
  standBracket,
  ballAt,
} from '../../../core/bracket';
import { applyPlace, fieldOf, judged, search, siteOf } from '../../../core/find';
import { type Bracket, type Job, onPlane, resolveJob } from '../../../core/job';
import { METRIC } from '../../../core/quantity';
import { workingsOf } from '../../../core/workings';
import { DEEP, runs } from '../../support/tier';
import { plant } from './plant';

/** A planted job whose zones are of a material so thick. */
function onSheet(seed: number, material: string, thicknessMm: number): Job {
  const { job } = plant(seed);
  return { ...job, zones: job.zones!.map((z) => ({ ...z, material, thicknessMm })) } as Job;
}
const asked = DEEP ? {} : { effort: 0.03, most: 1 };

it('can be made at every height and tilt that it is said to reach, its ball there', () => {
  const [strut] = resolveJob(plant(1).job).struts;
  fc.assert(
    fc.property(
      fc.constantFrom(...FIRST_TILTS),
      fc.constantFrom(6, 8, 10, 14, 20),
      fc.constantFrom('ball-stud', 'fork', 'eye'),
      fc.double({ min: 0, max: 1, noNaN: true }),
      (tiltDeg, rodMm, fitting, share) => {
        const lid = { ...strut!.ends.lid, fitting };
        const one = { ...strut!, spec: { ...strut!.spec, rodMm }, ends: { ...strut!.ends, lid } };
        const heights = firstHeights(one, 'lid', tiltDeg);
        if (!heights) {
          expect(fitting !== 'ball-stud' && tiltDeg !== 0).toBe(true);
          return;
        }
        const heightMm = heights[0] + share * (heights[1] - heights[0]);
        const all = bracketsTo(one, 'lid', tiltDeg, heightMm) as unknown as Bracket[];
        expect(all.length).toBeGreaterThan(0);
        for (const spec of all.map(bracketSpecOf)) {
          expect(checkBracket(spec).filter((issue) => issue.severity === 'fails')).toEqual([]);
          expect(ballAt(spec)[2]).toBeCloseTo(heightMm, 1);
        }
      },
    ),
    { numRuns: runs(400) },
  );
});

it('stands on its zone, holds the stud as it is set, bears its strut; fitting the place again puts no second one there', () => {
  for (let seed = 2; seed < 2 + runs(20, 1); seed++) {
    const job = onSheet(seed, 'Steel S235JR', 5);
    const field = fieldOf(job);
    for (const place of search(field, asked)!.places) {
      const fitted = applyPlace(job, { strutIndex: 0, place });
      const w = workingsOf(fitted, METRIC);
      expect(judged(w, 0).refused).toEqual([]);
      expect(w.findings.filter((f) => f.id === 'bracket-stem')).toEqual([]);
      expect(w.job.brackets.map((b) => b.end)).toEqual(['base', 'lid']);
      const [strut] = w.job.struts;
      for (const bracket of w.job.brackets) {
        const stand = standBracket({
          end: strut!.ends[bracket.end],
          ball: place[bracket.end],
          spec: bracketSpecOf(bracket),
        });
        const site = siteOf(field.job.zones.find((z) => z.id === place.ends[bracket.end].zoneId)!);
        expect(onPlane(site, stand!.originMm).offMm).toBeCloseTo(0, 1);
      }
      expect(applyPlace(fitted, { strutIndex: 0, place })).toEqual(fitted);
    }
  }
});

it.runIf(DEEP)('offers no place on what bears no bracket, and says that this is why', () => {
  const found = search(fieldOf(onSheet(3, 'EN AW-6060 T6', 0.3)))!;
  expect(found.places).toEqual([]);
  expect(found.nearest!.refused.map((f) => f.id)).toEqual(expect.arrayContaining([expect.stringMatching(/-bracket$/)]));
});
