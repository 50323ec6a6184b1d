import { blanks, type BracketSpec, contourPoints, type Point2 } from '../../bracket';
import { cos, rad, sin, toRad } from '../../space';

/** Direction of the steepest rise of a wedge plate's top in its plan, and where the section's plane meets the plan's outline. */
export interface SectionLine {
  /** Unit, [x, y] of the bracket frame. */
  readonly way: Point2;
  /** Along `way` from the stud's root, mm. */
  readonly from: number;
  readonly to: number;
  /** Beyond everything of the plan along `way`: where the plane's ends are drawn. */
  readonly clear: readonly [number, number];
}

/** The plan's outline in [across, along] of a section: along `way`, and square to it. */
export const turnedInto = ([x, y]: Point2, [dx, dy]: Point2): Point2 => [dx * y - dy * x, dx * x + dy * y];

/** The cutting plane of a wedge plate: upright, through the stud's axis, along the steepest rise. */
export function sectionLine(spec: BracketSpec): SectionLine {
  const way = toRad(spec.wedge!.directionDeg);
  const d: Point2 = [cos(way), sin(way)];
  const plan = planPoints(spec).map((p) => turnedInto(p, d));
  const [from, to] = chord(plan, 1e-9) ?? [0, 0];
  const along = plan.map((p) => p[1]);
  return { way: d, from, to, clear: [Math.min(...along), Math.max(...along)] };
}

/** The plan's outline, [x, y] of the bracket frame. */
function planPoints(spec: BracketSpec): Point2[] {
  const { acrossMm, fromEndMm } = spec.studHole;
  const origin = spec.baseLegMm - fromEndMm;
  return contourPoints(blanks(spec)[0]!.outline, rad(Math.PI / 90)).map(([u, v]) => [v - origin, -u - acrossMm]);
}

/** The least and greatest second coordinate where a convex outline meets the line of one first coordinate. */
export function chord(points: readonly Point2[], at: number): readonly [number, number] | null {
  const found: number[] = [];
  points.forEach((p, i) => {
    const q = points[(i + 1) % points.length]!;
    if (p[0] > at === q[0] > at) return;
    found.push(p[1] + ((at - p[0]) / (q[0] - p[0])) * (q[1] - p[1]));
  });
  return found.length < 2 ? null : [Math.min(...found), Math.max(...found)];
}
