import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  bracketSpecOf,
  checkBracket,
  addFixing,
  type BracketEdge,
  dragEdge,
  dragHole,
  fixingHoles,
  freeToPattern,
  patternToFree,
  removeFixing,
  setBracketKind,
} from '../../../core/bracket';
import { LidwrightError } from '../../../core/error';
import { BRACKET_KINDS, jobIssues, type Job, type JobBracket, readJob, resolveJob } from '../../../core/job';

const id = 'b1';
/** The workboat's job with a light bracket of round numbers in place of its own. */
const read = readJob(readFileSync('tests/fixtures/jobs/workboat-hatch.lidjob', 'utf8'));
const example: Job = {
  ...read,
  brackets: [
    {
      id,
      name: 'Base bracket',
      kind: 'bent-angle',
      strut: 's1',
      end: 'base',
      thicknessMm: 4,
      insideRadiusMm: 4,
      baseLegMm: 50,
      uprightLegMm: 60,
      baseWidthMm: 60,
      topWidthMm: 40,
      baseCornerRadiusMm: 6,
      topCornerRadiusMm: 10,
      baseHole: { diameterMm: 6.6, spacingMm: 36, fromEndMm: 14 },
      studHole: { diameterMm: 8.4, heightMm: 40 },
      ballOffsetMm: 13,
      material: { name: 'Steel S235JR', densityKgM3: 7850 },
    },
  ],
};
const withBracket = (change: object): Job => ({
  ...example,
  brackets: [{ ...example.brackets![0]!, ...change } as JobBracket],
});
const bracket = (job: Job): JobBracket => job.brackets![0]!;
const plain = (job: Job) => resolveJob(job).brackets[0]!;
const holes = (job: Job) => fixingHoles(plain(job)).map((h) => [h.acrossMm, h.fromEndMm]);

describe('setBracketKind', () => {
  it('makes every kind one that can be made, from every other', () => {
    for (const first of BRACKET_KINDS)
      for (const second of BRACKET_KINDS) {
        const job = setBracketKind(setBracketKind(example, { id, kind: first }), { id, kind: second });
        expect(bracket(job).kind).toBe(second);
        const fails = checkBracket(bracketSpecOf(plain(job))).filter((issue) => issue.severity === 'fails');
        expect({ first, second, fails }).toEqual({ first, second, fails: [] });
        expect(jobIssues(resolveJob(job)).filter((issue) => issue.where[0] === 'brackets')).toEqual([]);
      }
  });

  it('loses nothing on the way there and back', () => {
    for (const kind of BRACKET_KINDS) {
      const back = setBracketKind(setBracketKind(example, { id, kind }), { id, kind: 'bent-angle' });
      const keys = ['thicknessMm', 'insideRadiusMm', 'uprightLegMm', 'baseWidthMm', 'topWidthMm', 'material'] as const;
      for (const key of keys) expect(bracket(back)[key]).toEqual(bracket(example)[key]);
      expect(bracket(back).studHole.heightMm).toBe(bracket(example).studHole.heightMm);
    }
  });

  it('leaves a length alone that a given holds', () => {
    const job = {
      ...withBracket({ baseLegMm: { given: 'leg' } }),
      givens: [{ name: 'leg', expression: '50 mm' }],
    } as unknown as Job;
    expect(bracket(setBracketKind(job, { id, kind: 'flat-tab' })).baseLegMm).toEqual({ given: 'leg' });
  });
});

describe('fixings', () => {
  it('turn from a pattern into single holes in place, and back', () => {
    const job = patternToFree(
      withBracket({ baseHole: { diameterMm: 6, spacingMm: 20, fromEndMm: 10, across: 3, rows: 2, rowSpacingMm: 12 } }),
      { id },
    );
    expect(holes(job)).toEqual([
      [-20, 10],
      [0, 10],
      [20, 10],
      [-20, 22],
      [0, 22],
      [20, 22],
    ]);
    expect(() => addFixing(job, { id, acrossMm: 0, fromEndMm: 30 })).toThrow(/up to 6/);
    expect(bracket(freeToPattern(job, { id })).fixings).toBeUndefined();
  });

  it('are added and removed; the last one of a bolted bracket stays', () => {
    let job = addFixing(example, { id, acrossMm: 0, fromEndMm: 25 });
    expect(bracket(job).fixings!.map((f) => f.id)).toEqual(['fix1', 'fix2', 'fix3']);
    job = removeFixing(removeFixing(job, { id, fixing: 'fix1' }), { id, fixing: 'fix2' });
    expect(() => removeFixing(job, { id, fixing: 'fix3' })).toThrow(/last hole/);
    expect(() => removeFixing(job, { id, fixing: 'fix9' })).toThrow(LidwrightError);
  });
});

describe('dragHole', () => {
  it('keeps a pattern a pattern: its spacing and distance follow', () => {
    const job = dragHole(example, { id, hole: 'fix2', to: { acrossMm: 20, alongMm: 16 } });
    expect(bracket(job).baseHole).toMatchObject({ spacingMm: 40, fromEndMm: 16 });
    expect(holes(job)).toEqual([
      [-20, 16],
      [20, 16],
    ]);
    expect(() => dragHole(example, { id, hole: 'fix2', to: { acrossMm: 2, alongMm: 16 } })).toThrow(/spacing/);
  });

  it('moves mirrored holes in pairs, and those on the centre line along it', () => {
    const free = withBracket({
      keep: { mirrored: true },
      fixings: [
        { id: 'a', acrossMm: -18, fromEndMm: 14, diameterMm: 6.6 },
        { id: 'b', acrossMm: 18, fromEndMm: 14, diameterMm: 6.6 },
        { id: 'c', acrossMm: 0, fromEndMm: 22, diameterMm: 6.6 },
      ],
    });
    const moved = dragHole(free, { id, hole: 'b', to: { acrossMm: 21, alongMm: 15 } });
    expect(holes(moved)).toEqual([
      [-21, 15],
      [21, 15],
      [0, 22],
    ]);
    expect(holes(dragHole(moved, { id, hole: 'c', to: { acrossMm: 5, alongMm: 30 } }))[2]).toEqual([0, 30]);
  });

  it('never leaves the edge distance, wherever it is dragged', () => {
    const free = patternToFree(withBracket({ keep: { edgeMm: 11 } }), { id });
    const far = fc.integer({ min: -200, max: 200 });
    fc.assert(
      fc.property(far, far, (acrossMm, alongMm) => {
        const held = alongMm > 0 && alongMm >= plain(free).baseLegMm;
        if (held) return;
        const [y, x] = holes(dragHole(free, { id, hole: 'fix1', to: { acrossMm, alongMm } }))[0]!;
        expect(Math.abs(y!)).toBeLessThanOrEqual(30 - 11);
        expect(x).toBeGreaterThanOrEqual(11);
      }),
    );
  });

  it('refuses in words what a given holds, and what is off the leg', () => {
    const job = {
      ...withBracket({ baseHole: { diameterMm: 6.6, spacingMm: { given: 'pitch' }, fromEndMm: 14 } }),
      givens: [{ name: 'pitch', expression: '36 mm' }],
    } as unknown as Job;
    expect(() => dragHole(job, { id, hole: 'fix2', to: { acrossMm: 25, alongMm: 14 } })).toThrow(
      /held by the given "pitch"/,
    );
    // along the leg it may go: the spacing stays as it is
    expect(bracket(dragHole(job, { id, hole: 'fix2', to: { acrossMm: 18, alongMm: 17 } })).baseHole!.fromEndMm).toBe(
      17,
    );
    expect(() => dragHole(example, { id, hole: 'fix2', to: { acrossMm: 18, alongMm: 80 } })).toThrow(/not on the leg/);
    expect(() => dragHole(example, { id, hole: 'stud', to: { acrossMm: 0, alongMm: 90 } })).toThrow(/off the plate/);
  });

  it('moves the stud up and aside', () => {
    const job = dragHole(example, { id, hole: 'stud', to: { acrossMm: 3, alongMm: 44 } });
    expect(bracket(job).studHole).toMatchObject({ heightMm: 44, acrossMm: 3 });
    const even = dragHole(withBracket({ keep: { mirrored: true } }), {
      id,
      hole: 'stud',
      to: { acrossMm: 3, alongMm: 44 },
    });
    expect(bracket(even).studHole.acrossMm).toBeUndefined();
  });
});

describe('dragEdge', () => {
  it('moves the free end: holes stay put, or keep their distance from it', () => {
    const moved = dragEdge(example, { id, edge: 'free-end', toMm: 60 });
    expect([bracket(moved).baseLegMm, bracket(moved).baseHole!.fromEndMm]).toEqual([60, 24]);
    const kept = dragEdge(withBracket({ keep: { fromEnd: true } }), { id, edge: 'free-end', toMm: 60 });
    expect([bracket(kept).baseLegMm, bracket(kept).baseHole!.fromEndMm]).toEqual([60, 14]);
  });

  it('moves both sides together, no nearer to a hole than the relation says', () => {
    expect(bracket(dragEdge(example, { id, edge: 'side', toMm: -33 })).baseWidthMm).toBe(66);
    const kept = withBracket({ keep: { edgeMm: 10 } });
    expect(bracket(dragEdge(kept, { id, edge: 'side', toMm: 20 })).baseWidthMm).toBe(56);
    expect(bracket(dragEdge(example, { id, edge: 'stud-side', toMm: 21 })).topWidthMm).toBe(42);
    expect(bracket(dragEdge(example, { id, edge: 'upright-top', toMm: 64 })).uprightLegMm).toBe(64);
  });

  it('keeps a channel’s holes in the middle of its gap', () => {
    const channel = setBracketKind(example, { id, kind: 'channel' });
    const before = plain(channel);
    const after = plain(dragEdge(channel, { id, edge: 'gap', toMm: before.gapMm! + 6 }));
    expect(after.gapMm).toBe(before.gapMm! + 6);
    expect(after.baseHole!.fromEndMm).toBeCloseTo(before.baseHole!.fromEndMm + 3, 9);
  });

  it('refuses edges the kind has not, no size, and sizes that are held', () => {
    const tab = setBracketKind(example, { id, kind: 'flat-tab' });
    const refused: [Job, BracketEdge, number, RegExp][] = [
      [tab, 'upright-top', 50, /no such edge/],
      [tab, 'gap', 50, /no such edge/],
      [example, 'stud-end', 50, /no such edge/],
      [example, 'free-end', 0, /cannot be/],
      [example, 'side', NaN, /cannot be/],
      [withBracket({ baseWidthMm: { expression: '2 * 30 mm' } }), 'side', 40, /held by the expression/],
    ];
    for (const [job, edge, toMm, why] of refused) expect(() => dragEdge(job, { id, edge, toMm })).toThrow(why);
  });
});
