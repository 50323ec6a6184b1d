import { type Rad, atan2, cos, rad, sin } from '../space';
import { contourPoints, type Contour, holeContour, type Point2, roundedPolygon, type Segment } from './contour';
import type { PlacedHole } from './types';

/**
 * front: from +x (what stands out of the upright), right is +y, up is z. side: from +y, right is −x, up is z. top: from +z, right is +y, up is −x.
 */
export type ViewDirection = 'front' | 'side' | 'top';

/** visible: wide; hidden: dashed; centre: chain line, without overrun; bend: where flat goes over into round, narrow. */
export type ViewRole = 'visible' | 'hidden' | 'centre' | 'bend';

/** Lines of a view, mm, in the view's own [right, up] of the bracket frame. `of` says what they show: "body", a plate's or a hole's id. */
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
  ...{ role, of, segments },
  closed: true,
});

/** A box between two opposite corners, the lower left one first. */
export const box = (x0: number, y0: number, x1: number, y1: number): Contour =>
  roundedPolygon(
    (
      [
        [x0, y0],
        [x1, y0],
        [x1, y1],
        [x0, y1],
      ] as const
    ).map((at) => ({ at, radiusMm: 0 })),
  );

/** How far a contour that is even about its second axis reaches from it, mm; arcs in steps. */
export const reachMm = (contour: Contour, stepRad: Rad): number =>
  Math.max(...contourPoints(contour, stepRad).map(([x]) => x));

/** A place of the bracket frame in a view. */
export function inView(direction: ViewDirection, [x, y, z]: readonly [number, number, number]): Point2 {
  if (direction === 'front') return [y, z];
  return direction === 'side' ? [0 - x, z] : [y, 0 - x];
}

const AXES: Readonly<Record<ViewDirection, number>> = { front: 0, side: 1, top: 2 };

/** One hole square to an axis of the frame: round where it is looked into, two hidden lines and a centre line from the side. */
export function holeLines(hole: PlacedHole, direction: ViewDirection): ViewLines[] {
  const way = hole.axis.findIndex((k) => Math.abs(Math.abs(k) - 1) < 1e-9);
  if (way < 0) return [];
  const { id, centreMm, axis, thicknessMm, diameterMm, slotMm, slotAxis } = hole;
  const r = diameterMm / 2;
  const centre = inView(direction, centreMm);
  const along = inView(direction, slotAxis);
  const from = (p: Point2, by: number, way: Point2): Point2 => [p[0] + by * way[0], p[1] + by * way[1]];
  if (way === AXES[direction]) {
    const slotRad = slotMm > 0 ? atan2(along[1], along[0]) : rad(0);
    const reach = r + (Math.hypot(along[0], along[1]) * slotMm) / 2;
    const ahead: Point2 = [cos(slotRad), sin(slotRad)];
    const aside: Point2 = [-ahead[1], ahead[0]];
    return [
      loop('visible', id, holeContour({ centre, diameterMm, slotMm, slotRad })),
      lines(
        'centre',
        id,
        line(from(centre, -reach, ahead), from(centre, reach, ahead)),
        line(from(centre, -r, aside), from(centre, r, aside)),
      ),
    ];
  }
  // fixings are placed on the mount and go up; studs on the face of the ball and go down into the plate
  const deep = hole.role === 'fixing' ? thicknessMm : -thicknessMm;
  const far = from(centre, deep, inView(direction, axis));
  const long = Math.hypot(far[0] - centre[0], far[1] - centre[1]);
  const aside: Point2 = [-(far[1] - centre[1]) / long, (far[0] - centre[0]) / long];
  // a slot reaches as far as its direction shows in this view
  const w = r + (Math.abs(along[0] * aside[0] + along[1] * aside[1]) * slotMm) / 2;
  return [
    lines('hidden', id, ...[w, -w].map((k) => line(from(centre, k, aside), from(far, k, aside)))),
    lines('centre', id, line(centre, far)),
  ];
}
