/** A closed triangle mesh: x, y, z of each corner in mm, three corner numbers a triangle, counter-clockwise from outside. */
export interface TriangleMesh {
  readonly positionsMm: Float64Array;
  readonly triangles: Uint32Array;
}
