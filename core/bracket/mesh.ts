import { requireMakeable } from './check';
import { contourPoints, onCircle, type Point2, roundedPolygon } from './contour';
import { blankHoles, blankLayout, topCorners } from './layout';
import type { BentAngle } from './spec';

/** A closed triangle mesh: x, y, z of each vertex in mm, and three vertex numbers a triangle, counter-clockwise from outside. */
export interface BracketMesh {
  readonly positionsMm: Float64Array;
  readonly triangles: Uint32Array;
}

type Triangle = readonly [Point2, Point2, Point2];
/** A triangulated patch of the blank and the loops round its holes (counter-clockwise round the hole). */
interface Patch {
  readonly triangles: Triangle[];
  readonly holes: Point2[][];
}

const TAU = 2 * Math.PI;
const cross = (o: Point2, a: Point2, b: Point2): number =>
  (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);

/**
 * Triangles between a convex counter-clockwise ring and a circle inside it. Each outer edge is joined to the piece of
 * the circle that lies under it: a piece's chord sees at least one end of the edge, first the one, then the other.
 */
function ringWithHole(ring: readonly Point2[], centre: Point2, radiusMm: number, facets: number): Patch {
  const angles = ring.map((p) => Math.atan2(p[1] - centre[1], p[0] - centre[0]));
  const triangles: Triangle[] = [];
  const hole: Point2[] = [];
  const spot = new Map<number, Point2>();
  const onHole = (angle: number): Point2 => {
    const known = spot.get(angle) ?? onCircle(centre, radiusMm, angle);
    spot.set(angle, known);
    return known;
  };
  ring.forEach((a, i) => {
    const j = (i + 1) % ring.length;
    const b = ring[j]!;
    const start = angles[i]!;
    const sweep = (((angles[j]! - start) % TAU) + TAU) % TAU;
    const pieces = Math.max(1, Math.ceil((sweep / TAU) * facets));
    const chain = Array.from({ length: pieces + 1 }, (_, n) =>
      n === 0
        ? onHole(start)
        : n === pieces
          ? onHole(angles[j]!)
          : onCircle(centre, radiusMm, start + (sweep * n) / pieces),
    );
    let turn = 0;
    while (turn < pieces && cross(chain[turn]!, chain[turn + 1]!, a) < 0) turn++;
    for (let n = 0; n < turn; n++) triangles.push([a, chain[n + 1]!, chain[n]!]);
    triangles.push([a, b, chain[turn]!]);
    for (let n = turn; n < pieces; n++) triangles.push([b, chain[n + 1]!, chain[n]!]);
    hole.push(...chain.slice(0, -1));
  });
  return { triangles, holes: [hole] };
}

/** Collects vertices, joining those in the same place, so that neighbours share them. */
class Vertices {
  readonly xyz: number[] = [];
  private readonly seen = new Map<string, number>();
  index(x: number, y: number, z: number): number {
    const key = `${Math.round(x * 1e6)},${Math.round(y * 1e6)},${Math.round(z * 1e6)}`;
    let i = this.seen.get(key);
    if (i === undefined) {
      i = this.xyz.length / 3;
      this.seen.set(key, i);
      this.xyz.push(x, y, z);
    }
    return i;
  }
}

/**
 * The bent bracket as a closed triangle mesh in the bracket frame (see `placeBracket`), with real holes; the bend and all
 * arcs as facets. Throws a LidwrightError when the bracket cannot be made.
 */
export function bracketMesh(spec: BentAngle, facetsPerTurn = 48): BracketMesh {
  requireMakeable(spec);
  const { thicknessMm: t, insideRadiusMm: r } = spec;
  const blank = blankLayout(spec);
  const holes = blankHoles(spec, blank);
  const half = spec.baseWidthMm / 2;
  const step = TAU / facetsPerTurn;

  const baseHalf = contourPoints(
    roundedPolygon([
      { at: [0, 0], radiusMm: 0 },
      { at: [half, 0], radiusMm: spec.baseCornerRadiusMm },
      { at: [half, blank.bendStartMm], radiusMm: 0 },
      { at: [0, blank.bendStartMm], radiusMm: 0 },
    ]),
    step,
  );
  const right = ringWithHole(baseHalf, holes.right, spec.baseHole.diameterMm / 2, facetsPerTurn);
  const mirror = ([u, v]: Point2): Point2 => [-u, v];
  const left: Patch = {
    triangles: right.triangles.map(([a, b, c]) => [mirror(a), mirror(c), mirror(b)]),
    holes: right.holes.map((loop) => loop.map(mirror).reverse()),
  };
  const uprightCorners = contourPoints(
    roundedPolygon([
      { at: [-half, blank.bendEndMm], radiusMm: 0 },
      { at: [half, blank.bendEndMm], radiusMm: 0 },
      ...topCorners(spec, blank.lengthMm),
    ]),
    step,
  );
  // The middle of the bend's edge is a vertex of the strips below: put it in here too.
  const afterFirst = uprightCorners.findIndex(([u, v]) => u > 0 && Math.abs(v - blank.bendEndMm) < 1e-9);
  const upright = ringWithHole(
    [...uprightCorners.slice(0, afterFirst), [0, blank.bendEndMm], ...uprightCorners.slice(afterFirst)],
    holes.stud,
    spec.studHole.diameterMm / 2,
    facetsPerTurn,
  );
  const strips: Triangle[] = [];
  const pieces = Math.max(2, Math.ceil(facetsPerTurn / 4));
  for (let i = 0; i < pieces; i++) {
    const v0 = blank.bendStartMm + (blank.allowanceMm * i) / pieces;
    const v1 = i === pieces - 1 ? blank.bendEndMm : blank.bendStartMm + (blank.allowanceMm * (i + 1)) / pieces;
    for (const [u0, u1] of [
      [-half, 0],
      [0, half],
    ] as const)
      strips.push(
        [
          [u0, v0],
          [u1, v0],
          [u1, v1],
        ],
        [
          [u0, v0],
          [u1, v1],
          [u0, v1],
        ],
      );
  }

  const vertices = new Vertices();
  const fold = ([u, v]: Point2, depth: number): number => {
    if (v <= blank.bendStartMm) return vertices.index(v - spec.baseLegMm, u, depth);
    if (v >= blank.bendEndMm) return vertices.index(0 - depth, u, v - blank.bendEndMm + r + t);
    const angle = ((v - blank.bendStartMm) / blank.allowanceMm) * (Math.PI / 2);
    const radius = r + t - depth;
    return vertices.index(-(r + t) + radius * Math.sin(angle), u, r + t - radius * Math.cos(angle));
  };
  const faces: number[] = [];
  const edges = new Map<string, readonly [Point2, Point2]>();
  const key = (p: Point2): string => `${Math.round(p[0] * 1e6)},${Math.round(p[1] * 1e6)}`;
  for (const [a, b, c] of [...right.triangles, ...left.triangles, ...strips, ...upright.triangles]) {
    // Across then along is counter-clockwise seen from the outer face of the bend (depth 0).
    faces.push(fold(a, 0), fold(b, 0), fold(c, 0), fold(a, t), fold(c, t), fold(b, t));
    for (const [p, q] of [
      [a, b],
      [b, c],
      [c, a],
    ] as const) {
      // An edge met from both sides is inside the plate; what is left over is its rim, holes included.
      const back = `${key(q)}|${key(p)}`;
      if (!edges.delete(back)) edges.set(`${key(p)}|${key(q)}`, [p, q]);
    }
  }
  for (const [p, q] of edges.values())
    faces.push(fold(q, 0), fold(p, 0), fold(p, t), fold(q, 0), fold(p, t), fold(q, t));
  return { positionsMm: Float64Array.from(vertices.xyz), triangles: Uint32Array.from(faces) };
}
