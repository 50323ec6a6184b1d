import { toRad, type Vec3 } from '../space';
import { type Contour, contourPoints, movedContour, type Point2, type Segment } from './contour';
import type { BracketSpec, PlacedHole } from './kinds';
import { bodyLayout, bodyOutline } from './layout';
import { leanOf, thicknessAtMm, topNormal } from './lean';
import { originFromEndMm } from './stem';
import { inView, line, lines, loop, type ViewDirection, type ViewLines } from './views';

const STEP_RAD = toRad(5);

/** Counter-clockwise hull of points. Andrew's monotone chain. */
function hull(points: readonly Point2[]): Point2[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list: readonly Point2[]): Point2[] => {
    const chain: Point2[] = [];
    for (const p of list) {
      while (chain.length > 1) {
        const [a, b] = [chain.at(-2)!, chain.at(-1)!];
        if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 1e-9) break;
        chain.pop();
      }
      chain.push(p);
    }
    return chain.slice(0, -1);
  };
  return [...half(sorted), ...half([...sorted].reverse())];
}

const closedLines = (points: readonly Point2[]): Segment[] =>
  points.map((p, i) => line(p, points[(i + 1) % points.length]!));

const offLineMm = (p: Point2, a: Point2, b: Point2): number =>
  Math.abs((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / Math.hypot(b[0] - a[0], b[1] - a[1]);

/** A circle of the stud's hole where it comes out of a face, in plan [x, y], as points. */
function studRim(hole: PlacedHole, onTop: boolean): Vec3[] {
  const [nx, ny, nz] = hole.axis;
  const side: Vec3 = hole.slotAxis;
  // square to the axis and to that: up the slope
  const up: Vec3 = [ny * side[2] - nz * side[1], nz * side[0] - nx * side[2], nx * side[1] - ny * side[0]];
  const r = hole.diameterMm / 2;
  return Array.from({ length: 48 }, (_, i) => {
    const a = (i * Math.PI) / 24;
    const p = [0, 1, 2].map((k) => r * (Math.cos(a) * side[k]! + Math.sin(a) * up[k]!)) as unknown as Vec3;
    if (onTop) return [hole.centreMm[0] + p[0], hole.centreMm[1] + p[1], hole.centreMm[2] + p[2]];
    // down along the axis until z = 0
    const down = p[2] / nz;
    return [p[0] - nx * down, p[1] - ny * down, 0];
  });
}

/** Views of a wedge plate. A stud's hole that leans shows as ellipses, drawn as short lines. */
export function wedgeLines(
  spec: BracketSpec,
  direction: ViewDirection,
  holes: readonly PlacedHole[],
  holeLines: (hole: PlacedHole, direction: ViewDirection) => ViewLines[],
): ViewLines[] {
  const middle = -spec.studHole.acrossMm;
  const from = originFromEndMm(spec);
  const lean = leanOf(spec);
  const outline: Contour = bodyOutline(spec, bodyLayout(spec));
  const plan = movedContour(outline, { turnRad: Math.PI, move: [middle, from] });
  const fixings = holes.filter((h) => h.role === 'fixing').flatMap((h) => holeLines(h, direction));
  const stud = holes.find((h) => h.role === 'stud')!;
  const top = stud.centreMm;
  const axisLine = lines('centre', stud.id, line(inView(direction, [0, 0, 0]), inView(direction, top)));
  const rims = (role: 'visible' | 'hidden', onTop: boolean): ViewLines =>
    loop(role, stud.id, closedLines(studRim(stud, onTop).map((p) => inView(direction, p))));
  if (direction === 'top') {
    const straight = topNormal(spec)[2] > 1 - 1e-12;
    return [
      loop('visible', 'body', plan),
      lines('centre', 'body', line([middle, from - spec.baseLegMm], [middle, from])),
      ...fixings,
      ...(straight ? holeLines(stud, direction) : [rims('visible', true), rims('hidden', false), axisLine]),
    ];
  }
  const foot = contourPoints(outline, STEP_RAD);
  const low = foot.map(([u, v]): Vec3 => [v - from, -u - spec.studHole.acrossMm, 0]);
  const high = foot.map((p, i): Vec3 => [low[i]![0], low[i]![1], thicknessAtMm(spec, lean, p)]);
  const rim = hull([...low, ...high].map((p) => inView(direction, p)));
  // an edge of the top that is not on the rim is seen where the top faces the eye
  const facing = (direction === 'front' ? topNormal(spec)[0] : topNormal(spec)[1]) > 1e-9;
  const toward = direction === 'front' ? 0 : 1;
  const middleOf = (p: Vec3, q: Vec3): number => (p[toward] + q[toward]) / 2;
  const nearest = low.reduce((sum, p) => sum + p[toward], 0) / low.length;
  const inner: ViewLines[] = [];
  high.forEach((p, i) => {
    const q = high[(i + 1) % high.length]!;
    const [a, b] = [inView(direction, p), inView(direction, q)];
    if (Math.hypot(b[0] - a[0], b[1] - a[1]) < 1e-9) return;
    const onRim = rim.some((c, k) => {
      const d = rim[(k + 1) % rim.length]!;
      return offLineMm(a, c, d) < 1e-6 && offLineMm(b, c, d) < 1e-6;
    });
    if (!onRim) inner.push(lines(facing || middleOf(p, q) > nearest ? 'visible' : 'hidden', 'body', line(a, b)));
  });
  const ends = (onTop: boolean): Point2[] => {
    const at = studRim(stud, onTop).map((p) => inView(direction, p));
    const cut = inView(direction, top);
    const long = Math.hypot(cut[0], cut[1]) || 1;
    const off = (p: Point2): number => (p[0] * -cut[1] + p[1] * cut[0]) / long;
    const sorted = [...at].sort((a, b) => off(a) - off(b));
    return [sorted[0]!, sorted.at(-1)!];
  };
  const [l0, l1] = ends(false);
  const [h0, h1] = ends(true);
  return [
    loop('visible', 'body', closedLines(rim)),
    ...inner,
    ...fixings,
    lines('hidden', stud.id, line(l0!, h0!), line(l1!, h1!)),
    axisLine,
  ];
}
