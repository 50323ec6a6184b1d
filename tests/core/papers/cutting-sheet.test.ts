import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  blankAreaMm2,
  blanks,
  bracketSpecOf,
  type Contour,
  contourAreaMm2,
  depthInContourMm,
  placedHoles,
  type Point2,
} from '../../../core/bracket';
import { writeDxf } from '../../../core/drawing';
import { BRACKET_KINDS, type Bracket, readJob, resolveJob } from '../../../core/job';
import { bracketTemplate, cuttingSheet, drillTemplate, templateFromBehind, templateOfTwin } from '../../../core/papers';
import { makeableOf } from '../bracket/samples';
import { polylineArea, readDxf } from '../drawing/dxf-read';
import { outside } from './inside';
import { collisions } from './overlap';
import { runs } from '../../support/tier';

describe('cutting file', () => {
  it.each(BRACKET_KINDS)(
    'of any %s: closed outlines of the blanks’ area, every hole, every bend, each on its layer',
    (kind) => {
      fc.assert(
        fc.property(makeableOf(kind), (spec) => {
          const all = blanks(spec);
          const dxf = readDxf(
            writeDxf(cuttingSheet('Test', all, { material: 'Steel', quantity: 1, hand: '' }, { withText: true })),
          );
          const cut = dxf.polylines.filter((p) => p.layer === 'CUT');
          // what is drilled later is no cut
          const cutHoles = all.flatMap((b) =>
            b.holes.filter((h) => !b.afterBending.includes(h.id) && !(b.lean && h.role === 'stud')),
          );
          const slots = cutHoles.filter((h) => h.slotMm > 0);
          expect(cut).toHaveLength(all.length + slots.length);
          expect(cut.every((p) => p.closed)).toBe(true);
          const round = cutHoles.filter((h) => h.slotMm === 0);
          expect(dxf.circles.filter((c) => c.layer === 'CUT')).toHaveLength(round.length);
          expect(dxf.lines.filter((l) => l.layer === 'BEND')).toHaveLength(all.flatMap((b) => b.bends).length);
          // a cross for each hole that is drilled later
          const later = all.reduce((sum, b) => sum + b.holes.length, 0) - cutHoles.length;
          expect(dxf.lines.filter((l) => l.layer === 'NOTE')).toHaveLength(2 * later);
          expect(dxf.lines.every((l) => l.layer === 'BEND' || l.layer === 'NOTE')).toBe(true);
          // outlines less everything cut out of them: the blanks' own area
          const areas = cut.map((p) => Math.abs(polylineArea(p.vertices))).sort((p, q) => q - p);
          const outlines = all.map((b) => contourAreaMm2(b.outline)).sort((p, q) => q - p);
          const circles = dxf.circles.reduce((sum, c) => sum + Math.PI * c.radius ** 2, 0);
          const total = areas.reduce((sum, a) => sum + a, 0);
          const out = outlines.reduce((sum, a) => sum + a, 0);
          const own = all.reduce(
            (sum, b) => sum + blankAreaMm2({ ...b, holes: b.holes.filter((h) => cutHoles.includes(h)) }),
            0,
          );
          const relative = Math.abs(out - (total - out) - circles - own) / out;
          expect(relative).toBeLessThan(1e-6);
          // words on their own layer, or none at all
          expect(dxf.texts.every((t) => t.layer === 'NOTE')).toBe(true);
          expect(dxf.texts.length).toBeGreaterThan(1);
          expect(
            readDxf(
              writeDxf(cuttingSheet('Test', all, { material: 'Steel', quantity: 1, hand: '' }, { withText: false })),
            ).texts,
          ).toEqual([]);
        }),
        { numRuns: runs(40) },
      );
    },
  );
  it('says so where there is nothing to cut', () => {
    expect(() => cuttingSheet('Test', [], { material: 'Steel', quantity: 1, hand: '' })).toThrow(/nothing to cut/);
  });
});

const job = resolveJob(
  readJob(readFileSync(join(import.meta.dirname, '../../../tests/fixtures/jobs/workboat-hatch.lidjob'), 'utf8')),
);
const common = {
  id: 'x',
  strut: 's1',
  end: 'base' as const,
  thicknessMm: 4,
  baseLegMm: 70,
  baseWidthMm: 60,
  topWidthMm: 40,
  baseCornerRadiusMm: 5,
  topCornerRadiusMm: 8,
  ballOffsetMm: 13,
  material: { name: 'Steel S235JR', densityKgM3: 7850 },
  fixings: [
    { id: 'f1', acrossMm: -17, fromEndMm: 14, diameterMm: 6.6, slotMm: 4, slotDeg: 90 },
    { id: 'f2', acrossMm: 15, fromEndMm: 17, diameterMm: 6.6 },
  ],
};
const bent = { insideRadiusMm: 4, uprightLegMm: 60, studHole: { diameterMm: 8.4, heightMm: 40 } };
const BRACKETS: readonly Bracket[] = [
  { ...common, kind: 'flat-tab', studHole: { diameterMm: 8.4, fromEndMm: 16 } },
  { ...common, kind: 'bent-angle', ...bent },
  { ...common, kind: 'gusset-angle', ...bent, gusset: { thicknessMm: 3, alongMm: 20, upMm: 20, count: 1 } },
  { ...common, kind: 'channel', ...bent, gapMm: 62, topWidthMm: 60 },
  { ...common, kind: 'wedge-plate', studHole: { diameterMm: 8.4, fromEndMm: 16 }, wedge: { tiltDeg: 8 } },
];

describe('drill template of a bracket', () => {
  it.each(BRACKETS.map((b) => [b.kind, b] as const))(
    'has the fixings where the bracket has them, inside its outline: %s',
    (_, bracket) => {
      const template = bracketTemplate(job, bracket);
      const fixings = placedHoles(bracketSpecOf(bracket)).filter((h) => h.role === 'fixing');
      expect(template.holes.map((h) => [...h.centre])).toEqual(fixings.map((h) => [h.centreMm[0], h.centreMm[1]]));
      for (const h of template.holes)
        expect(depthInContourMm(h.centre as Point2, template.outline as Contour)).toBeGreaterThan(h.diameterMm / 2);
      const head = { title: 'T', documentType: 'Drill template', number: '', date: '2026-11-25', creator: '' };
      for (const spec of [template, templateFromBehind(template), templateOfTwin(template, job)])
        for (const sheet of drillTemplate(spec, head, 'A4')) {
          expect(collisions(sheet)).toEqual([]);
          expect(outside(sheet)).toEqual([]);
        }
    },
  );

  it('points to the hinge: a step that way on the mount comes nearer to its axis', () => {
    const template = bracketTemplate(job, BRACKETS[1]!);
    const way = template.directions.find((d) => d.words === 'to the hinge')!.direction;
    // the example's base mount lies level, so up is not in it and forward is
    expect(template.directions.map((d) => d.words)).toEqual(['to the hinge', 'forward']);
    const forward = template.directions.find((d) => d.words === 'forward')!.direction;
    // the hinge lies forward of the strut's base end in the example
    expect(way[0] * forward[0] + way[1] * forward[1]).toBeGreaterThan(0);
  });
});
