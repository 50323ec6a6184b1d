import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ballAt, blanks, type BracketSpec, contourAreaMm2, mirroredSpec, placedHoles } from '../../../core/bracket';
import { boundsOf, type Sheet, writeDxf } from '../../../core/drawing';
import { BRACKET_KINDS } from '../../../core/job';
import { LidwrightError } from '../../../core/error';
import { bracketDrawing } from '../../../core/papers';
import type { Vec3 } from '../../../core/space';
import { runs } from '../../support/tier';
import { makeableOf } from '../bracket/samples';
import { hatchBracket } from '../../../core/bracket/examples';
import { readDxf } from '../drawing/dxf-read';
import { printedPart } from './printed-part';

const info = { title: 'Bracket', number: 'N-18', creator: 'C', approver: 'D', owner: 'O', date: '2026-11-25' };
const WITHIN_MM = 0.05;

/** The sheet, or null for a bracket that finds no room on A3. */
function drawn(spec: BracketSpec): Sheet | null {
  try {
    return bracketDrawing(spec, info, { paper: 'A3', projection: 'third' });
  } catch (error) {
    if (error instanceof LidwrightError && error.issues[0]?.where[0] === 'paper') return null;
    throw error;
  }
}

const apart = (a: Vec3, b: Vec3): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
const turned = ([x, y, z]: Vec3, twin: boolean): Vec3 => [x, twin ? -y : y, z];

/** Whether `made` is `spec`, or its mirror image, in every hole, its ball and its blanks. */
function expectSame(made: BracketSpec, spec: BracketSpec, twin: boolean): void {
  const holes = placedHoles(spec);
  const own = placedHoles(made);
  expect(own).toHaveLength(holes.length);
  for (const hole of holes) {
    const at = turned(hole.centreMm, twin);
    const match = own
      .filter((h) => h.role === hole.role && Math.abs(h.diameterMm - hole.diameterMm) < WITHIN_MM)
      .filter((h) => Math.abs(h.slotMm - hole.slotMm) < WITHIN_MM)
      .find((h) => apart(h.centreMm, at) < WITHIN_MM);
    expect(match, `a ${hole.role} hole at ${at.map((v) => v.toFixed(2)).join(', ')}`).toBeDefined();
    if (hole.slotMm > 0) {
      const along = turned(hole.slotAxis, twin);
      const cosine = Math.abs(along.reduce((sum, v, i) => sum + v * match!.slotAxis[i]!, 0));
      // the slot's end is off by no more than the printed tenth of a degree makes it
      expect(Math.sqrt(Math.max(0, 1 - cosine * cosine)) * (hole.slotMm / 2)).toBeLessThan(WITHIN_MM);
    }
  }
  expect(apart(ballAt(made), turned(ballAt(spec), twin))).toBeLessThan(WITHIN_MM);
  const [a, b] = [blanks(made), blanks(spec)];
  expect(a.length).toBe(b.length);
  a.forEach((blank, i) => {
    const other = b[i]!;
    expect(blank.quantity).toBe(other.quantity);
    expect(Math.abs(blank.thicknessMm - other.thicknessMm)).toBeLessThan(WITHIN_MM);
    const box = (o: typeof other.outline) => boundsOf([{ kind: 'path', role: 'visible', closed: true, segments: o }]);
    const [p, q] = [box(blank.outline), box(other.outline)];
    for (const side of ['left', 'right', 'top', 'bottom'] as const)
      expect(Math.abs(p[side] - q[side]), `the ${side} of the blank ${blank.id}`).toBeLessThan(WITHIN_MM);
    expect(contourAreaMm2(blank.outline) / contourAreaMm2(other.outline)).toBeCloseTo(1, 3);
  });
}

describe.each(BRACKET_KINDS)('a %s made from the printed numbers alone', (kind) => {
  it('is the job’s bracket within 0.05 mm, and its other hand the mirror image', () => {
    let read = 0;
    fc.assert(
      fc.property(makeableOf(kind), (spec) => {
        for (const hand of [spec, mirroredSpec(spec)]) {
          const sheet = drawn(hand);
          if (!sheet) continue;
          read++;
          expectSame(printedPart(sheet, kind), spec, hand !== spec);
        }
      }),
      { numRuns: runs(40) },
    );
    expect(read).toBeGreaterThan(0);
  });
});

describe('the drawing’s own DXF', () => {
  it('holds the part at true size, whatever the scale of the sheet', () => {
    const sheet = bracketDrawing(hatchBracket, info, { paper: 'A4', projection: 'first' });
    expect(sheet.realPerPaper).toBe(2);
    const dxf = readDxf(writeDxf(sheet));
    const wide = (p: (typeof dxf.polylines)[number]): number =>
      Math.max(...p.vertices.map((v) => v.at[0])) - Math.min(...p.vertices.map((v) => v.at[0]));
    const outlines = dxf.polylines.filter((p) => p.layer === 'EDGES' && p.closed).map(wide);
    expect(outlines.some((w) => Math.abs(w - hatchBracket.baseWidthMm) < 1e-6)).toBe(true);
    expect(dxf.circles.some((c) => Math.abs(2 * c.radius - hatchBracket.studHole.diameterMm) < 1e-6)).toBe(true);
    expect(dxf.header).toMatchObject({ $LTSCALE: 2 });
  });
});
