import { type Rad, cos, rad, sin, toRad } from '../../../core/space';

/** Unit-radius mesh data about the z axis, which stands for the strut. */
export interface BandMesh {
  readonly positions: Float32Array;
  readonly index: Uint16Array;
}

const steps = (segments: number): Rad[] =>
  Array.from({ length: segments + 1 }, (_, i) => rad((i / segments) * 2 * Math.PI));

/**
 * The belt of a unit sphere through which a stem may pass: every direction within `rangeDeg` of square to the z axis.
 * rangeDeg is held to 0 … 90.
 */
export function beltMesh(rangeDeg: number, segments = 48): BandMesh {
  const range = toRad(Math.min(Math.max(rangeDeg, 0), 90));
  const rows = Math.max(2, Math.ceil(rangeDeg / 6));
  const positions = new Float32Array((rows + 1) * (segments + 1) * 3);
  let p = 0;
  for (let r = 0; r <= rows; r++) {
    const latitude = rad(-range + (2 * range * r) / rows);
    for (const around of steps(segments)) {
      positions[p++] = cos(latitude) * cos(around);
      positions[p++] = cos(latitude) * sin(around);
      positions[p++] = sin(latitude);
    }
  }
  const index = new Uint16Array(rows * segments * 6);
  let q = 0;
  for (let r = 0; r < rows; r++)
    for (let s = 0; s < segments; s++) {
      const a = r * (segments + 1) + s;
      const b = a + segments + 1;
      index.set([a, a + 1, b, b, a + 1, b + 1], q);
      q += 6;
    }
  return { positions, index };
}

/** The two cones, apex in the ball, that bound the belt: the stem leaves its working range where it passes one. */
export function conesMesh(rangeDeg: number, segments = 48): BandMesh {
  const range = toRad(Math.min(Math.max(rangeDeg, 0), 90));
  const positions = new Float32Array((1 + 2 * (segments + 1)) * 3);
  const index = new Uint16Array(2 * segments * 3);
  let p = 3;
  let q = 0;
  for (const side of [-1, 1]) {
    const first = p / 3;
    for (const around of steps(segments)) {
      positions[p++] = cos(range) * cos(around);
      positions[p++] = cos(range) * sin(around);
      positions[p++] = side * sin(range);
    }
    for (let s = 0; s < segments; s++) {
      index.set(side > 0 ? [0, first + s, first + s + 1] : [0, first + s + 1, first + s], q);
      q += 3;
    }
  }
  return { positions, index };
}

/** Belt and cones as one mesh. */
export function bandMesh(rangeDeg: number, segments = 48): BandMesh {
  const belt = beltMesh(rangeDeg, segments);
  const cones = conesMesh(rangeDeg, segments);
  const shift = belt.positions.length / 3;
  return {
    positions: Float32Array.from([...belt.positions, ...cones.positions]),
    index: Uint16Array.from([...belt.index, ...cones.index.map((i) => i + shift)]),
  };
}

/** The rims of both cones on the unit sphere, as closed rings of [x, y, z]. */
export function bandRims(rangeDeg: number, segments = 48): [number, number, number][][] {
  const range = toRad(Math.min(Math.max(rangeDeg, 0), 90));
  return [-1, 1].map((side) =>
    steps(segments)
      .slice(0, -1)
      .map((around) => [cos(range) * cos(around), cos(range) * sin(around), side * sin(range)]),
  );
}
