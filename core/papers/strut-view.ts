import type { Spec } from '../job';
import { boxMark, circleMark, crossMarks, type Mark, type Part, type Point } from '../drawing';

/** A strut on its side with its lengths: extended above, compressed below, tube ends in line. Height it takes, mm. */
export const STRUT_VIEW_HEIGHT_MM = 47;

const BALL_MM = 2.1;
const box = (left: number, right: number, middle: number, half: number): Mark =>
  boxMark('visible', { left, bottom: middle - half, right, top: middle + half });

/** One strut between its centres at `x` and `x + length`, tube left, rod right. */
function strutMarks(
  x: number,
  y: number,
  length: number,
  tubeLength: number,
  rodHalf: number,
  tubeHalf: number,
): Mark[] {
  const marks: Mark[] = [
    box(x + 7, x + tubeLength, y, tubeHalf),
    box(x + tubeLength, x + length - 7, y, rodHalf),
    // end fittings as they are mostly shown: a shank and the ball or pin
    box(x + BALL_MM + 0.9, x + 7, y, 1.6),
    box(x + length - 7, x + length - BALL_MM - 0.9, y, 1.6),
  ];
  for (const at of [x, x + length])
    marks.push(circleMark('visible', [at, y], BALL_MM + 0.9), ...crossMarks('centre', [at, y], 4.5));
  return marks;
}

/** The strut's picture, its upper left corner at `topLeft`, no wider than `widthMm`. Lengths to one scale, thicknesses not. */
export function strutView(spec: Spec, topLeft: Point, widthMm: number): Part {
  const k = (widthMm - 24) / spec.extendedMm;
  const [x, top] = [topLeft[0] + 12, topLeft[1]];
  const upper = top - 15.5;
  const lower = top - 29;
  const extended = spec.extendedMm * k;
  const compressed = (spec.extendedMm - spec.strokeMm) * k;
  // the tube ends just short of the rod's fitting when pushed in
  const tube = Math.max(compressed - 9, 9);
  const tubeHalf = 4.2;
  const rodHalf = Math.max(1, (tubeHalf * spec.rodMm) / spec.tubeMm);
  const size = (id: string, from: Point, to: Point, level: number, gapsMm: [number, number], after = ''): Mark => ({
    kind: 'dimension',
    id,
    measured: { of: 'distance', from, to, along: [1, 0] },
    scale: k,
    before: '',
    after,
    decimals: 1,
    layout: { style: 'linear', through: [x, level], gapsMm, outside: 'end' },
  });
  const marks: Mark[] = [
    ...strutMarks(x, upper, extended, tube, rodHalf, tubeHalf),
    ...strutMarks(x, lower, compressed, tube, rodHalf, tubeHalf),
    size('extended-length', [x, upper], [x + extended, upper], upper + 9, [5, 5], ' between centres'),
    size('compressed-length', [x, lower], [x + compressed, lower], lower - 10, [5, 5], ' compressed'),
    size('stroke', [x + compressed, lower], [x + extended, upper], lower - 10, [5, 5], ' stroke'),
  ];
  return { name: 'strut-view', marks };
}
