import { describe, expect, it } from 'vitest';
import {
  bracketSpecOf,
  checkBracket,
  edgeDistancesMm,
  firstBracket,
  freeSpot,
  placedHoles,
  readyPlate,
  suitingKind,
  threadThrough,
  addFixing,
  setBracketKind,
} from '../../../core/bracket';
import { addBracket, BRACKET_KINDS, resolveJob } from '../../../core/job';
import { nameOfRow } from '../../../renderer/stages/bracket/material-choice';
import { MATERIALS, materialRow } from '../../../core/strength';
import { jobWith } from '../strength/scene';

const bare = { ...jobWith(), brackets: [] };
const withRod = (rodMm: number, fitting = 'ball-stud') => {
  const strut = bare.struts[0]!;
  return {
    ...bare,
    struts: [
      {
        ...strut,
        spec: { ...strut.spec, rodMm },
        ends: { ...strut.ends, base: { ...strut.ends.base, fitting } },
      },
    ],
  };
};
const first = (rodMm: number, fitting?: string) => {
  const job = withRod(rodMm, fitting);
  return addBracket(job, { bracket: firstBracket(resolveJob(job).struts[0]!, 'base', 'b1', 'Base bracket') });
};

describe('a bracket to begin with', () => {
  it.each([4, 6, 8, 10, 14, 20])('for a rod of %d mm can be made as every kind', (rodMm) => {
    for (const kind of BRACKET_KINDS) {
      const job = setBracketKind(first(rodMm), { id: 'b1', kind });
      const issues = checkBracket(bracketSpecOf(resolveJob(job).brackets[0]!));
      expect(issues.filter((i) => i.severity === 'fails')).toEqual([]);
      // the bent angle has nothing said against it at all
      if (kind === 'bent-angle') expect(issues).toEqual([]);
    }
  });
  it('takes its stud from the fitting, else from the rod, and drills to suit', () => {
    // DIN 71802 sizes by rod: M8 on 8 and 10 mm, common practice
    expect(first(8).brackets![0]!.stud!.thread).toBe('M8');
    expect(first(14).brackets![0]!.stud!.thread).toBe('M10');
    expect(first(8, 'angled-ball-16-m10').brackets![0]!.stud!.thread).toBe('M10');
    const b = first(8).brackets![0]!;
    expect(threadThrough(b.studHole.diameterMm as number)).toBe('M8');
  });
});

describe('a ready-made plate', () => {
  it.each([4, 6, 8, 10, 14, 20])('for a rod of %d mm can be made, and its ball stands over its middle', (rodMm) => {
    const job = withRod(rodMm);
    const plate = readyPlate(resolveJob(job).struts[0]!, 'base', 'b1', 'Plate');
    const bracket = resolveJob(addBracket(job, { bracket: plate })).brackets[0]!;
    expect(bracket.bought).toBe(true);
    const spec = bracketSpecOf(bracket);
    expect(checkBracket(spec)).toEqual([]);
    const holes = placedHoles(spec).filter((h) => h.role === 'fixing');
    expect(holes).toHaveLength(4);
    for (const axis of [0, 1] as const) expect(holes.reduce((sum, h) => sum + h.centreMm[axis], 0)).toBeCloseTo(0, 9);
  });
});

describe('the kind that suits an end', () => {
  const kindOf = (over: object) => {
    const strut = resolveJob(bare).struts[0]!;
    return suitingKind({ ...strut, ends: { ...strut.ends, base: { ...strut.ends.base, ...over } } }, 'base');
  };
  it('by its fitting and by how its stem stands on the mount', () => {
    expect(kindOf({})).toBe('bent-angle');
    expect(kindOf({ fitting: 'fork' })).toBe('channel');
    expect(kindOf({ tiltDeg: 90 })).toBe('flat-tab');
    expect(kindOf({ tiltDeg: 75 })).toBe('wedge-plate');
    expect(kindOf({ tiltDeg: 20 })).toBe('bent-angle');
    // a stem given straight: up from a level mount, leaning 10° from it
    expect(kindOf({ stem: [0, 0, 2] })).toBe('flat-tab');
    expect(kindOf({ stem: [0, Math.tan(Math.PI / 18), 1] })).toBe('wedge-plate');
    expect(kindOf({ mount: undefined, stem: [0, 0, 1] })).toBe('bent-angle');
  });
});

describe('edge distances', () => {
  // 60 mm leg, 70 wide, 5 thick bent round 6; two holes 40 apart, 22 from the end
  const spec = bracketSpecOf(resolveJob(jobWith()).brackets[0]!);
  it('to the nearest edge, and to where the bend begins', () => {
    const found = edgeDistancesMm(spec);
    // side: 35 − 20 = 15, under 22 to the end; the bend begins 5 + 6 mm before the outside of the upright
    expect(found.get('fix1')!.edgeMm).toBeCloseTo(15, 9);
    expect(found.get('fix1')!.bendMm).toBeCloseTo(60 - 11 - 22, 9);
    // the stud: 62 − 40 = 22 from the top; the tapering sides, 35 to 25 mm over 51 mm, are 35 − 29·10/51 away across
    const across = 35 - ((40 - 11) * 10) / 51;
    expect(found.get('stud')!.edgeMm).toBeCloseTo(Math.min(22, across * Math.cos(Math.atan2(10, 51))), 6);
    expect(found.get('stud')!.bendMm).toBeNull();
  });
});

describe('where there is room for one more hole', () => {
  it('is on the leg, clear of edges, bend and the holes there are', () => {
    let job = jobWith();
    for (let n = 2; n < 3; n++) {
      const spec = bracketSpecOf(resolveJob(job).brackets[0]!);
      const at = freeSpot(spec);
      for (const f of spec.fixings)
        expect(Math.hypot(f.acrossMm - at.acrossMm, f.fromEndMm - at.fromEndMm)).toBeGreaterThan(9);
      job = addFixing(job, { id: 'b1', ...at });
    }
    const done = bracketSpecOf(resolveJob(job).brackets[0]!);
    expect(done.fixings).toHaveLength(3);
    expect(() => placedHoles(done)).not.toThrow();
  });
});

describe('materials offered', () => {
  it('each name leads back to its own row of the table', () => {
    for (const row of MATERIALS) expect(materialRow(nameOfRow(row))?.id).toBe(row.id);
  });
});
