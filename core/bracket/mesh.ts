import { type TriangleMesh, triangulate } from '../solid';
import type { Vec3 } from '../space';
import { requireMakeable } from './check';
import { type Contour, contourPoints, holeContour, type Point2, roundedPolygon } from './contour';
import { bodyHoles, gussetOutline } from './cuts';
import type { BlankHole, BracketSpec } from './kinds';
import { type BodyLayout, bodyLayout, bodyOutline, topCorners } from './layout';
import { leanOf, thicknessAtMm } from './lean';
import { isBent } from './spec';
import { originFromEndMm, stemOfBracket } from './stem';

/** A place of the plate, seen as its blank: on the side seen (the inside of the bends) or on the other. */
type Fold = (at: Point2, seen: boolean) => Vec3;
type Triangle = readonly [Point2, Point2, Point2];

const TAU = 2 * Math.PI;

/** Collects vertices, joining those in the same place, so that neighbours share them. */
class Solid {
  readonly xyz: number[] = [];
  readonly faces: number[] = [];
  private seen = new Map<string, number>();

  /** What comes now touches what came before, but shares no vertex with it. */
  startPart(): void {
    this.seen = new Map();
  }

  index([x, y, z]: Vec3): number {
    const key = `${Math.round(x * 1e6)},${Math.round(y * 1e6)},${Math.round(z * 1e6)}`;
    let i = this.seen.get(key);
    if (i === undefined) {
      i = this.xyz.length / 3;
      this.seen.set(key, i);
      this.xyz.push(x, y, z);
    }
    return i;
  }

  /** Both faces of a plate and its rim, holes included. Triangles counter-clockwise as seen on the side seen. */
  plate(triangles: readonly Triangle[], fold: Fold): void {
    const edges = new Map<string, readonly [Point2, Point2]>();
    const key = (p: Point2): string => `${Math.round(p[0] * 1e6)},${Math.round(p[1] * 1e6)}`;
    const put = (p: Point2, seen: boolean): number => this.index(fold(p, seen));
    for (const [a, b, c] of triangles) {
      this.faces.push(put(a, true), put(b, true), put(c, true), put(a, false), put(c, false), put(b, false));
      for (const [p, q] of [
        [a, b],
        [b, c],
        [c, a],
      ] as const) {
        // An edge met from both sides is inside the plate; what is left over is its rim.
        if (!edges.delete(`${key(q)}|${key(p)}`)) edges.set(`${key(p)}|${key(q)}`, [p, q]);
      }
    }
    for (const [p, q] of edges.values()) {
      const [p0, q0, p1, q1] = [put(p, false), put(q, false), put(p, true), put(q, true)];
      this.faces.push(p0, q0, q1, p0, q1, p1);
    }
  }
}

/** Triangles of a flat patch with holes. */
function patch(outline: Contour, holes: readonly BlankHole[], facets: number): Triangle[] {
  const step = TAU / facets;
  const rim = contourPoints(outline, step);
  const at: Point2[] = [...rim];
  const loops = holes.map((hole) => {
    const points = contourPoints(holeContour(hole), step).reverse();
    const first = at.length;
    at.push(...points);
    return points.map((_, i) => first + i);
  });
  const found = triangulate(
    at,
    rim.map((_, i) => i),
    loops,
  );
  return Array.from({ length: found.length / 3 }, (_, i) => [
    at[found[3 * i]!]!,
    at[found[3 * i + 1]!]!,
    at[found[3 * i + 2]!]!,
  ]);
}

/** How the blank of a bent body lies once bent: the flat base, and a quarter turn into each upright. */
function foldOf(spec: BracketSpec, layout: BodyLayout): Fold {
  const { thicknessMm: t, insideRadiusMm: r, baseLegMm } = spec;
  const takes = r + t;
  const last = layout.bends.at(-1)!;
  const near = ([u, v]: Point2, depth: number): Vec3 => {
    const y = -u - spec.studHole.acrossMm;
    if (v <= last.startMm) return [v - last.startMm - takes, y, depth];
    if (v >= last.endMm) return [0 - depth, y, v - last.endMm + takes];
    const angle = ((v - last.startMm) / layout.allowanceMm) * (Math.PI / 2);
    return [-takes + (takes - depth) * Math.sin(angle), y, takes - (takes - depth) * Math.cos(angle)];
  };
  return (at, seen) => {
    const depth = seen ? t : 0;
    if (layout.bends.length < 2 || at[1] > layout.lengthMm / 2) return near(at, depth);
    // the far upright is the near one, mirrored about the middle of the gap
    const [x, y, z] = near([at[0], layout.lengthMm - at[1]], depth);
    return [-baseLegMm - x, y, z];
  };
}

function bentBody(spec: BracketSpec, layout: BodyLayout, facets: number, solid: Solid): void {
  const half = spec.baseWidthMm / 2;
  const holes = bodyHoles(spec, layout);
  const last = layout.bends.at(-1)!;
  const channel = spec.kind === 'channel';
  const sharp = (x: number, y: number): { at: Point2; radiusMm: number } => ({ at: [x, y], radiusMm: 0 });
  const endRadiusMm = channel ? 0 : spec.baseCornerRadiusMm;
  const [from, to] = layout.baseFlat;
  const base = roundedPolygon([
    { at: [-half, from], radiusMm: endRadiusMm },
    { at: [half, from], radiusMm: endRadiusMm },
    sharp(half, to),
    sharp(-half, to),
  ]);
  const upright = roundedPolygon([
    sharp(-half, last.endMm),
    sharp(half, last.endMm),
    ...topCorners(spec, layout.lengthMm),
  ]);
  const triangles: Triangle[] = [
    ...patch(
      base,
      holes.filter((h) => h.role === 'fixing'),
      facets,
    ),
    ...patch(
      upright,
      holes.filter((h) => h.id === 'stud' || h.id === 'pin-near'),
      facets,
    ),
  ];
  if (channel) {
    const first = layout.bends[0]!;
    const far = roundedPolygon([
      ...topCorners(spec, 0).reverse(),
      sharp(half, first.startMm),
      sharp(-half, first.startMm),
    ]);
    triangles.push(
      ...patch(
        far,
        holes.filter((h) => h.id === 'pin-far'),
        facets,
      ),
    );
  }
  const pieces = Math.max(2, Math.ceil(facets / 4));
  for (const { startMm, endMm } of layout.bends)
    for (let i = 0; i < pieces; i++) {
      const v0 = startMm + (layout.allowanceMm * i) / pieces;
      const v1 = i === pieces - 1 ? endMm : startMm + (layout.allowanceMm * (i + 1)) / pieces;
      const [a, b, c, d]: Point2[] = [
        [-half, v0],
        [half, v0],
        [half, v1],
        [-half, v1],
      ];
      triangles.push([a!, b!, c!], [a!, c!, d!]);
    }
  solid.plate(triangles, foldOf(spec, layout));
}

/** A flat or leaning plate; the stud's hole of a leaning one goes through along the stem. */
function flatBody(spec: BracketSpec, layout: BodyLayout, facets: number, solid: Solid): void {
  const lean = leanOf(spec);
  const [nx, ny, nz] = stemOfBracket(spec).map(Math.abs) as unknown as [number, number, number];
  const holes = bodyHoles(spec, layout);
  const stud = holes.find((h) => h.role === 'stud')!;
  const leaning = lean !== null && Math.hypot(nx, ny) > 1e-12;
  const axis = stemOfBracket(spec);
  const from = originFromEndMm(spec);
  const place = ([u, v]: Point2, z: number): Vec3 => [v - from, -u - spec.studHole.acrossMm, z];
  const rim = new Set<string>();
  const key = (p: Point2): string => `${Math.round(p[0] * 1e6)},${Math.round(p[1] * 1e6)}`;
  const step = TAU / facets;
  const outline = bodyOutline(spec, layout);
  const fixings = holes.filter((h) => h.role === 'fixing');
  if (!leaning) {
    solid.plate(patch(outline, holes, facets), (p, seen) => place(p, seen ? thicknessAtMm(spec, lean, p) : 0));
    return;
  }
  // In plan the stud's hole is an ellipse on either face: laid out on the underside and carried up along the stem.
  const [ax, ay] = [axis[0] / Math.hypot(axis[0], axis[1]), axis[1] / Math.hypot(axis[0], axis[1])];
  const ring = contourPoints(holeContour({ ...stud, slotRad: 0 }), step).map((p): Point2 => {
    // the blank's axes are −y and x
    const [px, py] = [p[1] - stud.centre[1], -(p[0] - stud.centre[0])];
    const along = px * ax + py * ay;
    const grown = along * (1 / nz - 1);
    const [qx, qy] = [px + ax * grown, py + ay * grown];
    return [stud.centre[0] - qy, stud.centre[1] + qx];
  });
  ring.forEach((p) => rim.add(key(p)));
  const slope = lean.slope;
  const raised = (p: Point2): Vec3 => {
    // from the underside along the axis until the top: z = t(p + shift)
    const [u, v] = p;
    const du = -axis[1] / axis[2];
    const dv = axis[0] / axis[2];
    const z = thicknessAtMm(spec, lean, p) / (1 - slope[0] * du - slope[1] * dv);
    return place([u + du * z, v + dv * z], z);
  };
  const at: Point2[] = contourPoints(outline, step);
  const outer = at.map((_, i) => i);
  const loops = [ring, ...fixings.map((h) => contourPoints(holeContour(h), step))].map((points) => {
    const first = at.length;
    at.push(...[...points].reverse());
    return points.map((_, i) => first + i);
  });
  // The two faces are cut into triangles apart: on top the hole stands elsewhere.
  const low = triangulate(at, outer, loops);
  const top = at.map((p): Point2 => {
    if (!rim.has(key(p))) return p;
    const [x, y] = raised(p);
    return [-y - spec.studHole.acrossMm, x + from];
  });
  const high = triangulate(top, outer, loops);
  const lowAt = at.map((p) => solid.index(place(p, 0)));
  const highAt = at.map((p) => solid.index(rim.has(key(p)) ? raised(p) : place(p, thicknessAtMm(spec, lean, p))));
  for (let i = 0; i < low.length; i += 3) solid.faces.push(lowAt[low[i]!]!, lowAt[low[i + 2]!]!, lowAt[low[i + 1]!]!);
  for (const i of high) solid.faces.push(highAt[i]!);
  for (const loop of [outer, ...loops])
    loop.forEach((p, i) => {
      const q = loop[(i + 1) % loop.length]!;
      solid.faces.push(lowAt[p]!, lowAt[q]!, highAt[q]!, lowAt[p]!, highAt[q]!, highAt[p]!);
    });
}

function gussets(spec: BracketSpec, solid: Solid): void {
  const g = spec.gusset;
  if (!g) return;
  const t = spec.thicknessMm;
  const triangles = patch(gussetOutline(spec), [], 4);
  for (const across of g.count === 1 ? [0] : [-g.acrossMm, g.acrossMm]) {
    const y = across - spec.studHole.acrossMm;
    solid.startPart();
    // [along the base, up] seen from +y: along runs towards −x, and −x × z = y
    solid.plate(triangles, ([along, up], seen) => [-t - along, y + ((seen ? 1 : -1) * g.thicknessMm) / 2, t + up]);
  }
}

/**
 * The bracket as closed triangle meshes in the bracket frame, with real holes; bends and all arcs as facets. Gussets are closed parts of their
 * own that touch the body. Throws a LidwrightError when the bracket cannot be made.
 */
export function bracketMesh(spec: BracketSpec, facetsPerTurn = 48): TriangleMesh {
  requireMakeable(spec);
  const layout = bodyLayout(spec);
  const solid = new Solid();
  if (isBent(spec)) bentBody(spec, layout, facetsPerTurn, solid);
  else flatBody(spec, layout, facetsPerTurn, solid);
  gussets(spec, solid);
  return { positionsMm: Float64Array.from(solid.xyz), triangles: Uint32Array.from(solid.faces) };
}
