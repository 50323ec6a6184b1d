/*
 * Where 0 lies in a face, mm. Across 0 is the bracket's centre line. From above, 0 up the sheet is the stud's end of a plate, or the outer face of the
 * upright; from the side 0 along is the same; heights begin on the mount. The blank begins at the free end of the base leg, a channel's where its base
 * leg would end were it drawn on straight. The centre line and
 * that end are what stays while holes are dragged: the bracket's own frame lies under the stud and would go with it.
 */
import { rad } from '../space';
import { blanks } from './blanks';
import { ballAt, bodyLayout, isBent, stemOfBracket } from './body';
import { contourPoints, holeContour, movedContour, type Point2, type Segment } from './contour';
import type { BlankBend, BracketSpec } from './types';
import { inView, line, lines, loop, type ViewDirection, type ViewLines } from './view-lines';
import { viewOf } from './views';

/** What of the bracket is looked at: one of its views, or its blank before it is bent. */
export type Face = ViewDirection | 'flat';

/** From the bracket frame's view to the face, mm. */
function shiftOf(spec: BracketSpec, face: Face): Point2 {
  const { acrossMm, fromEndMm } = spec.studHole;
  const along = isBent(spec) ? 0 : fromEndMm;
  if (face === 'front') return [acrossMm, 0];
  if (face === 'side') return [along, 0];
  return face === 'top' ? [acrossMm, along] : [0, -bodyLayout(spec).baseEndMm];
}

function bendLines({ id, from, to, allowanceMm }: BlankBend): ViewLines[] {
  const beside = (k: number): Segment => line([from[0], from[1] + k], [to[0], to[1] + k]);
  return [lines('bend', id, beside(allowanceMm / 2), beside(-allowanceMm / 2)), lines('centre', id, beside(0))];
}

/** The blank as cut, with its bend lines. */
function blankLines(spec: BracketSpec): ViewLines[] {
  const body = blanks(spec)[0]!;
  return [
    loop('visible', 'body', body.outline),
    ...body.bends.flatMap(bendLines),
    ...body.holes.map((h) => loop('visible', h.id, holeContour(h))),
  ];
}

/** What is seen of a bracket in a face, mm. Throws a LidwrightError when the bracket can't be made. */
export function linesOf(spec: BracketSpec, face: Face): ViewLines[] {
  const move = shiftOf(spec, face);
  return (face === 'flat' ? blankLines(spec) : viewOf(spec, face)).map((part) => ({
    ...part,
    segments: movedContour(part.segments, { move }),
  }));
}

/** The ball's centre and the stem's way in a face, mm; null in the blank. */
export function ballOf(spec: BracketSpec, face: Face): { readonly at: Point2; readonly stem: Point2 } | null {
  if (face === 'flat') return null;
  const [x, y] = inView(face, ballAt(spec));
  const [dx, dy] = shiftOf(spec, face);
  return { at: [x + dx, y + dy], stem: inView(face, stemOfBracket(spec)) };
}

/** The end that lies far from 0 in a face, for drags that hold it still. */
export function farEnd(spec: BracketSpec, face: Face): Point2 {
  if (face === 'top') return [0, spec.baseLegMm];
  if (face === 'side') return [spec.baseLegMm, 0];
  return face === 'flat' ? [0, bodyLayout(spec).lengthMm - bodyLayout(spec).baseEndMm] : [0, 0];
}

/** Corners of the box round lines, mm: [left, foot, right, head]. */
export function boxOf(
  lines: readonly ViewLines[],
  more: readonly Point2[],
): readonly [number, number, number, number] | null {
  const points = [...more, ...lines.flatMap((part) => contourPoints(part.segments, rad(0.3)))];
  if (points.length === 0) return null;
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}
