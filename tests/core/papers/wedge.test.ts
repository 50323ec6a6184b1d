// The wedge's drawing: every size once and true, nothing on top of anything, over random wedges.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type DimensionMark,
  type Part,
  type Sheet,
  boundsOf,
  dimensionLabel,
  dimensionValue,
  writeSvg,
} from '../../../core/drawing';
import { type WedgeSpec, checkWedge } from '../../../core/joint';
import { hatchWedge, steepWedge, studWedge } from '../../../core/joint/wedge-examples';
import { type PaperName, type Projection, paperFormats, papersOf, wedgeDrawing } from '../../../core/papers';
import type { ResolvedJob } from '../../../core/job';
import type { TriangleMesh } from '../../../core/solid';
import { workingsOf } from '../../../core/workings';
import { jobAt } from '../../support/files';
import { refusal } from '../../support/refusal';
import { boxesMeet, collisions } from './overlap';
import { runs } from '../../support/tier';

const info = {
  title: 'Shim',
  number: 'N-18',
  creator: 'C. Bulwark',
  approver: 'D. Stern',
  owner: 'O',
  date: '2026-11-25',
};
const span = (min: number, max: number) => fc.integer({ min: min * 10, max: max * 10 }).map((n) => n / 10);
const part = (sheet: Sheet, name: string): Part => sheet.parts.find((p) => p.name === name)!;
const dimensions = (sheet: Sheet): DimensionMark[] =>
  sheet.parts.flatMap((p) => p.marks.filter((m): m is DimensionMark => m.kind === 'dimension'));
const byId = (sheet: Sheet): Record<string, number> =>
  Object.fromEntries(dimensions(sheet).map((d) => [d.id, dimensionValue(d)]));

/** Wedges with one hole, or with two alike across it. */
const anyWedge: fc.Arbitrary<WedgeSpec> = fc
  .record({
    angleDeg: span(1, 40),
    footprint: fc.oneof(
      fc.record({ kind: fc.constant('rectangle' as const), lengthMm: span(30, 110), widthMm: span(30, 90) }),
      fc.record({ kind: fc.constant('round' as const), diameterMm: span(30, 90) }),
    ),
    thinMm: span(2, 10),
    squareTo: fc.constantFrom('face' as const, 'underside' as const),
    x: span(-15, 15),
    diameterMm: span(5, 13),
    pair: fc.option(span(9, 25), { nil: 0 }),
  })
  .map(({ x, diameterMm, pair, ...w }): WedgeSpec => ({
    ...hatchWedge,
    ...w,
    holes: pair ? [-pair, pair].map((yMm) => ({ xMm: x, yMm, diameterMm })) : [{ xMm: x, yMm: 0, diameterMm }],
  }))
  .filter((w) => checkWedge(w).length === 0);

const cases = fc.record({
  spec: anyWedge,
  paper: fc.constantFrom<PaperName>('A4', 'A3'),
  projection: fc.constantFrom<Projection>('first', 'third'),
});
const seeded = { seed: 20261125, numRuns: runs(200) };

describe('wedge drawing, any wedge', () => {
  it('gives every size once, true to the specification', () => {
    fc.assert(
      fc.property(cases, ({ spec, paper, projection }) => {
        const sheet = wedgeDrawing(spec, info, { paper, projection });
        const found = byId(sheet);
        const [l, w] =
          spec.footprint.kind === 'round'
            ? [spec.footprint.diameterMm, spec.footprint.diameterMm]
            : [spec.footprint.lengthMm, spec.footprint.widthMm];
        const b = (spec.angleDeg * Math.PI) / 180;
        const hole = spec.holes[0]!;
        const up = spec.thinMm + (hole.xMm + l / 2) * Math.tan(b);
        // a hole square to the face leans back: it meets the face nearer the thin end
        const face = spec.squareTo === 'face' ? hole.xMm - up * Math.sin(b) * Math.cos(b) : hole.xMm;
        const expected: Record<string, number> = {
          angle: spec.angleDeg,
          thin: spec.thinMm,
          thick: spec.thinMm + l * Math.tan(b),
          'hole-x-1': face + l / 2,
          'hole-1': hole.diameterMm,
          ...(spec.footprint.kind === 'round' ? { diameter: l } : { length: l, width: w }),
          ...(spec.holes.length === 2
            ? { 'hole-y-1': hole.yMm + w / 2, 'hole-y-2': w / 2 - hole.yMm }
            : spec.footprint.kind === 'round'
              ? {}
              : { 'hole-y-1': w / 2 }),
        };
        expect(Object.keys(found).sort()).toEqual(Object.keys(expected).sort());
        expect(dimensions(sheet).length).toBe(Object.keys(expected).length);
        for (const [id, value] of Object.entries(expected)) expect(Math.abs(found[id]! - value), id).toBeLessThan(1e-6);
        for (const d of dimensions(sheet)) {
          const figures = dimensionLabel(d)
            .replace(/^2× |\(M\d+\)$/g, '')
            .match(/\d+(\.\d+)?/g)!;
          expect(Math.abs(Number(figures[0]) - dimensionValue(d))).toBeLessThanOrEqual(0.5 * 10 ** -d.decimals + 1e-9);
          expect(/^\(.*\)$/.test(dimensionLabel(d))).toBe(d.id === 'thick');
        }
      }),
      seeded,
    );
  });
  it('keeps texts clear of each other and of every line, and all of it inside the frame', () => {
    fc.assert(
      fc.property(cases, ({ spec, paper, projection }) => {
        const sheet = wedgeDrawing(spec, info, { paper, projection });
        expect(collisions(sheet)).toEqual([]);
        const { space } = paperFormats[paper];
        const boxes = sheet.parts
          .filter((p) => p.name !== 'frame')
          .map((p) => ({ name: p.name, box: boundsOf(p.marks) }));
        boxes.forEach(({ name, box }, i) => {
          expect(
            box.left >= space.left - 1e-9 &&
              box.right <= space.right + 1e-9 &&
              box.bottom >= space.bottom - 1e-9 &&
              box.top <= space.top + 1e-9,
            name,
          ).toBe(true);
          for (const other of boxes.slice(i + 1))
            expect(boxesMeet(box, other.box), `${name} and ${other.name}`).toBe(false);
        });
      }),
      seeded,
    );
  });
  it('stands the plan under the profile in first angle, over it in third, thick ends on one line', () => {
    for (const projection of ['first', 'third'] as const) {
      const sheet = wedgeDrawing(hatchWedge, info, { paper: 'A4', projection });
      const outline = (name: string) => boundsOf(part(sheet, name).marks.filter((m) => m.kind === 'path'));
      const [profile, plan] = [outline('profile'), outline('plan')];
      expect(plan.top < profile.bottom).toBe(projection === 'first');
      expect(Math.abs(plan.right - profile.right)).toBeLessThan(1e-9);
      expect(Math.abs(plan.left - profile.left)).toBeLessThan(1e-9);
    }
  });
});

describe('wedge drawing, single sheets', () => {
  const texts = (sheet: Sheet): string =>
    sheet.parts
      .flatMap((p) =>
        p.marks.flatMap((m) => (m.kind === 'text' ? [m.text] : m.kind === 'dimension' ? [dimensionLabel(m)] : [])),
      )
      .join('\n');
  it('says in words what a workshop needs', () => {
    const all = texts(
      wedgeDrawing(hatchWedge, { ...info, notes: ['Thick end aft.'] }, { paper: 'A4', projection: 'first' }),
    );
    for (const text of ['2× ⌀6.6 (M6)', '11°', 'Thick end aft.', 'ISO 2768-m', 'Wedge drawing', '1:1'])
      expect(all).toContain(text);
    expect(all.replace(/\s+/g, ' ')).toMatch(/licensed person's judgement/);
    expect(texts(wedgeDrawing(studWedge, info, { paper: 'A4', projection: 'third' }))).toMatch(
      /second wedge of this angle/,
    );
    expect(
      texts(wedgeDrawing({ ...hatchWedge, angleDeg: 1.5, thinMm: 2 }, info, { paper: 'A4', projection: 'first' })),
    ).toContain('1.5° to the underside');
  });
  it('writes the same bytes every time', () => {
    for (const w of [hatchWedge, studWedge, steepWedge]) {
      const draw = () => writeSvg(wedgeDrawing(w, info, { paper: 'A3', projection: 'first' }));
      expect(draw()).toBe(draw());
    }
  });
  it('refuses what can’t be made, and what no sheet holds', () => {
    expect(
      refusal(() => wedgeDrawing({ ...hatchWedge, angleDeg: 0 }, info, { paper: 'A4', projection: 'first' })).where,
    ).toEqual(['angleDeg']);
    expect(
      refusal(() =>
        wedgeDrawing({ ...hatchWedge, footprint: { kind: 'rectangle', lengthMm: 1900, widthMm: 1900 } }, info, {
          paper: 'A4',
          projection: 'first',
        }),
      ).where,
    ).toEqual(['paper']);
  });
});

describe('the wedges of a pair', () => {
  const papers = (across: readonly number[]) => {
    const { job } = workingsOf(jobAt('tests/fixtures/jobs/workboat-hatch.lidjob'));
    const [strut] = job.struts;
    const { baseHole: _, ...bracket } = job.brackets[0]!;
    const fixings = across.map((acrossMm, i) => ({ id: `f${i}`, diameterMm: 9, acrossMm, fromEndMm: 20 }));
    const base = { ...strut!.ends.base, tiltDeg: 6 };
    const pair: ResolvedJob = {
      ...job,
      struts: [{ ...strut!, quantity: 2, ends: { ...strut!.ends, base } }],
      brackets: [{ ...bracket, fixings }],
    };
    return papersOf(pair, null, { date: '2026-11-29', program: 'test' }).filter((p) => p.kind === 'wedge');
  };
  const texts = (sheets: readonly Sheet[]): string[] =>
    sheets.flatMap((s) => s.parts.flatMap((p) => p.marks.flatMap((m) => (m.kind === 'text' ? [m.text] : []))));
  const aside = (mesh: TriangleMesh): number => Math.max(...mesh.positionsMm.filter((_, i) => i % 3 === 1));

  it('are alike where the holes lie evenly: one drawing, two off', () => {
    const [both, ...more] = papers([-15, 15]);
    expect(more).toEqual([]);
    expect(texts(both!.draw())).toContain('2 off');
  });

  it('are two parts where they do not, each drawn, each one off, the one the mirror image of the other', () => {
    const [one, twin, ...more] = papers([-15, 10]);
    expect(more).toEqual([]);
    expect(twin!.title).toContain('mirrored');
    for (const paper of [one!, twin!]) expect(texts(paper.draw())).toContain('1 off');
    const hole = (mesh: TriangleMesh): number[] =>
      Array.from(mesh.positionsMm)
        .filter((_, i) => i % 3 === 1)
        .map((y) => Number(y.toFixed(6)) + 0);
    const [a, b] = [hole(one!.solid!(0)), hole(twin!.solid!(0))];
    expect([...new Set(b)].sort((x, y) => x - y)).toEqual([...new Set(a.map((y) => 0 - y))].sort((x, y) => x - y));
    expect(new Set(a)).not.toEqual(new Set(b));
    expect(aside(one!.solid!(0))).toBeCloseTo(aside(twin!.solid!(0)), 9);
  });
});
