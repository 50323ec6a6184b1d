import { rad, toRad } from '../space';
import {
  bendTakesMm,
  bodyLayout,
  bodyOutline,
  baseIndex,
  baseOutline,
  foldedFront,
  holesOf,
  isBent,
  originFromEndMm,
  platesOf,
} from './body';
import { requireMakeable } from './check';
import { contourPoints, movedContour, type Segment } from './contour';
import { foldedProfile } from './folded';
import type { BracketSpec } from './types';
import { box, holeLines, line, lines, loop, reachMm, type ViewDirection, type ViewLines } from './view-lines';
import { leaningLines } from './views-leaning';

function plateLines(spec: BracketSpec, direction: ViewDirection): ViewLines[] {
  const t = spec.thicknessMm;
  return platesOf(spec).flatMap(({ id, outline, thicknessMm, acrossMm }) => {
    // from the side they stand in the open angle: seen whole, all behind one another
    if (direction === 'side') return [loop('visible', id, movedContour(outline, { move: [t, t] }))];
    const corners = contourPoints(outline, rad(Math.PI));
    const long = Math.max(...corners.map((p) => p[direction === 'top' ? 0 : 1]));
    return acrossMm.map((across) => {
      const from = across - spec.studHole.acrossMm - thicknessMm / 2;
      return loop(direction === 'top' ? 'visible' : 'hidden', id, box(from, t, from + thicknessMm, t + long));
    });
  });
}

function bentLines(spec: BracketSpec, direction: ViewDirection): ViewLines[] {
  const { thicknessMm: t, baseLegMm: a } = spec;
  const middle = -spec.studHole.acrossMm;
  const [half, topHalf] = [spec.baseWidthMm / 2, spec.topWidthMm / 2];
  const takes = bendTakesMm(spec);
  const across = (up: number, wide: number): Segment => line([middle - wide, up], [middle + wide, up]);
  if (direction === 'side') return [loop('visible', 'body', movedContour(foldedProfile(spec), { mirror: true }))];
  const front = foldedFront(spec);
  if (direction === 'front')
    return [
      loop('visible', 'body', movedContour(front, { move: [middle, 0] })),
      lines('bend', 'body', across(takes, half)),
      lines('hidden', 'body', across(t, half)),
      lines('centre', 'body', line([middle, 0], [middle, spec.uprightLegMm])),
    ];
  // a top wider than the bend is widest where its corners begin to round
  const widest = reachMm(front, toRad(1));
  const uprightAt = (from: number): ViewLines[] => {
    const found = [lines('visible', 'body', across(from === 0 ? t : from, widest))];
    if (widest > half + 1e-9)
      found.push(loop('visible', 'body', box(middle - widest, from, middle + widest, from + t)));
    // sharp corners of the upright show as short edges on its top
    else if (topHalf < half - 1e-9 && spec.topCornerRadiusMm === 0)
      for (const y of [middle - topHalf, middle + topHalf])
        found.push(lines('visible', 'body', line([y, from], [y, from + t])));
    return found;
  };
  const far = baseIndex(spec) > 0;
  return [
    loop('visible', 'body', movedContour(baseOutline(spec), { move: [middle, 0] })),
    ...uprightAt(0),
    ...(far ? uprightAt(a - t) : []),
    lines('bend', 'body', across(takes, half)),
    ...(far ? [lines('bend', 'body', across(a - takes, half))] : []),
    lines('centre', 'body', line([middle, 0], [middle, a])),
  ];
}

function flatLines(spec: BracketSpec, direction: ViewDirection): ViewLines[] {
  const middle = -spec.studHole.acrossMm;
  const from = originFromEndMm(spec);
  const { thicknessMm: t, baseLegMm: a } = spec;
  if (direction === 'side') return [loop('visible', 'body', box(from - a, 0, from, t))];
  const outline = bodyOutline(spec, bodyLayout(spec));
  if (direction === 'top')
    return [
      // the blank's axes are −y and x; the view's right is y and its up is −x
      loop('visible', 'body', movedContour(outline, { turnRad: rad(Math.PI), move: [middle, from] })),
      lines('centre', 'body', line([middle, from - a], [middle, from])),
    ];
  const wide = reachMm(outline, rad(Math.PI / 90));
  const topHalf = spec.topWidthMm / 2;
  const corners = topHalf < wide - 1e-9 && spec.topCornerRadiusMm === 0 ? [middle - topHalf, middle + topHalf] : [];
  return [
    loop('visible', 'body', box(middle - wide, 0, middle + wide, t)),
    lines('centre', 'body', line([middle, 0], [middle, t])),
    ...(corners.length > 0 ? [lines('visible', 'body', ...corners.map((y) => line([y, 0], [y, t])))] : []),
  ];
}

/**
 * What is seen of the finished bracket from one side: outlines, edges, holes and centre lines in the bracket frame. First the body, then plates, then
 * holes. Throws a LidwrightError when the bracket cannot be made.
 */
export function viewOf(spec: BracketSpec, direction: ViewDirection): ViewLines[] {
  requireMakeable(spec);
  const holes = holesOf(spec);
  if (spec.wedge) return leaningLines(spec, direction, holes);
  return [
    ...(isBent(spec) ? bentLines : flatLines)(spec, direction),
    ...plateLines(spec, direction),
    // from the front both holes of a pin lie one behind the other: the near one is drawn
    ...holes.filter((h) => direction !== 'front' || h.id !== 'pin-far').flatMap((hole) => holeLines(hole, direction)),
  ];
}
