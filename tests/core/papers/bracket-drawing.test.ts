import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import type { BracketSpec } from '../../../core/bracket';
import { guardBracket, hatchBracket, lockerBracket, sampleBrackets } from '../../../core/bracket/examples';
import {
  boundsOf,
  type DimensionMark,
  dimensionLabel,
  dimensionValue,
  type Mark,
  type Part,
  type Point,
  type Sheet,
  writeSvg,
} from '../../../core/drawing';
import { LidwrightError } from '../../../core/error';
import { bracketDrawing, paperFormats, type PaperName, type Projection } from '../../../core/papers';
import { sampleDrawings } from '../../../core/papers/examples';
import { makeableAngle } from '../bracket/samples';
import { differsFromGolden } from './golden';
import { boxesMeet, collisions } from './overlap';
import { runs } from '../../support/tier';

const seeded = { seed: 20261125, numRuns: runs(60) };
const info = {
  title: 'Bracket',
  number: 'N-17',
  creator: 'C. Bulwark',
  approver: 'D. Stern',
  owner: 'O',
  date: '2026-11-25',
};

const part = (sheet: Sheet, name: string): Part => sheet.parts.find((p) => p.name === name)!;
const dimensions = (sheet: Sheet): DimensionMark[] =>
  sheet.parts.flatMap((p) => p.marks.filter((m): m is DimensionMark => m.kind === 'dimension'));

/** What must be on the paper, once each, with its size: worked out here from the specification alone. */
function expectedSizes(s: BracketSpec): Record<string, number> {
  const [left, right] = s.fixings;
  const ratio = s.insideRadiusMm / s.thicknessMm;
  const k = ratio > 5 ? 1 : 0.65 + 0.5 * Math.log10(ratio);
  const arc = (Math.PI / 2) * (s.insideRadiusMm + (k * s.thicknessMm) / 2);
  const flatBase = s.baseLegMm - s.insideRadiusMm - s.thicknessMm;
  const length = flatBase + arc + s.uprightLegMm - s.insideRadiusMm - s.thicknessMm;
  return {
    thickness: s.thicknessMm,
    bend: s.insideRadiusMm,
    'base-leg': s.baseLegMm,
    'upright-leg': s.uprightLegMm,
    'base-width': s.baseWidthMm,
    'hole-spacing': right!.acrossMm - left!.acrossMm,
    'hole-from-end': left!.fromEndMm,
    'base-holes': left!.diameterMm,
    'stud-hole': s.studHole.diameterMm,
    'stud-height': s.studHole.heightMm,
    'bend-line': flatBase + arc / 2,
    'stud-in-blank': length - (s.uprightLegMm - s.studHole.heightMm),
    'blank-length': length,
    ...(s.topWidthMm === s.baseWidthMm ? {} : { 'top-width': s.topWidthMm, 'taper-start': flatBase + arc }),
    ...(s.baseCornerRadiusMm > 0 ? { 'base-corner': s.baseCornerRadiusMm } : {}),
    ...(s.topCornerRadiusMm > 0 ? { 'top-corner': s.topCornerRadiusMm } : {}),
  };
}

/** Points that something drawn stands on: ends of lines and arcs, middles of circles. */
function features(marks: readonly Mark[]): { points: Point[]; rounds: [Point, number][] } {
  const points: Point[] = [];
  const rounds: [Point, number][] = [];
  for (const m of marks) {
    if (m.kind === 'line') points.push(m.from, m.to);
    if (m.kind === 'circle') {
      points.push(m.centre);
      rounds.push([m.centre, m.radiusMm]);
    }
    if (m.kind === 'path')
      for (const s of m.segments) {
        if (s.kind === 'line') points.push(s.from, s.to);
        else {
          rounds.push([s.centre, s.radiusMm]);
          for (const angle of [s.startRad, s.startRad + s.sweepRad])
            points.push([s.centre[0] + s.radiusMm * Math.cos(angle), s.centre[1] + s.radiusMm * Math.sin(angle)]);
        }
      }
  }
  return { points, rounds };
}

const near = (a: Point, b: Point): boolean => Math.hypot(a[0] - b[0], a[1] - b[1]) < 1e-6;

const cases = fc.record({
  spec: makeableAngle,
  paper: fc.constantFrom<PaperName>('A4', 'A3'),
  projection: fc.constantFrom<Projection>('first', 'third'),
});

let asked = 0;
let refused = 0;
/** The sheet, and its paper: what has no room on A4 at any scale must have room on A3. */
function drawn({ spec, paper, projection }: { spec: BracketSpec; paper: PaperName; projection: Projection }) {
  if (paper === 'A4') asked++;
  try {
    return { paper, sheet: bracketDrawing(spec, info, { paper, projection }) };
  } catch (error) {
    if (paper !== 'A4' || !(error instanceof LidwrightError) || error.issues[0]?.where[0] !== 'paper') throw error;
    refused++;
    return { paper: 'A3' as const, sheet: bracketDrawing(spec, info, { paper: 'A3', projection }) };
  }
}

describe('bracket drawing, any bracket', () => {
  afterAll(() => {
    // long narrow brackets with many notes; most must do with A4
    expect(refused / asked).toBeLessThan(0.1);
  });
  it('sizes and locates every feature exactly once, and each label says what is drawn', () => {
    fc.assert(
      fc.property(cases, (one) => {
        const { spec } = one;
        const { sheet } = drawn(one);
        const expected = expectedSizes(spec);
        const found = dimensions(sheet);
        expect(found.map((d) => d.id).sort()).toEqual(Object.keys(expected).sort());
        for (const d of found) {
          const value = dimensionValue(d);
          expect(Math.abs(value - expected[d.id]!)).toBeLessThan(1e-9 * 5000);
          const figures = dimensionLabel(d)
            .replace(/^2× |\(M\d+\)$|^bend up 90°, /g, '')
            .match(/\d+(\.\d+)?/g)!;
          expect(figures).toHaveLength(1);
          expect(Math.abs(Number(figures[0]) - value)).toBeLessThanOrEqual(0.5 * 10 ** -d.decimals + 1e-9);
          // Only what follows from the allowance stands in brackets.
          const derived = ['bend-line', 'taper-start', 'stud-in-blank', 'blank-length'].includes(d.id);
          expect(/^\(.*\)$/.test(dimensionLabel(d))).toBe(derived);
        }
      }),
      seeded,
    );
  });

  it('measures from what is drawn, at the scale in the title block', () => {
    fc.assert(
      fc.property(cases, (one) => {
        const { sheet } = drawn(one);
        const block = part(sheet, 'title-block').marks.flatMap((m) => (m.kind === 'text' ? [m.text] : []));
        const [paperMm, realMm] = block
          .find((text) => /^\d+:\d+$/.test(text))!
          .split(':')
          .map(Number) as [number, number];
        for (const p of sheet.parts) {
          const drawn = features(p.marks);
          for (const d of p.marks) {
            if (d.kind !== 'dimension') continue;
            expect(d.scale).toBe(paperMm / realMm);
            const m = d.measured;
            if (m.of === 'distance')
              for (const end of [m.from, m.to]) expect(drawn.points.some((q) => near(q, end))).toBe(true);
            else if (m.of !== 'angle') {
              // The bend's radius is drawn in the side view.
              const rounds = d.id === 'bend' ? features(part(sheet, 'side-view').marks).rounds : drawn.rounds;
              expect(
                rounds.some(([c, r]) => Math.abs(r - m.radiusMm) < 1e-9 && (d.id === 'bend' || near(c, m.centre))),
              ).toBe(true);
            }
          }
        }
      }),
      seeded,
    );
  });

  it('keeps texts clear of each other and of every line, views apart and inside the frame', () => {
    fc.assert(
      fc.property(cases, (one) => {
        const { sheet, paper } = drawn(one);
        expect(collisions(sheet)).toEqual([]);
        const { space } = paperFormats[paper];
        const boxes = sheet.parts
          .filter((p) => p.name !== 'frame')
          .map((p) => ({ name: p.name, box: boundsOf(p.marks) }));
        boxes.forEach(({ name, box }, i) => {
          const inside =
            box.left >= space.left - 1e-9 &&
            box.right <= space.right + 1e-9 &&
            box.bottom >= space.bottom - 1e-9 &&
            box.top <= space.top + 1e-9;
          expect(inside, name).toBe(true);
          for (const other of boxes.slice(i + 1))
            expect(boxesMeet(box, other.box), `${name} and ${other.name}`).toBe(false);
        });
      }),
      seeded,
    );
  });

  it('stands front and side view on one line, on the sides that the projection says', () => {
    fc.assert(
      fc.property(cases, (one) => {
        const { sheet } = drawn(one);
        const { projection } = one;
        const outline = (name: string) => boundsOf(part(sheet, name).marks.filter((m) => m.kind === 'path'));
        const front = outline('front-view');
        const side = outline('side-view');
        expect(side.bottom).toBeCloseTo(front.bottom, 9);
        expect(side.top).toBeCloseTo(front.top, 9);
        // Seen from the right of the front view, the upright's outer face is on the left of the side view.
        expect(side.left > front.right).toBe(projection === 'third');
        expect(side.right < front.left).toBe(projection === 'first');
        const outer = part(sheet, 'side-view').marks.find((m) => m.kind === 'path')!;
        const top = outer.segments
          .flatMap((s) => (s.kind === 'line' ? [s.from, s.to] : []))
          .filter((p) => Math.abs(p[1] - side.top) < 1e-9);
        expect(Math.min(...top.map((p) => p[0]))).toBeCloseTo(side.left, 9);
      }),
      { ...seeded, numRuns: runs(30) },
    );
  });
});

describe('bracket drawing, single sheets', () => {
  const texts = (sheet: Sheet): string[] =>
    sheet.parts.flatMap((p) =>
      p.marks.flatMap((m) => (m.kind === 'text' ? [m.text] : m.kind === 'dimension' ? [dimensionLabel(m)] : [])),
    );

  it.each(Object.keys(sampleDrawings))('looks as it was accepted: %s', (name) => {
    expect(differsFromGolden(name, writeSvg(sampleDrawings[name]!()))).toBeUndefined();
  });

  it('writes the same bytes every time', () => {
    for (const draw of Object.values(sampleDrawings)) expect(writeSvg(draw())).toBe(writeSvg(draw()));
  });

  it('has what a workshop needs in words', () => {
    const all = texts(
      bracketDrawing(
        hatchBracket,
        { ...info, notes: ['Degrease before welding.'] },
        { paper: 'A3', projection: 'third' },
      ),
    );
    for (const text of [
      '2× ⌀9',
      '⌀11',
      '2× R6',
      '2× R12',
      't=4',
      'bend up 90°, R5',
      'ISO 2768-m',
      'break edges 0.2 to 0.5',
      '0.194 kg',
      '1:1',
      'mm',
    ])
      expect(all).toContain(text);
    expect(all.join('\n')).toMatch(/DIN 6935: k = 0\.698/);
    expect(all.join('\n')).toMatch(/licensed person's judgement/);
    expect(all).toContain('Degrease before welding.');
    expect(all).toContain('100 mm: measure before you cut');
  });

  it('takes the largest scale that fits, enlargements too', () => {
    const scale = (spec: BracketSpec, paper: PaperName) =>
      texts(bracketDrawing(spec, info, { paper, projection: 'first' })).find((t) => /^\d+:\d+$/.test(t));
    expect(scale(guardBracket, 'A3')).toBe('2:1');
    expect(scale(hatchBracket, 'A3')).toBe('1:1');
    expect(scale(hatchBracket, 'A4')).toBe('1:2');
    expect(scale(lockerBracket, 'A4')).toBe('1:5');
  });

  it('prints what the shop must know about a bracket that needs care', () => {
    const near = { ...hatchBracket, studHole: { ...hatchBracket.studHole, heightMm: 18 }, insideRadiusMm: 2.4 };
    const all = texts(bracketDrawing(near, info, { paper: 'A3', projection: 'third' })).join('\n');
    expect(all).toMatch(/Drill after bending: the stud hole/);
    expect(all).toMatch(/bend a trial piece/);
  });

  const refused: [string, () => Sheet, RegExp][] = [
    [
      'a bracket that cannot be made',
      () => bracketDrawing({ ...hatchBracket, thicknessMm: NaN }, info, { paper: 'A4', projection: 'first' }),
      /thickness/,
    ],
    [
      'a sheet with no room',
      () => bracketDrawing({ ...hatchBracket, uprightLegMm: 1400 }, info, { paper: 'A4', projection: 'first' }),
      /Use A3/,
    ],
    [
      'a bracket too big for A3',
      () => bracketDrawing({ ...hatchBracket, uprightLegMm: 4000 }, info, { paper: 'A3', projection: 'first' }),
      /does not fit on A3/,
    ],
    [
      'a title too long for its field',
      () =>
        bracketDrawing(
          hatchBracket,
          { ...info, title: 'Hatch bracket '.repeat(20) },
          { paper: 'A4', projection: 'first' },
        ),
      /^title: .*Shorten/,
    ],
    [
      'notes that leave no room',
      () => bracketDrawing(hatchBracket, { ...info, notes: Array(60).fill('x') }, { paper: 'A3', projection: 'first' }),
      /Shorten the notes/,
    ],
    [
      'an unknown paper',
      () => bracketDrawing(hatchBracket, info, { paper: 'A9' as PaperName, projection: 'first' }),
      /Choose A4 or A3/,
    ],
  ];
  it.each(refused)('refuses %s with a cure', (_name, make, words) => {
    expect(make).toThrow(LidwrightError);
    expect(make).toThrow(words);
  });

  it('wraps or shrinks long title texts and still keeps clear', () => {
    const long = {
      ...info,
      title: 'Workboat engine hatch with life-raft canister on top, lid bracket of the port strut',
      owner: 'Slipway Workshop and Boat Builders',
    };
    const sheet = bracketDrawing(
      {
        ...hatchBracket,
        material: { name: 'Stainless steel 1.4404, cold rolled, brushed one side', densityKgM3: 7980 },
      },
      long,
      { paper: 'A4', projection: 'third' },
    );
    expect(collisions(sheet)).toEqual([]);
  });

  it.each(['all', 'sides', 'ends'] as const)('shows and says the weld on the mount as it is: %s', (edges) => {
    for (const spec of sampleBrackets) {
      const sheet = bracketDrawing({ ...spec, fixings: [], attachedBy: 'weld' }, info, {
        paper: 'A3',
        projection: 'first',
        mountWeld: { throatMm: 3.25, edges },
      });
      const words = texts(sheet);
      expect(words).toContain('a3.25');
      expect(
        words.some((t) =>
          t.startsWith(
            {
              all: 'Weld the foot to its mount all',
              sides: 'Weld the foot to its mount along both sides',
              ends: 'Weld the foot to its mount at both ends',
            }[edges],
          ),
        ),
      ).toBe(true);
      // the circle of a weld all round, at the bend of the arrow line: no hole is drawn in a narrow line
      const round = sheet.parts.flatMap((p) =>
        p.marks.filter((m) => m.kind === 'circle' && m.role === 'narrow' && m.radiusMm === 1.3),
      );
      expect(round.length).toBe(edges === 'all' ? 1 : 0);
    }
  });
});
