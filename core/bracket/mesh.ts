import { type FlatTriangle, flatTriangles, MeshBuilder, slabMesh, type TriangleMesh } from '../solid';
import { type Vec3, cos, rad, sin } from '../space';
import {
  type BodyLayout,
  baseIndex,
  bendTakesMm,
  bodyHoles,
  bodyLayout,
  bodyOutline,
  leanOf,
  leans,
  legOutline,
  outOfPlan,
  platesOf,
  thicknessAtMm,
  topNormal,
} from './body';
import { requireMakeable } from './check';
import { type Contour, contourPoints, holeContour, type Point2 } from './contour';
import type { BlankHole, BracketSpec } from './types';

/** Where a place of the blank lies on the finished bracket: on the side seen (the inside of the bends, or the top) or on the other. */
type Fold = (at: Point2, seen: boolean) => Vec3;

const stepRad = (facets: number): number => (2 * Math.PI) / facets;
const rim = (hole: BlankHole, facets: number): Point2[] =>
  contourPoints(holeContour(hole), rad(stepRad(facets))).reverse();
const patch = (outline: Contour, holes: readonly BlankHole[], facets: number): FlatTriangle[] =>
  flatTriangles(
    contourPoints(outline, rad(stepRad(facets))),
    holes.map((hole) => rim(hole, facets)),
  );

/** How the blank lies once bent: the flat base, and a quarter turn into each upright. */
function foldOf(spec: BracketSpec, layout: BodyLayout): Fold {
  const { thicknessMm: t, baseLegMm } = spec;
  const last = layout.bends.at(-1);
  if (!last) return (at, seen) => outOfPlan(spec, at, seen ? thicknessAtMm(spec, leanOf(spec), at) : 0);
  const takes = bendTakesMm(spec);
  const near = ([u, v]: Point2, depth: number): Vec3 => {
    const y = -u - spec.studHole.acrossMm;
    if (v <= last.startMm) return [v - last.startMm - takes, y, depth];
    if (v >= last.endMm) return [0 - depth, y, v - last.endMm + takes];
    const angle = ((v - last.startMm) / layout.allowanceMm) * (Math.PI / 2);
    return [-takes + (takes - depth) * sin(rad(angle)), y, takes - (takes - depth) * cos(rad(angle))];
  };
  return (at, seen) => {
    const depth = seen ? t : 0;
    if (layout.bends.length < 2 || at[1] > layout.lengthMm / 2) return near(at, depth);
    // the far upright is the near one, mirrored about the middle of the gap
    const [x, y, z] = near([at[0], layout.lengthMm - at[1]], depth);
    return [-baseLegMm - x, y, z];
  };
}

/** The body's blank as triangles: the base, then its uprights, then the bends between as narrow strips. */
function bodyTriangles(spec: BracketSpec, layout: BodyLayout, facets: number): FlatTriangle[] {
  const half = spec.baseWidthMm / 2;
  const holes = bodyHoles(spec, layout);
  const base = baseIndex(spec);
  const others = layout.flats.map((_, i) => i).filter((i) => i !== base);
  const legs = [base, ...others.reverse()].flatMap((i) => {
    const [from, to] = layout.flats[i]!;
    const own = holes.filter((h) => h.centre[1] > from && h.centre[1] < to);
    return patch(legOutline(spec, layout, i), own, facets);
  });
  const pieces = Math.max(2, Math.ceil(facets / 4));
  const bends = layout.bends.flatMap(({ startMm, endMm }) =>
    Array.from({ length: pieces }, (_, i): FlatTriangle[] => {
      const v0 = startMm + (layout.allowanceMm * i) / pieces;
      const v1 = i === pieces - 1 ? endMm : startMm + (layout.allowanceMm * (i + 1)) / pieces;
      return [
        [
          [-half, v0],
          [half, v0],
          [half, v1],
        ],
        [
          [-half, v0],
          [half, v1],
          [-half, v1],
        ],
      ];
    }).flat(),
  );
  return [...legs, ...bends];
}

/** A plate whose stud's hole leans: in plan an ellipse on either face, laid out on the underside and carried up along the stem. */
function leaningMesh(spec: BracketSpec, layout: BodyLayout, facets: number): TriangleMesh {
  const lean = leanOf(spec)!;
  const [nx, ny, nz] = topNormal(spec);
  const flat = Math.hypot(nx, ny);
  // the blank's axes are −y and x
  const down: Point2 = [-ny / flat, nx / flat];
  const holes = bodyHoles(spec, layout);
  const hole = holes.find((h) => h.role === 'stud')!;
  const { centre } = hole;
  const stud = rim(hole, facets).map((p): Point2 => {
    const grown = ((p[0] - centre[0]) * down[0] + (p[1] - centre[1]) * down[1]) * (1 / nz - 1);
    return [p[0] + down[0] * grown, p[1] + down[1] * grown];
  });
  const carried: Point2 = [-ny / nz, nx / nz];
  const raised = (p: Point2): Point2 => {
    // from the underside along the axis until the top: z = t(p + shift)
    const z = thicknessAtMm(spec, lean, p) / (1 - lean.slope[0] * carried[0] - lean.slope[1] * carried[1]);
    return [p[0] + carried[0] * z, p[1] + carried[1] * z];
  };
  const outline = contourPoints(bodyOutline(spec, layout), rad(stepRad(facets)));
  const fixings = holes.filter((h) => h.role === 'fixing').map((h) => rim(h, facets));
  return slabMesh([outline, stud, ...fixings], [outline, stud.map(raised), ...fixings], foldOf(spec, layout));
}

/**
 * The bracket as closed triangle meshes in the bracket frame, with real holes; bends and all arcs as facets. Plates welded on are closed parts of
 * their own that touch the body. Throws a LidwrightError when the bracket cannot be made.
 */
export function bracketMesh(spec: BracketSpec, facetsPerTurn = 48): TriangleMesh {
  requireMakeable(spec);
  const layout = bodyLayout(spec);
  if (leans(spec)) return leaningMesh(spec, layout, facetsPerTurn);
  const t = spec.thicknessMm;
  const solid = new MeshBuilder();
  solid.plate(bodyTriangles(spec, layout, facetsPerTurn), foldOf(spec, layout));
  for (const { outline, thicknessMm, acrossMm } of platesOf(spec))
    for (const across of acrossMm) {
      solid.startPart();
      // [along the base, up] seen from +y: along runs towards −x, and −x × z = y
      solid.plate(patch(outline, [], 4), ([along, up], seen) => [
        -t - along,
        across - spec.studHole.acrossMm + ((seen ? 1 : -1) * thicknessMm) / 2,
        t + up,
      ]);
    }
  return solid.mesh();
}
