import type { Vec3 } from '../space';
import { type Flat, triangulate } from './triangulate';

/** A closed triangle mesh: x, y, z of each corner in mm, three corner numbers a triangle, counter-clockwise from outside. */
export interface TriangleMesh {
  readonly positionsMm: Float64Array;
  readonly triangles: Uint32Array;
}

export type FlatTriangle = readonly [Flat, Flat, Flat];

/** Triangles of a flat shape: its outline, counter-clockwise, and its holes, clockwise. */
export function flatTriangles(outline: readonly Flat[], holes: readonly (readonly Flat[])[]): FlatTriangle[] {
  const { at, loops } = numbered([outline, ...holes]);
  const found = triangulate(at, loops[0]!, loops.slice(1));
  return Array.from({ length: found.length / 3 }, (_, i) => [
    at[found[3 * i]!]!,
    at[found[3 * i + 1]!]!,
    at[found[3 * i + 2]!]!,
  ]);
}

/** All points of loops in one row, and each loop as their numbers. */
function numbered(rings: readonly (readonly Flat[])[]): { at: Flat[]; loops: number[][] } {
  let count = 0;
  return { at: rings.flat(), loops: rings.map((ring) => ring.map(() => count++)) };
}

/**
 * What lies between two flat faces with the same loops, point for point: first the outline, counter-clockwise, then holes, clockwise. The faces are cut into
 * triangles apart, so that a hole may lean. `place` puts a point of the lower or the upper face into space.
 */
export function slabMesh(
  lower: readonly (readonly Flat[])[],
  upper: readonly (readonly Flat[])[],
  place: (p: Flat, up: boolean) => Vec3,
): TriangleMesh {
  const low = numbered(lower);
  const high = numbered(upper);
  const count = low.at.length;
  const triangles: number[] = [];
  const down = triangulate(low.at, low.loops[0]!, low.loops.slice(1));
  for (let i = 0; i < down.length; i += 3) triangles.push(down[i]!, down[i + 2]!, down[i + 1]!);
  for (const v of triangulate(high.at, high.loops[0]!, high.loops.slice(1))) triangles.push(v + count);
  // loops run with the material on their left, so outside is on their right
  for (const loop of low.loops)
    loop.forEach((a, i) => {
      const b = loop[(i + 1) % loop.length]!;
      triangles.push(a, b, b + count, a, b + count, a + count);
    });
  const positions = [...low.at.map((p) => place(p, false)), ...high.at.map((p) => place(p, true))];
  return { positionsMm: Float64Array.from(positions.flat()), triangles: Uint32Array.from(triangles) };
}

const placeKey = (p: readonly number[]): string => p.map((x) => Math.round(x * 1e6)).join();

/** Gathers plates into one mesh. Vertices of one part that lie in the same place are joined, so that neighbours share them. */
export class MeshBuilder {
  private readonly xyz: number[] = [];
  private readonly faces: number[] = [];
  private known = new Map<string, number>();

  /** What comes now touches what came before, but shares no vertex with it. */
  startPart(): void {
    this.known = new Map();
  }

  private vertex(at: Vec3): number {
    const key = placeKey(at);
    const known = this.known.get(key);
    if (known !== undefined) return known;
    const i = this.xyz.length / 3;
    this.known.set(key, i);
    this.xyz.push(...at);
    return i;
  }

  /** Both faces of a plate, bent or not, and its rim, holes included. Triangles counter-clockwise as seen on the upper side. */
  plate(triangles: readonly FlatTriangle[], place: (p: Flat, up: boolean) => Vec3): void {
    const rim = new Map<string, readonly [Flat, Flat]>();
    const put = (p: Flat, up: boolean): number => this.vertex(place(p, up));
    for (const [a, b, c] of triangles) {
      this.faces.push(put(a, true), put(b, true), put(c, true), put(a, false), put(c, false), put(b, false));
      for (const [p, q] of [
        [a, b],
        [b, c],
        [c, a],
      ] as const) {
        // an edge met from both sides is inside the plate; what is left over is its rim
        if (!rim.delete(`${placeKey(q)}|${placeKey(p)}`)) rim.set(`${placeKey(p)}|${placeKey(q)}`, [p, q]);
      }
    }
    for (const [p, q] of rim.values()) {
      const [p0, q0, p1, q1] = [put(p, false), put(q, false), put(p, true), put(q, true)];
      this.faces.push(p0, q0, q1, p0, q1, p1);
    }
  }

  mesh(): TriangleMesh {
    return { positionsMm: Float64Array.from(this.xyz), triangles: Uint32Array.from(this.faces) };
  }
}
