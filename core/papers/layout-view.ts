import {
  circleMark,
  crossMarks,
  lineMark,
  type LineRole,
  type Mark,
  type Point,
  polygonMark,
  polylineMark,
} from '../drawing';
import { type Vec3, dot } from '../space';
import type { LayoutScene, LayoutStrut } from './layout-scene';

/** Which two axes a view shows, to the right (`way` −1: against the axis) and up, and where the eye looks, unit. */
export interface ViewAxes {
  readonly name: 'side' | 'top' | 'end';
  readonly title: string;
  readonly right: 0 | 1 | 2;
  readonly way: 1 | -1;
  readonly up: 0 | 1 | 2;
  readonly into: Vec3;
}
/** Seen from the right of the lid: X to the right, Z up. */
export const SIDE: ViewAxes = { name: 'side', title: 'Side view', right: 0, way: 1, up: 2, into: [0, 1, 0] };
/** From above: X to the right, Y up. */
export const TOP: ViewAxes = { name: 'top', title: 'Top view', right: 0, way: 1, up: 1, into: [0, 0, -1] };
/** From behind: Y to the left, Z up. */
export const END: ViewAxes = { name: 'end', title: 'From behind', right: 1, way: -1, up: 2, into: [1, 0, 0] };

/** The main view that looks along the hinge most nearly: what turns with the lid shows truest there. */
export const endOnAxes = (scene: LayoutScene): ViewAxes =>
  [SIDE, END, TOP].reduce((p, q) =>
    Math.abs(dot(q.into, scene.openingAxis)) > Math.abs(dot(p.into, scene.openingAxis)) + 1e-9 ? q : p,
  );

export const PIVOT_MM = 1.3;
export const HINGE_MM = 2;
const TRACE_PIECES = 24;

/** Base point of the view on paper: where the datum would be, and paper mm for one real mm. */
export interface ViewPlace {
  readonly axes: ViewAxes;
  readonly zero: Point;
  readonly scale: number;
}

/** Where a place in mm from the datum lies on paper. */
export const onPaper = ({ axes, zero, scale }: ViewPlace, p: Vec3): Point => [
  zero[0] + axes.way * p[axes.right] * scale,
  zero[1] + p[axes.up] * scale,
];

/** Nearer than this to one line a polygon is seen from its edge, paper mm: thinner than a stroke. */
const EDGE_ON_MM = 0.2;

/** A polygon through these places, those that lie on one another taken once; a line where it is seen from its edge, for dashes drawn there and back close up. */
export const lidPolygon = (points: readonly Point[], role: LineRole): Mark[] => {
  const apart = points.filter((p, i) => {
    const before = points[(i + points.length - 1) % points.length]!;
    return points.length === 1 || Math.hypot(p[0] - before[0], p[1] - before[1]) > 1e-6;
  });
  if (apart.length < 2) return [];
  const off = (p: Point, q: Point): number => Math.hypot(q[0] - p[0], q[1] - p[1]);
  const furthest = (from: Point): Point => apart.reduce((far, p) => (off(from, p) > off(from, far) ? p : far));
  const a = furthest(apart[0]!);
  const b = furthest(a);
  const beside = (p: Point): number =>
    Math.abs((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / off(a, b);
  return apart.every((p) => beside(p) < EDGE_ON_MM) ? [lineMark(role, a, b)] : [polygonMark(role, apart)];
};

/** Tube and rod about the line between two pivots, so far as the projection leaves them a length. */
export function strutBody(
  strut: LayoutStrut,
  from: Point,
  to: Point,
  role: LineRole,
  k: number,
  lengthMm: number,
): Mark[] {
  const [tubeEnd, rodEnd] = strut.rodAt === 'lid' ? [from, to] : [to, from];
  const [dx, dy] = [rodEnd[0] - tubeEnd[0], rodEnd[1] - tubeEnd[1]];
  const length = Math.hypot(dx, dy);
  if (length < 4) return [];
  const [ux, uy] = [dx / length, dy / length];
  const at = (along: number, across: number): Point => [
    tubeEnd[0] + ux * along - uy * across,
    tubeEnd[1] + uy * along + ux * across,
  ];
  // foreshortened as a whole: the share of the true length that the tube takes
  const compressedMm = Math.max(1, strut.extendedMm - strut.strokeMm);
  const start = PIVOT_MM;
  const tubeTo = Math.min(
    length - PIVOT_MM - 1,
    Math.max(start + 1, (length * compressedMm * 0.9) / Math.max(lengthMm, compressedMm)),
  );
  const box = (a: number, b: number, half: number): Mark[] =>
    lidPolygon([at(a, -half), at(b, -half), at(b, half), at(a, half)], role);
  return [
    ...box(start, tubeTo, Math.max(0.9, (strut.tubeMm / 2) * k)),
    ...box(tubeTo, length - PIVOT_MM, Math.max(0.4, (strut.rodMm / 2) * k)),
  ];
}

function trace(scene: LayoutScene, view: ViewPlace, closed: Vec3): Mark[] {
  const points = Array.from({ length: TRACE_PIECES + 1 }, (_, i) =>
    onPaper(view, scene.pose(closed, (scene.openDeg * i) / TRACE_PIECES)),
  );
  const length = points
    .slice(1)
    .reduce((sum, to, i) => sum + Math.hypot(to[0] - points[i]![0], to[1] - points[i]![1]), 0);
  return length < 3 ? [] : [polylineMark('centre', points)];
}

/**
 * One view of the layout: lid and struts closed in full lines, their extreme position in long-dash double-dot lines, the
 * paths of the lid's pivots in long-dash dot lines, hinge and pivots as rings. Lines by ISO 128-2.
 */
export function layoutView(scene: LayoutScene, view: ViewPlace): Mark[] {
  const at = (p: Vec3): Point => onPaper(view, p);
  const marks: Mark[] = [];
  marks.push(...lidPolygon(scene.lidOpen.map(at), 'phantom'), ...lidPolygon(scene.lidClosed.map(at), 'visible'));
  for (const strut of scene.struts) {
    marks.push(...strutBody(strut, at(strut.base), at(strut.lidOpen), 'phantom', view.scale, strut.openMm));
    marks.push(...strutBody(strut, at(strut.base), at(strut.lidClosed), 'visible', view.scale, strut.closedMm));
    if (!strut.twin) marks.push(...trace(scene, view, strut.lidClosed));
    marks.push(circleMark('narrow', at(strut.lidOpen), PIVOT_MM));
    for (const p of [strut.base, strut.lidClosed])
      marks.push(circleMark('visible', at(p), PIVOT_MM), ...crossMarks('narrow', at(p), 2.2));
  }
  // the grip and the ends of springs have no ring of their own
  for (const p of scene.pivots) marks.push(...crossMarks('narrow', at(p.closed), 1.6));
  const [a, b] = scene.hinge.map(at) as [Point, Point];
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (length > 6) {
    const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    const over = 5;
    marks.push(lineMark('centre', [a[0] - ux * over, a[1] - uy * over], [b[0] + ux * over, b[1] + uy * over]));
  }
  for (const p of length > 1 ? [a, b] : [a])
    marks.push(circleMark('visible', p, HINGE_MM), ...crossMarks('narrow', p, HINGE_MM + 1.5));
  return marks;
}
