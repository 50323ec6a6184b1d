import { type Vec3, add, cos, cross, rad, scale, sin, toRad } from '../space';
import { bodyLayout, bodyOutline, leanOf, leans, originFromEndMm, outOfPlan, thicknessAtMm, topNormal } from './body';
import { contourPoints, movedContour, type Point2, type Segment } from './contour';
import type { BracketSpec, PlacedHole } from './types';
import { holeLines, inView, line, lines, loop, type ViewDirection, type ViewLines } from './view-lines';

const STEP_RAD = toRad(5);
const RIM_POINTS = 48;

const turn = (a: Point2, b: Point2, p: Point2): number => (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);

/** Counter-clockwise hull of points. Andrew's monotone chain. */
function hull(points: readonly Point2[]): Point2[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list: readonly Point2[]): Point2[] => {
    const chain: Point2[] = [];
    for (const p of list) {
      while (chain.length > 1 && turn(chain.at(-2)!, chain.at(-1)!, p) <= 1e-9) chain.pop();
      chain.push(p);
    }
    return chain.slice(0, -1);
  };
  return [...half(sorted), ...half([...sorted].reverse())];
}

const closedLines = (points: readonly Point2[]): Segment[] =>
  points.map((p, i) => line(p, points[(i + 1) % points.length]!));

const offLineMm = (p: Point2, a: Point2, b: Point2): number =>
  Math.abs(turn(a, b, p)) / Math.hypot(b[0] - a[0], b[1] - a[1]);

/** Where the stud's hole comes out of the top or the underside, as points. */
function studRim({ axis, slotAxis: side, diameterMm, centreMm }: PlacedHole, onTop: boolean): Vec3[] {
  // square to the axis and to its side: up the slope
  const up = cross(axis, side);
  return Array.from({ length: RIM_POINTS }, (_, i) => {
    const a = (2 * Math.PI * i) / RIM_POINTS;
    const p = scale(add(scale(side, cos(rad(a))), scale(up, sin(rad(a)))), diameterMm / 2);
    // on the underside: down along the axis until z = 0
    return onTop ? add(centreMm, p) : add(p, scale(axis, -p[2] / axis[2]));
  });
}

/** Views of a plate whose top leans. A stud's hole that leans shows as ellipses, drawn as short lines. */
export function leaningLines(spec: BracketSpec, direction: ViewDirection, holes: readonly PlacedHole[]): ViewLines[] {
  const fixings = holes.filter((h) => h.role === 'fixing').flatMap((h) => holeLines(h, direction));
  const stud = holes.find((h) => h.role === 'stud')!;
  const seen = (points: readonly Vec3[]): Point2[] => points.map((p) => inView(direction, p));
  const [low, high] = [seen(studRim(stud, false)), seen(studRim(stud, true))];
  const out = inView(direction, stud.centreMm);
  const axis = lines('centre', stud.id, line(inView(direction, [0, 0, 0]), out));
  if (direction === 'top') {
    const middle = -spec.studHole.acrossMm;
    const from = originFromEndMm(spec);
    const outline = bodyOutline(spec, bodyLayout(spec));
    return [
      loop('visible', 'body', movedContour(outline, { turnRad: rad(Math.PI), move: [middle, from] })),
      lines('centre', 'body', line([middle, from - spec.baseLegMm], [middle, from])),
      ...fixings,
      ...(leans(spec)
        ? [loop('visible', stud.id, closedLines(high)), loop('hidden', stud.id, closedLines(low)), axis]
        : holeLines(stud, direction)),
    ];
  }
  // of each rim the two points furthest to either side of the axis
  const long = Math.hypot(out[0], out[1]) || 1;
  const off = (p: Point2): number => (p[0] * -out[1] + p[1] * out[0]) / long;
  const ends = (rim: readonly Point2[]): Point2[] => {
    const sorted = [...rim].sort((a, b) => off(a) - off(b));
    return [sorted[0]!, sorted.at(-1)!];
  };
  const [[l0, l1], [h0, h1]] = [ends(low), ends(high)];
  return [...solidLines(spec, direction), ...fixings, lines('hidden', stud.id, line(l0!, h0!), line(l1!, h1!)), axis];
}

/** The plate from its side or front: its silhouette, and edges of its top within it. */
function solidLines(spec: BracketSpec, direction: 'front' | 'side'): ViewLines[] {
  const lean = leanOf(spec);
  const plan = contourPoints(bodyOutline(spec, bodyLayout(spec)), STEP_RAD);
  const low = plan.map((p) => outOfPlan(spec, p, 0));
  const high = plan.map((p) => outOfPlan(spec, p, thicknessAtMm(spec, lean, p)));
  const silhouette = hull([...low, ...high].map((p) => inView(direction, p)));
  // an edge of the top within the silhouette is seen where the top faces the eye
  const toward = direction === 'front' ? 0 : 1;
  const facing = topNormal(spec)[toward] > 1e-9;
  const nearest = low.reduce((sum, p) => sum + p[toward], 0) / low.length;
  const inner = high.flatMap((p, i): ViewLines[] => {
    const q = high[(i + 1) % high.length]!;
    const [a, b] = [inView(direction, p), inView(direction, q)];
    if (Math.hypot(b[0] - a[0], b[1] - a[1]) < 1e-9) return [];
    const onRim = silhouette.some((c, k) => {
      const d = silhouette[(k + 1) % silhouette.length]!;
      return offLineMm(a, c, d) < 1e-6 && offLineMm(b, c, d) < 1e-6;
    });
    if (onRim) return [];
    const shown = facing || (p[toward] + q[toward]) / 2 > nearest;
    return [lines(shown ? 'visible' : 'hidden', 'body', line(a, b))];
  });
  return [loop('visible', 'body', closedLines(silhouette)), ...inner];
}
