import { bracketMesh, type BracketSpec, isBent, isPinned } from '../../bracket';
import type { Mark, Point } from '../../drawing';
import { type SeenEdge, visibleEdges } from '../../solid';
import { unit, type Vec3 } from '../../space';

const FACETS = 32;

/** Where the eye stands: over the inside of a bend, so that holes and gussets show; over a plate's top. */
const eyeOf = (spec: BracketSpec): Vec3 => unit(isBent(spec) && !isPinned(spec) ? [-1, 1, 1] : [1, 1, 1]);

/** The visible edges of the bracket in isometric projection, real mm (not shortened), hidden ones removed. Throws as `bracketMesh` does. */
export const isometricEdges = (spec: BracketSpec): readonly SeenEdge[] =>
  visibleEdges(bracketMesh(spec, FACETS), eyeOf(spec));

/** Isometric edges as marks at a scale, paper mm. */
export const isometricMarks = (edges: readonly SeenEdge[], scale: number): Mark[] =>
  edges.map(({ from, to }): Mark => {
    const at = ([x, y]: Point): Point => [x * scale, y * scale];
    return { kind: 'line', role: 'visible', from: at(from), to: at(to) };
  });
