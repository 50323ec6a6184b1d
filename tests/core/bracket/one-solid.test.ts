import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type BracketSpec,
  blanks,
  bracketMesh,
  contourPoints,
  type Face,
  foldedVolumeMm3,
  handlesOf,
  linesOf,
  segmentEnd,
  segmentStart,
} from '../../../core/bracket';
import { BRACKET_KINDS } from '../../../core/job';
import { rad } from '../../../core/space';
import { runs } from '../../support/tier';
import { makeableOf } from './samples';

const FACES: readonly Face[] = ['top', 'side', 'front', 'flat'];

/** [left, right, foot, head] of what is seen in a face. */
function boundsOf(spec: BracketSpec, face: Face): readonly number[] {
  const at = linesOf(spec, face)
    .filter((part) => part.role === 'visible')
    .flatMap((part) =>
      part.closed
        ? contourPoints(part.segments, rad(Math.PI / 64))
        : part.segments.flatMap((s) => [segmentStart(s), segmentEnd(s)]),
    );
  const [xs, ys] = [at.map((p) => p[0]), at.map((p) => p[1])];
  return [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
}

describe.each(BRACKET_KINDS)('%s: all that follows from its one description agrees', (kind) => {
  it('mesh, views and blank have the same sizes, and every handle stands where its size ends', () => {
    fc.assert(
      fc.property(makeableOf(kind), (spec) => {
        const { positionsMm } = bracketMesh(spec, 64);
        const span = (k: number): number => {
          const values = [...positionsMm].filter((_, i) => i % 3 === k);
          return Math.max(...values) - Math.min(...values);
        };
        const size = (face: Face, k: 0 | 1): number => {
          const box = boundsOf(spec, face);
          return box[2 * k + 1]! - box[2 * k]!;
        };
        // rounded corners in chords: a sagitta
        const near = 0.005 * (spec.baseWidthMm + spec.topWidthMm);
        for (const [face, k, axis] of [
          ['side', 0, 0],
          ['top', 1, 0],
          ['front', 0, 1],
          ['top', 0, 1],
          ['side', 1, 2],
          ['front', 1, 2],
        ] as const)
          expect(Math.abs(size(face, k) - span(axis)), `${face} ${k}`).toBeLessThan(near);
        const blank = contourPoints(blanks(spec)[0]!.outline, rad(Math.PI / 64)).map((p) => p[1]);
        expect(size('flat', 1)).toBeCloseTo(Math.max(...blank) - Math.min(...blank), 6);
        expect(foldedVolumeMm3(spec)).toBeGreaterThan(0);
        for (const face of FACES) {
          const off = 1e-6;
          const [left, right, foot, head] = boundsOf(spec, face) as [number, number, number, number];
          for (const { id, at, shape, dims } of handlesOf(spec, face)) {
            for (const { from, to, mm } of dims)
              expect(Math.hypot(to[0] - from[0], to[1] - from[1]), id).toBeCloseTo(mm, 9);
            if (shape === 'ball') continue;
            // widths are measured between sharp corners: where those are rounded the mark stands outside what is drawn
            const halfMm = { side: spec.baseWidthMm / 2, 'stud-side': spec.topWidthMm / 2 }[id];
            if (halfMm !== undefined) {
              expect(at[0], `${face} ${id}`).toBeCloseTo(halfMm, 9);
              continue;
            }
            expect(at[0] >= left - off && at[0] <= right + off, `${face} ${id} across`).toBe(true);
            expect(at[1] >= foot - off && at[1] <= head + off, `${face} ${id} up`).toBe(true);
          }
        }
      }),
      { numRuns: runs(1000, 15) },
    );
  });
});
