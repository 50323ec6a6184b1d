import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { roundedPolygon } from '../../../core/bracket';
import { boundsOf, type Mark, type Point, type Sheet } from '../../../core/drawing';
import { drillTemplate, mirroredTemplate, type TemplateSpec } from '../../../core/papers';
import { rad } from '../../../core/space';
import { outside } from './inside';
import { collisions } from './overlap';
import { runs } from '../../support/tier';

const head = { title: 'Bracket', documentType: 'Drill template', number: 'T-1', date: '2026-11-25', creator: '' };
const span = (low: number, high: number): fc.Arbitrary<number> =>
  fc.integer({ min: Math.round(low * 100), max: Math.round(high * 100) }).map((n) => n / 100);

/** A base leg with holes in cells of their own, so that none meets another. */
const anyTemplate = (most: number): fc.Arbitrary<TemplateSpec> =>
  fc
    .record({
      length: span(60, most),
      width: span(60, most),
      holes: fc.array(fc.record({ d: span(3, 18), slot: fc.oneof(fc.constant(0), span(1, 20)), turn: span(0, 3.1) }), {
        minLength: 1,
        maxLength: 6,
      }),
      words: fc.boolean(),
      up: span(0, 6.28),
    })
    .map(({ length, width, holes, words, up }) => ({
      name: 'Random',
      outline: roundedPolygon([
        { at: [-length, -width / 2], radiusMm: 5 },
        { at: [0, -width / 2], radiusMm: 0 },
        { at: [0, width / 2], radiusMm: 0 },
        { at: [-length, width / 2], radiusMm: 5 },
      ]),
      holes: holes.map((h, i) => ({
        id: `h${i}`,
        centre: [-(length * (i + 0.5)) / holes.length, ((i % 3) - 1) * width * 0.3] as Point,
        diameterMm: h.d,
        slotMm: h.slot,
        slotRad: rad(h.turn),
      })),
      directions: [
        { words: 'to the hinge', direction: [1, 0.2] as Point },
        { words: 'up', direction: [Math.cos(up), Math.sin(up)] as Point },
      ],
      originWords: words ? 'under the stud' : null,
      notes: ['Seen from outside.'],
    }));

const templateMarks = (sheet: Sheet): readonly Mark[] => sheet.parts.find((p) => p.name === 'template')!.marks;

/** Whole holes on a page: circles, and closed paths that are no outline, with their middle. */
function wholeHoles(sheet: Sheet): { at: Point; d: number; slot: number }[] {
  return templateMarks(sheet).flatMap((m) => {
    if (m.kind === 'circle' && m.role === 'visible') return [{ at: m.centre, d: 2 * m.radiusMm, slot: 0 }];
    if (m.kind !== 'path' || !m.closed) return [];
    const arcs = m.segments.flatMap((s) => (s.kind === 'arc' ? [s] : []));
    if (m.segments.length !== 4 || arcs.length !== 2 || Math.abs(arcs[0]!.sweepRad - Math.PI) > 1e-9) return [];
    const [p, q] = [arcs[0]!.centre, arcs[1]!.centre];
    return [
      {
        at: [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2] as Point,
        d: 2 * arcs[0]!.radiusMm,
        slot: Math.hypot(p[0] - q[0], p[1] - q[1]),
      },
    ];
  });
}

/** A number of a hole on a page: where its text stands. */
const numbersOn = (sheet: Sheet): string[] =>
  templateMarks(sheet).flatMap((m) => (m.kind === 'text' && /^\d+$/.test(m.text) ? [m.text] : []));

describe('drill template', () => {
  it('shows every hole whole on some page, nothing over anything else, all inside the frame', () => {
    fc.assert(
      fc.property(anyTemplate(700), fc.constantFrom('A4' as const, 'A3' as const), (spec, paper) => {
        const sheets = drillTemplate(spec, head, paper);
        for (const sheet of sheets) {
          expect(collisions(sheet)).toEqual([]);
          expect(outside(sheet)).toEqual([]);
        }
        const whole = sheets.flatMap(wholeHoles);
        for (const h of spec.holes)
          expect(whole.some((w) => Math.abs(w.d - h.diameterMm) < 1e-9 && Math.abs(w.slot - h.slotMm) < 1e-9)).toBe(
            true,
          );
        const numbers = new Set(sheets.flatMap(numbersOn));
        expect(numbers.size).toBe(spec.holes.length);
        sheets.forEach((sheet, i) => expect(JSON.stringify(sheet.parts)).toContain(`"${i + 1}/${sheets.length}"`));
      }),
      { numRuns: runs(30) },
    );
  });

  it('is true: distances between holes on a page are those of the bracket', () => {
    fc.assert(
      fc.property(anyTemplate(150), (spec) => {
        const sheets = drillTemplate(spec, head, 'A4');
        if (sheets.length > 1) return;
        const drawn = wholeHoles(sheets[0]!).map((h) => h.at);
        expect(drawn).toHaveLength(spec.holes.length);
        for (let i = 0; i < drawn.length; i++)
          for (let j = 0; j < i; j++) {
            const real = Math.hypot(
              spec.holes[i]!.centre[0] - spec.holes[j]!.centre[0],
              spec.holes[i]!.centre[1] - spec.holes[j]!.centre[1],
            );
            expect(Math.hypot(drawn[i]![0] - drawn[j]![0], drawn[i]![1] - drawn[j]![1])).toBeCloseTo(real, 9);
          }
      }),
    );
  });

  it('laid together by its match marks, the pages give back the whole', () => {
    fc.assert(
      fc.property(anyTemplate(650), (spec) => {
        const sheets = drillTemplate(spec, head, 'A4');
        if (sheets.length === 1) return;
        // middles of the match marks, lozenges that are no hole, by the letter beside them
        const marks = sheets.map((sheet) => {
          const rings = templateMarks(sheet).flatMap((m): Point[] => {
            if (m.kind !== 'path' || m.role !== 'narrow' || !m.closed) return [];
            const box = boundsOf([m]);
            return [[(box.left + box.right) / 2, (box.bottom + box.top) / 2]];
          });
          const letters = templateMarks(sheet).flatMap((m) =>
            m.kind === 'text' && /^[A-Z]{1,2}$/.test(m.text) ? [m] : [],
          );
          // a mark at a corner can be cut by a third page's edge: only whole ones count
          const whole = letters.filter((l) => rings.some((r) => Math.hypot(r[0] - l.at[0], r[1] - l.at[1]) < 5));
          return new Map(
            whole.map((l) => [
              l.text,
              rings.reduce((p, q) =>
                Math.hypot(q[0] - l.at[0], q[1] - l.at[1]) < Math.hypot(p[0] - l.at[0], p[1] - l.at[1]) ? q : p,
              ),
            ]),
          );
        });
        const place: (Point | null)[] = sheets.map((_, i) => (i === 0 ? [0, 0] : null));
        for (let round = 0; round < sheets.length; round++)
          for (let i = 0; i < sheets.length; i++)
            for (let j = 0; j < sheets.length; j++) {
              if (!place[i] || place[j]) continue;
              const common = [...marks[i]!.keys()].filter((k) => marks[j]!.has(k));
              if (common.length === 0) continue;
              const [p, q] = [marks[i]!.get(common[0]!)!, marks[j]!.get(common[0]!)!];
              place[j] = [place[i]![0] + p[0] - q[0], place[i]![1] + p[1] - q[1]];
            }
        expect(place.every((p) => p !== null)).toBe(true);
        const holes = sheets.flatMap((sheet, i) =>
          wholeHoles(sheet).map((h) => ({ ...h, at: [h.at[0] + place[i]![0], h.at[1] + place[i]![1]] as Point })),
        );
        // distances again, now over the seams
        const distances = (points: readonly Point[]): number[] =>
          points
            .flatMap((p, i) => points.slice(0, i).map((q) => Math.hypot(p[0] - q[0], p[1] - q[1])))
            .sort((a, b) => a - b);
        const once = holes.filter(
          (h, i) => holes.findIndex((o) => Math.hypot(o.at[0] - h.at[0], o.at[1] - h.at[1]) < 1e-6) === i,
        );
        expect(once).toHaveLength(spec.holes.length);
        const real = distances(spec.holes.map((h) => h.centre));
        distances(once.map((h) => h.at)).forEach((d, i) => expect(d).toBeCloseTo(real[i]!, 6));
      }),
      { numRuns: runs(25) },
    );
  });

  it('mirrored twice is itself, and mirrored once tells the bracket’s own coordinates', () => {
    fc.assert(
      fc.property(anyTemplate(150), (spec) => {
        const twice = mirroredTemplate(mirroredTemplate(spec));
        twice.holes.forEach((h, i) => expect(h.centre).toEqual(spec.holes[i]!.centre.map((v) => v + 0)));
        const told = (s: TemplateSpec): string[] =>
          drillTemplate(s, head, 'A3')[0]!
            .parts.find((p) => p.name === 'foot')!
            .marks.flatMap((m) => (m.kind === 'text' && m.text.startsWith('1: ') ? [m.text] : []));
        expect(told(mirroredTemplate(spec))).toEqual(told(spec));
      }),
      { numRuns: runs(20) },
    );
  });

  it('has a checking bar of exactly 100 mm with its words on every page', () => {
    const [spec] = fc.sample(anyTemplate(600), { numRuns: 1, seed: 11 });
    for (const sheet of drillTemplate(spec!, head, 'A4')) {
      const bar = sheet.parts.find((p) => p.name === 'checking-bar')!.marks;
      const [line] = bar;
      if (line?.kind !== 'line') throw new Error('no bar');
      expect(line.to[0] - line.from[0]).toBe(100);
      const texts = sheet.parts.flatMap((p) => p.marks.flatMap((m) => (m.kind === 'text' ? [m.text] : [])));
      expect(texts.join(' ')).toMatch(/Print at 100 %.*100 mm: measure this after printing/);
    }
  });

  it('names every direction on every page, those that fall together too', () => {
    const three = fc.tuple(anyTemplate(200), span(0, 6.28), span(0, 6.28), fc.boolean());
    fc.assert(
      fc.property(three, ([spec, one, other, together]) => {
        const way = (rad: number): Point => [Math.cos(rad), Math.sin(rad)];
        const directions = [
          { words: 'to the hinge', direction: way(one) },
          { words: 'forward', direction: way(together ? one : other) },
          { words: 'up', direction: way(together ? one + 0.01 : other + 2) },
        ];
        for (const sheet of drillTemplate({ ...spec, directions }, head, 'A4')) {
          const texts = sheet.parts.flatMap((p) => p.marks.flatMap((m) => (m.kind === 'text' ? [m.text] : [])));
          for (const { words } of directions) expect(texts).toContain(words);
        }
      }),
      { numRuns: runs(100) },
    );
  });
  it('refuses in words: no hole, far too large', () => {
    const [spec] = fc.sample(anyTemplate(100), { numRuns: 1, seed: 1 });
    expect(() => drillTemplate({ ...spec!, holes: [] }, head, 'A4')).toThrow(/no hole/);
    const huge = {
      ...spec!,
      holes: [spec!.holes[0]!, { ...spec!.holes[0]!, id: 'far', centre: [5000, 5000] as Point }],
    };
    expect(() => drillTemplate(huge, head, 'A4')).toThrow(/pages of A4/);
    expect(() => drillTemplate(spec!, head, 'A5' as 'A4')).toThrow(/no paper/);
  });
});
