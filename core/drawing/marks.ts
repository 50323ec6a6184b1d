import type { Box } from './geometry';
import type { CircleMark, LineMark, LineRole, PathMark, PathSegment, Point } from './model';

/** A straight line; mm on the sheet, as in all of these. */
export const lineMark = (role: LineRole, from: Point, to: Point): LineMark => ({ kind: 'line', role, from, to });

/** A whole circle. */
export const circleMark = (role: LineRole, centre: Point, radiusMm: number): CircleMark => ({
  kind: 'circle',
  role,
  centre,
  radiusMm,
});

/** Straight pieces from each point to the next, and from the last to the first. */
export const sidesOf = (points: readonly Point[]): Extract<PathSegment, { kind: 'line' }>[] =>
  points.map((from, i) => ({ kind: 'line', from, to: points[(i + 1) % points.length]! }));

/** Straight from point to point and back to the first. */
export const polygonMark = (role: LineRole, points: readonly Point[]): PathMark => ({
  kind: 'path',
  role,
  closed: true,
  segments: sidesOf(points),
});

/** From point to point, left open. */
export const polylineMark = (role: LineRole, points: readonly Point[]): PathMark => ({
  kind: 'path',
  role,
  closed: false,
  segments: sidesOf(points).slice(0, -1),
});

/** A rectangle along the sheet’s axes. */
export const boxMark = (role: LineRole, { left, bottom, right, top }: Box): PathMark =>
  polygonMark(role, [
    [left, bottom],
    [right, bottom],
    [right, top],
    [left, top],
  ]);

/** A level and an upright line through a point, each reaching this far from it. */
export const crossMarks = (role: LineRole, [x, y]: Point, reachMm: number): LineMark[] => [
  lineMark(role, [x - reachMm, y], [x + reachMm, y]),
  lineMark(role, [x, y - reachMm], [x, y + reachMm]),
];
