import { requireMakeable } from './check';
import {
  type Contour,
  contourPoints,
  holeContour,
  movedContour,
  type Point2,
  roundedPolygon,
  type Segment,
} from './contour';
import { gussetOutline } from './cuts';
import { foldedFront, foldedProfile } from './folded';
import { placedHoles } from './holes';
import type { BracketSpec, PlacedHole } from './kinds';
import { bendTakesMm, bodyLayout, bodyOutline } from './layout';
import { isBent } from './spec';
import { originFromEndMm } from './stem';
import { wedgeLines } from './views-wedge';

/**
 * front: from +x (what stands out of the upright), right is +y, up is z. side: from +y, right is −x, up is z. top: from +z, right is +y, up is −x.
 */
export type ViewDirection = 'front' | 'side' | 'top';

/** visible: wide; hidden: dashed; centre: chain line, without overrun; bend: where flat goes over into round, narrow. */
export type ViewRole = 'visible' | 'hidden' | 'centre' | 'bend';

/** Lines of a view, mm, in the view's own [right, up] of the bracket frame. `of` says what they show: "body", "gusset", or a hole's id. */
export interface ViewLines {
  readonly role: ViewRole;
  readonly of: string;
  readonly closed: boolean;
  readonly segments: readonly Segment[];
}

/** A straight piece of a view, mm. */
export const line = (from: Point2, to: Point2): Segment => ({ kind: 'line', from, to });

/** Loose pieces of one role. `of`: see ViewLines. */
export const lines = (role: ViewRole, of: string, ...segments: Segment[]): ViewLines => ({
  ...{ role, of, segments },
  closed: false,
});

/** A closed run of one role. `of`: see ViewLines. */
export const loop = (role: ViewRole, of: string, segments: Contour): ViewLines => ({
  role,
  of,
  segments,
  closed: true,
});

const box = (x0: number, y0: number, x1: number, y1: number): Contour =>
  roundedPolygon(
    [
      [Math.min(x0, x1), Math.min(y0, y1)],
      [Math.max(x0, x1), Math.min(y0, y1)],
      [Math.max(x0, x1), Math.max(y0, y1)],
      [Math.min(x0, x1), Math.max(y0, y1)],
    ].map(([x, y]) => ({ at: [x!, y!], radiusMm: 0 })),
  );

/** A place of the bracket frame in a view. */
export function inView(direction: ViewDirection, [x, y, z]: readonly [number, number, number]): Point2 {
  if (direction === 'front') return [y, z];
  return direction === 'side' ? [0 - x, z] : [y, 0 - x];
}

const AXES: Readonly<Record<ViewDirection, number>> = { front: 0, side: 1, top: 2 };

/** One hole square to an axis of the frame: round where it is looked into, two hidden lines and a centre line from the side. */
function holeLines(hole: PlacedHole, direction: ViewDirection): ViewLines[] {
  const way = hole.axis.findIndex((k) => Math.abs(Math.abs(k) - 1) < 1e-9);
  if (way < 0) return [];
  const { centreMm, axis, thicknessMm, diameterMm, slotMm, slotAxis } = hole;
  // fixings are placed on the mount and go up; studs on the face of the ball and go down into the plate
  const sign = hole.role === 'fixing' ? 1 : -1;
  const far = centreMm.map((c, i) => c + sign * axis[i]! * thicknessMm) as unknown as [number, number, number];
  const [a, b] = [inView(direction, centreMm), inView(direction, far)];
  const along = inView(direction, slotAxis);
  const half = (Math.hypot(along[0], along[1]) * slotMm) / 2;
  const r = diameterMm / 2;
  if (way === AXES[direction]) {
    const slotRad = slotMm > 0 ? Math.atan2(along[1], along[0]) : 0;
    const reach = r + half;
    return [
      loop('visible', hole.id, holeContour({ centre: a, diameterMm, slotMm, slotRad })),
      lines(
        'centre',
        hole.id,
        line(
          [a[0] - reach * Math.cos(slotRad), a[1] - reach * Math.sin(slotRad)],
          [a[0] + reach * Math.cos(slotRad), a[1] + reach * Math.sin(slotRad)],
        ),
        line(
          [a[0] + r * Math.sin(slotRad), a[1] - r * Math.cos(slotRad)],
          [a[0] - r * Math.sin(slotRad), a[1] + r * Math.cos(slotRad)],
        ),
      ),
    ];
  }
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const [nx, ny] = [-(b[1] - a[1]) / long, (b[0] - a[0]) / long];
  // a slot reaches as far as its direction shows in this view
  const w = r + (Math.abs(along[0] * nx + along[1] * ny) * slotMm) / 2;
  const beside = (p: Point2, k: number): Point2 => [p[0] + k * nx, p[1] + k * ny];
  return [
    lines('hidden', hole.id, line(beside(a, w), beside(b, w)), line(beside(a, -w), beside(b, -w))),
    lines('centre', hole.id, line(a, b)),
  ];
}

function gussetLines(spec: BracketSpec, direction: ViewDirection): ViewLines[] {
  const g = spec.gusset;
  if (!g) return [];
  const t = spec.thicknessMm;
  // from the side it stands in the open angle: seen whole, both behind one another
  if (direction === 'side') return [loop('visible', 'gusset', movedContour(gussetOutline(spec), { move: [t, t] }))];
  const places = (g.count === 1 ? [0] : [-g.acrossMm, g.acrossMm]).map((a) => a - spec.studHole.acrossMm);
  return places.map((y) => {
    const [from, to] = [y - g.thicknessMm / 2, y + g.thicknessMm / 2];
    return direction === 'front'
      ? loop('hidden', 'gusset', box(from, t, to, t + g.upMm))
      : loop('visible', 'gusset', box(from, t, to, t + g.alongMm));
  });
}

function bentLines(spec: BracketSpec, direction: ViewDirection): ViewLines[] {
  const { thicknessMm: t, baseLegMm: a } = spec;
  const middle = -spec.studHole.acrossMm;
  const [half, topHalf] = [spec.baseWidthMm / 2, spec.topWidthMm / 2];
  const takes = bendTakesMm(spec);
  const channel = spec.kind === 'channel';
  const across = (up: number, wide: number): Segment => line([middle - wide, up], [middle + wide, up]);
  if (direction === 'side') return [loop('visible', 'body', movedContour(foldedProfile(spec), { mirror: true }))];
  if (direction === 'front')
    return [
      loop('visible', 'body', movedContour(foldedFront(spec), { move: [middle, 0] })),
      lines('bend', 'body', across(takes, half)),
      lines('hidden', 'body', across(t, half)),
      lines('centre', 'body', line([middle, 0], [middle, spec.uprightLegMm])),
    ];
  // a top wider than the bend is widest where its corners begin to round
  const widest = Math.max(...contourPoints(foldedFront(spec), Math.PI / 180).map(([y]) => y));
  const end = channel ? 0 : spec.baseCornerRadiusMm;
  const base = roundedPolygon([
    { at: [middle - half, 0], radiusMm: 0 },
    { at: [middle + half, 0], radiusMm: 0 },
    { at: [middle + half, a], radiusMm: end },
    { at: [middle - half, a], radiusMm: end },
  ]);
  const upright = (from: number): ViewLines[] => {
    const found = [lines('visible', 'body', across(from === 0 ? t : from, widest))];
    if (widest > half + 1e-9)
      found.push(loop('visible', 'body', box(middle - widest, from, middle + widest, from + t)));
    // sharp corners of the upright show as short edges on its top
    else if (topHalf < half - 1e-9 && spec.topCornerRadiusMm === 0)
      for (const y of [middle - topHalf, middle + topHalf])
        found.push(lines('visible', 'body', line([y, from], [y, from + t])));
    return found;
  };
  return [
    loop('visible', 'body', base),
    ...upright(0),
    ...(channel ? upright(a - t) : []),
    lines('bend', 'body', across(takes, half)),
    ...(channel ? [lines('bend', 'body', across(a - takes, half))] : []),
    lines('centre', 'body', line([middle, 0], [middle, a])),
  ];
}

function flatLines(spec: BracketSpec, direction: ViewDirection): ViewLines[] {
  const middle = -spec.studHole.acrossMm;
  const from = originFromEndMm(spec);
  const { thicknessMm: t, baseLegMm: a } = spec;
  const outline = bodyOutline(spec, bodyLayout(spec));
  // the blank's axes are −y and x; the view's right is y and its up is −x
  const plan = movedContour(outline, { turnRad: Math.PI, move: [middle, from] });
  if (direction === 'top')
    return [loop('visible', 'body', plan), lines('centre', 'body', line([middle, from - a], [middle, from]))];
  if (direction === 'side') return [loop('visible', 'body', box(from - a, 0, from, t))];
  const wide = Math.max(...contourPoints(plan, Math.PI / 90).map(([y]) => Math.abs(y - middle)));
  const found = [
    loop('visible', 'body', box(middle - wide, 0, middle + wide, t)),
    lines('centre', 'body', line([middle, 0], [middle, t])),
  ];
  const topHalf = spec.topWidthMm / 2;
  if (topHalf < wide - 1e-9 && spec.topCornerRadiusMm === 0)
    found.push(
      lines('visible', 'body', ...[middle - topHalf, middle + topHalf].map((y): Segment => line([y, 0], [y, t]))),
    );
  return found;
}

/**
 * What is seen of the finished bracket from one side: outlines, edges, holes and centre lines in the bracket frame. First the body, then gussets, then
 * holes. Throws a LidwrightError when the bracket cannot be made.
 */
export function viewOf(spec: BracketSpec, direction: ViewDirection): ViewLines[] {
  requireMakeable(spec);
  const holes = placedHoles(spec);
  if (spec.wedge) return wedgeLines(spec, direction, holes, holeLines);
  const body = isBent(spec) ? bentLines(spec, direction) : flatLines(spec, direction);
  const seen = (hole: PlacedHole): boolean => (direction === 'front' ? hole.id !== 'pin-far' : true);
  return [
    ...body,
    ...gussetLines(spec, direction),
    // from the front both holes of a pin lie one behind the other: the near one is drawn
    ...holes.filter(seen).flatMap((hole) => holeLines(hole, direction)),
  ];
}
