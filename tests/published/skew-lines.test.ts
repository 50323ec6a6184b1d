// Distances between lines in space: NCERT, Mathematics, Textbook for Class XII, part II, ch. 11 "Three Dimensional Geometry" (an
// open textbook; figures from memory, each agrees with |(a₂ − a₁)·(b₁ × b₂)|/|b₁ × b₂|). Pieces long enough to hold the feet.
import { describe, expect, it } from 'vitest';
import { segmentToSegment } from '../../core/solid';
import type { Vec3 } from '../../core/space';
import { expectClose, within } from '../support/close';

const along = (p: Vec3, d: Vec3, t: number): Vec3 => [p[0] + t * d[0], p[1] + t * d[1], p[2] + t * d[2]];
const piece = (p: Vec3, d: Vec3) => ({ p: along(p, d, -30), q: along(p, d, 30) });

describe('shortest distance between two lines', () => {
  it.each<[string, Vec3, Vec3, Vec3, Vec3, number]>([
    ['example, 10/√59', [1, 1, 0], [2, -1, 1], [2, 1, -1], [3, -5, 2], 10 / Math.sqrt(59)],
    ['example, parallel, √293/7', [1, 2, -4], [2, 3, 6], [3, 3, -5], [2, 3, 6], Math.sqrt(293) / 7],
    ['exercise 11.2, 3√2/2', [1, 2, 1], [1, -1, 1], [2, -1, -1], [2, 1, 2], 1.5 * Math.SQRT2],
    ['exercise 11.2, 2√29', [-1, -1, -1], [7, -6, 1], [3, 5, 7], [1, -2, 1], 2 * Math.sqrt(29)],
    ['exercise 11.2, 3/√19', [1, 2, 3], [1, -3, 2], [4, 5, 6], [2, 3, 1], 3 / Math.sqrt(19)],
  ])('%s', (_, p, d, q, e, distance) => {
    const gap = segmentToSegment(piece(p, d), piece(q, e));
    expectClose(gap.distanceMm, distance, within(1e-9, 'unit'));
    expect(Math.hypot(...gap.here.map((v, i) => v - gap.there[i]!))).toBeCloseTo(distance, 9);
  });
});
