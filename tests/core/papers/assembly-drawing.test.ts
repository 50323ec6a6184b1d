// The assembly drawing: every part of the list has its balloon, balloons and leaders are clear of each other, and list and shopping list are one.
import { beforeAll, describe, expect, it } from 'vitest';
import type { CircleMark, LineMark, Sheet } from '../../../core/drawing';
import { BRACKET_KINDS, type Bracket, resolveJob, type ResolvedJob } from '../../../core/job';
import { assemblyDrawing } from '../../../core/papers/assembly-drawing';
import { assemblyParts, shoppingRows } from '../../../core/papers/parts';
import { piecesCross } from '../../../core/papers/bracket/place-dimensions';
import { makeFrame } from '../../../core/travel';
import { jobAt } from '../../support/files';
import { sample } from '../../support/tier';
import { outside } from './inside';
import { collisions } from './overlap';

const kept = resolveJob(jobAt('tests/fixtures/jobs/workboat-hatch.lidjob'));
const bracket: Bracket = {
  ...kept.brackets[0]!,
  stud: { thread: 'M8', propertyClass: '12.9' },
  studHole: { diameterMm: 8.4, heightMm: 40 },
};
const example: ResolvedJob = { ...kept, brackets: [bracket] };
const { baseHole: _, ...bare } = bracket;
const fixings = [
  { id: 'f1', acrossMm: -22, fromEndMm: 18, diameterMm: 11 },
  { id: 'f2', acrossMm: 22, fromEndMm: 18, diameterMm: 11 },
];
const flat = { studHole: { diameterMm: 8.4, fromEndMm: 16 }, thicknessMm: 6, baseLegMm: 90, fixings };
const KINDS: Readonly<Record<(typeof BRACKET_KINDS)[number], Partial<Bracket>>> = {
  'flat-tab': flat,
  'bent-angle': {},
  'gusset-angle': { gusset: { thicknessMm: 4, alongMm: 20, upMm: 20, count: 1 }, ballSide: 'outside' },
  channel: {
    ...{ thicknessMm: 4, insideRadiusMm: 4, gapMm: 62, topWidthMm: 60, topCornerRadiusMm: 8, ballOffsetMm: 31 },
    studHole: { diameterMm: 8.4, heightMm: 40 },
    fixings: [
      { id: 'f1', acrossMm: -20, fromEndMm: 35, diameterMm: 11 },
      { id: 'f2', acrossMm: 20, fromEndMm: 35, diameterMm: 11 },
    ],
  },
  'wedge-plate': { ...flat, wedge: { tiltDeg: 8 } },
};

function jobOf(change: Partial<Bracket>, tiltDeg = 0, quantity: 1 | 2 = 1): ResolvedJob {
  const strut = example.struts[0]!;
  return {
    ...example,
    struts: [{ ...strut, quantity, ends: { ...strut.ends, base: { ...strut.ends.base, tiltDeg } } }],
    brackets: [{ ...('fixings' in change ? bare : bracket), ...change } as Bracket],
  };
}

const CASES: [string, ResolvedJob][] = [
  ['the example as a pair', jobOf({}, 0, 2)],
  ['on a wedge', jobOf({}, 12)],
  ['on a wedge that leans the other way', jobOf({}, -9)],
  ...BRACKET_KINDS.map((kind): [string, ResolvedJob] => [kind, jobOf({ kind, ...KINDS[kind] })]),
  ['into wood', jobOf({ attach: { by: 'bolts', into: 'wood' } })],
  ['into inserts', jobOf({ attach: { by: 'bolts', into: 'insert', thread: 'M8' } })],
  ['welded', jobOf({ attach: { by: 'weld' } })],
  ['no bracket', { ...example, brackets: [] }],
];

const options = { date: '2026-11-29' };
const draw = (job: ResolvedJob, paper: 'A4' | 'A3'): Sheet[] =>
  assemblyDrawing({ job, frame: makeFrame(job) }, { ...options, paper });

interface Balloon {
  readonly no: number;
  readonly circle: CircleMark;
  readonly leader: LineMark;
}

/** Circles with a number in them, and the lines that end at them. */
function balloonsOn(sheet: Sheet): Balloon[] {
  return sheet.parts
    .filter((p) => p.name.startsWith('figure'))
    .flatMap(({ marks }) =>
      marks.flatMap((circle): Balloon[] => {
        if (circle.kind !== 'circle' || circle.radiusMm !== 5.5 || circle.role !== 'narrow') return [];
        const [x, y] = circle.centre;
        const text = marks.find(
          (m) => m.kind === 'text' && m.anchor === 'middle' && Math.hypot(m.at[0] - x, m.at[1] + 2.5 - y) < 1,
        );
        const leader = marks.find(
          (m): m is LineMark => m.kind === 'line' && Math.abs(Math.hypot(m.to[0] - x, m.to[1] - y) - 5.5) < 1e-6,
        );
        return [{ no: Number((text as { text: string }).text), circle, leader: leader! }];
      }),
    );
}

describe.each(sample(['A4', 'A3'] as const))('assembly drawing on %s', (paper) => {
  let drawn: (readonly [string, ResolvedJob, Sheet[]])[] = [];
  beforeAll(() => {
    drawn = sample(CASES, 2).map(([name, job]) => [name, job, draw(job, paper)] as const);
  });

  it('has a balloon for every part of its list, and none for anything else', () => {
    for (const [name, job, sheets] of drawn) {
      const numbers = new Set(sheets.flatMap(balloonsOn).map((b) => b.no));
      // a plate thick enough to take the stud's thread itself hides what the job's clearance hole asks for
      const hidden = name === 'wedge-plate' ? ['stud-nut', 'stud-washer'] : [];
      const listed = assemblyParts(job).flatMap((p, i) => (hidden.includes(p.role) ? [] : [i + 1]));
      expect([name, [...numbers].sort((a, b) => a - b)]).toEqual([name, listed]);
    }
  });

  it('has no text on a text or a line, no leader across a leader or a balloon, nothing outside the frame', () => {
    for (const [name, , sheets] of drawn)
      for (const sheet of sheets) {
        expect([name, collisions(sheet)]).toEqual([name, []]);
        expect([name, outside(sheet)]).toEqual([name, []]);
        const all = balloonsOn(sheet);
        all.forEach((a, i) => {
          for (const b of all.slice(i + 1)) {
            expect(piecesCross([a.leader.from, a.leader.to], [b.leader.from, b.leader.to])).toBe(false);
            const apart = Math.hypot(a.circle.centre[0] - b.circle.centre[0], a.circle.centre[1] - b.circle.centre[1]);
            expect(apart).toBeGreaterThan(2 * 5.5);
          }
        });
      }
  });

  it('shows it closed and open, says that it is not to be scaled, and which sheet of how many each is', () => {
    for (const [, , sheets] of drawn) {
      const texts = sheets.map((s) =>
        s.parts.flatMap((p) => p.marks.flatMap((m) => (m.kind === 'text' ? [m.text] : []))),
      );
      expect(texts.flat()).toContain('Closed');
      expect(texts.flat()).toContain('Open at 70°');
      texts.slice(0, -1).forEach((t) => expect(t.join(' ')).toMatch(/Do not scale/));
      texts.forEach((t, i) => expect(t).toContain(`${i + 1}/${sheets.length}`));
    }
  });
});

describe('parts of an assembly', () => {
  it('are what the shopping list is made from: bought as they are, or as the stock they are cut from', () => {
    for (const [, job] of CASES) {
      const parts = assemblyParts(job);
      expect(shoppingRows(job)).toEqual(parts.flatMap((p) => p.buy));
      for (const p of parts)
        if (p.role === 'mount') expect(p.buy).toEqual([]);
        else expect(p.buy.every((row) => row.quantity % p.quantity === 0 || p.role === 'washer')).toBe(true);
    }
    const pair = assemblyParts(CASES[0]![1]);
    // both struts, four bolts, eight washers, two brackets, by hand
    const count = (role: string): number | undefined => pair.find((p) => p.role === role)?.quantity;
    expect([count('strut'), count('screw'), count('washer'), count('nut'), count('bracket'), count('stud')]).toEqual([
      2, 4, 8, 4, 2, 2,
    ]);
  });

  it('name a bracket that can’t be made, and draw the rest', () => {
    const job = jobOf({ thicknessMm: 0 });
    const parts = assemblyParts(job);
    expect(parts.find((p) => p.role === 'bracket')!.order).toMatch(/can’t be made/);
    expect(
      draw(job, 'A4')
        .flatMap((s) => balloonsOn(s))
        .map((b) => b.no),
    ).not.toContain(4);
    const list = draw(job, 'A4')
      .at(-1)!
      .parts.flatMap((p) => p.marks.flatMap((m) => (m.kind === 'text' ? [m.text] : [])));
    expect(list.join(' ')).toContain('not drawn');
  });
});
