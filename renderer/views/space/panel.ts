import { ShapeUtils, Vector2 } from 'three';
import { type Vec3, add, areaVector, cross, dot, norm, scale, sub } from '../../../core/space';

/** A thin plate over an outline. */
export interface Panel {
  /** x, y, z a vertex: first every corner on the outer face, then every corner on the inner one. */
  readonly positions: Float32Array;
  readonly index: Uint16Array;
  /** Rings of both faces, for the ink edges. */
  readonly top: readonly Vec3[];
  readonly bottom: readonly Vec3[];
}

/**
 * A plate of the given thickness, its middle through the outline. The outline may be bent, or cross itself: it is cut
 * into triangles as seen along its area vector. Null when the outline spans no area.
 */
export function panelOver(outline: readonly Vec3[], thicknessMm: number): Panel | null {
  const n = outline.length;
  if (n < 3 || outline.some((p) => !p.every(Number.isFinite))) return null;
  const area = areaVector(outline);
  const size = norm(area);
  const reach = Math.max(...outline.map((p) => norm(sub(p, outline[0]!))));
  if (!(size > 1e-9 * reach * reach) || !(reach > 0)) return null;
  const normal = scale(area, 1 / size);
  const helper: Vec3 = Math.abs(normal[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0];
  const rawU = cross(helper, normal);
  const u = scale(rawU, 1 / norm(rawU));
  const v = cross(normal, u);
  const flat = outline.map((p) => new Vector2(dot(sub(p, outline[0]!), u), dot(sub(p, outline[0]!), v)));
  const faces = ShapeUtils.triangulateShape(flat, []) as [number, number, number][];
  const half = scale(normal, thicknessMm / 2);
  const top = outline.map((p) => add(p, half));
  const bottom = outline.map((p) => sub(p, half));
  const index: number[] = [];
  for (const [a, b, c] of faces) index.push(a, b, c, n + c, n + b, n + a);
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    index.push(n + i, n + j, i, i, n + j, j);
  }
  return { positions: Float32Array.from([...top, ...bottom].flat()), index: Uint16Array.from(index), top, bottom };
}
