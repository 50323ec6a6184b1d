// Zones and what is looked for: read, worked out, written back as they were, and refused with their place.
import { describe, expect, it } from 'vitest';
import { type Job, type JobFind, type JobZone, jobIssues, readJob, resolveJob, writeJob } from '../../../core/job';
import { fileText, goldenFiles, jobAt } from '../../support/files';
import { expectClose, within } from '../../support/close';
import { refusal, said } from '../../support/refusal';

const job = (): Job => jobAt(goldenFiles()[0]!);
const zone: JobZone = {
  id: 'z1',
  name: 'Side wall, port',
  on: 'base',
  corners: [
    [0, 0, 0],
    [100, 0, 0],
    [100, 0, 80],
    [0, 0, 80],
  ],
  faces: [0, -3, 0],
  offMm: [10, 40],
  strength: 'strong',
  material: 'Plywood',
  thicknessMm: 18,
};
const entry = {
  name: '8/18-200',
  extendedMm: 500,
  strokeMm: 200,
  rodMm: 8,
  tubeMm: 18,
  forceMinN: 100,
  forceMaxN: 800,
  forceStepN: 50,
};
const withZone = (over: Partial<JobZone>): Job => ({ ...job(), zones: [{ ...zone, ...over }] });
const withFind = (find: JobFind): Job => ({ ...job(), find });
const faults = (given: Job): string[] =>
  jobIssues(resolveJob(given)).map(({ what, where }) => `${where.join('.')}: ${what}`);

describe('zones and find', () => {
  it('come back from a file as they went in, with keys that this edition does not know', () => {
    const whole = {
      ...job(),
      zones: [
        { ...zone, later: { kept: true } },
        { ...zone, id: 'z2', thicknessMm: { expression: '3/4 in' } },
      ],
      find: {
        list: { entries: [{ ...entry, ratio: 1.3 }] },
        quantity: 'either',
        openDeg: [70, 85],
        keep: { spare: 0.1, playMm: 3 },
        fitting: 'ball-stud',
        later: 1,
      },
    } as unknown as Job;
    const text = writeJob(whole);
    expect(writeJob(readJob(text))).toBe(text);
    expect(readJob(text)).toEqual(whole);
    const resolved = resolveJob(readJob(text));
    expectClose(resolved.zones[1]!.thicknessMm, 19.05, within(1e-9, 'mm'));
    expect(resolved.find!.openDeg).toEqual([70, 85]);
    expect(jobIssues(resolved)).toEqual([]);
  });

  it('may be left out, and a generic list is named by its word', () => {
    expect(resolveJob(job()).zones).toEqual([]);
    expect(resolveJob(job()).find).toBeUndefined();
    expect(faults(withFind({ list: 'generic', quantity: 'pair' }))).toEqual([]);
  });

  it.each<[string, Partial<JobZone>, RegExp]>([
    ['too few corners', { corners: zone.corners.slice(0, 2) }, /zones\.0\.corners: .*Side wall, port.* has 2 corners/],
    [
      'a corner off the plane',
      { corners: [...zone.corners.slice(0, 3), [0, 6, 80]] },
      /zones\.0\.corners\.3: .* is not flat: corner 4 lies 4\.5 mm off/,
    ],
    [
      'no area',
      {
        corners: [
          [0, 0, 0],
          [50, 0, 0],
          [100, 0, 0],
        ],
      },
      /has no area/,
    ],
    [
      'a crossing',
      { corners: [zone.corners[0]!, zone.corners[2]!, zone.corners[1]!, [0, 0, 60]] },
      /crosses itself: sides 1 and 3/,
    ],
    ['no side', { faces: [0, 0, 0] }, /zones\.0\.faces: .* faces no way/],
    ['a reach the wrong way round', { offMm: [40, 10] }, /zones\.0\.offMm: .* from 40 mm to 10 mm/],
  ])('refuses a zone with %s', (_, over, words) => expect(faults(withZone(over)).join('\n')).toMatch(words));

  it('lets a corner lie 1 mm off its plane', () => {
    // the mean of the corners moves with it: 1.2 mm at one corner is 0.9 mm off
    expect(faults(withZone({ corners: [...zone.corners.slice(0, 3), [0, 1.2, 80]] }))).toEqual([]);
  });

  it('refuses two zones of one id', () => {
    expect(faults({ ...job(), zones: [zone, zone] }).join()).toMatch(/"z1" stands twice in zones/);
  });

  it.each<[string, JobFind, RegExp]>([
    ['an opening the wrong way round', { openDeg: [80, 70] }, /find\.openDeg: .*from 80° to 70°/],
    ['an opening without a whole degree', { openDeg: [70.2, 70.8] }, /no whole degree/],
    [
      'forces the wrong way round',
      { list: { entries: [{ ...entry, forceMaxN: 50 }] } },
      /find\.list\.entries\.0\.forceMaxN: the strut "8\/18-200" has its greatest force under its least/,
    ],
    [
      'a body that is none',
      { list: { entries: [entry, { ...entry, tubeMm: 6 }] } },
      /find\.list\.entries\.1\.tubeMm: the strut "8\/18-200": a tube of 6 mm/,
    ],
  ])('refuses to look for %s', (_, find, words) => expect(faults(withFind(find)).join('\n')).toMatch(words));

  it.each<[string, object, RegExp]>([
    ['an unknown side', { zones: [{ ...zone, on: 'roof' }] }, /zones\.0\.on.*"base" or "lid"/],
    ['a list that is none', { find: { list: 'mine' } }, /find\.list.*"generic" or/],
    [
      'a strut of that list without its stroke, by its place',
      { find: { list: { entries: [entry, { ...entry, strokeMm: undefined }] } } },
      /find\.list\.entries\.1\.strokeMm.*a length in mm, but is missing/,
    ],
    ['a wrong count of struts', { find: { quantity: 'two' } }, /find\.quantity.*"one", "pair" or "either"/],
  ])('refuses to read %s', (_, over, words) => {
    const text = JSON.stringify({ ...job(), ...over });
    const error = refusal(() => readJob(text));
    expect(error.issues.map(({ what, where }) => `${where.join('.')} ${what}`).join('\n')).toMatch(words);
    expect(said(error).join()).not.toMatch(/undefined|\[object/);
  });

  it('out of bounds is said with its place', () => {
    const error = refusal(() => resolveJob(withZone({ offMm: [-5, 10] })));
    expect(error.issues[0]!.where).toEqual(['zones', 0, 'offMm', 0]);
  });

  it('stand in the published schema', () => {
    const schema = JSON.parse(fileText('assets/lidjob.schema.json')) as { properties: Record<string, unknown> };
    expect(Object.keys(schema.properties)).toEqual(expect.arrayContaining(['zones', 'find']));
  });
});
