/** Bits of a point: what 32-bit sums hold. */
const BITS = 32;

/**
 * Direction numbers of dimensions 2 to 64: a of the primitive polynomial, then m₁ … m_s; its degree s is how many there are.
 * Source: Joe & Kuo, "Constructing Sobol sequences with better two-dimensional projections", SIAM J. Sci. Comput. 30 (2008)
 * 2635–2654, their list new-joe-kuo-6.21201, as SciPy 1.17 ships it.
 */
// prettier-ignore
const DIRECTIONS: readonly (readonly number[])[] = [
  [0, 1],
  [1, 1, 3],
  [1, 1, 3, 1],
  [2, 1, 1, 1],
  [1, 1, 1, 3, 3],
  [4, 1, 3, 5, 13],
  [2, 1, 1, 5, 5, 17],
  [4, 1, 1, 5, 5, 5],
  [7, 1, 1, 7, 11, 19],
  [11, 1, 1, 5, 1, 1],
  [13, 1, 1, 1, 3, 11],
  [14, 1, 3, 5, 5, 31],
  [1, 1, 3, 3, 9, 7, 49],
  [13, 1, 1, 1, 15, 21, 21],
  [16, 1, 3, 1, 13, 27, 49],
  [19, 1, 1, 1, 15, 7, 5],
  [22, 1, 3, 1, 15, 13, 25],
  [25, 1, 1, 5, 5, 19, 61],
  [1, 1, 3, 7, 11, 23, 15, 103],
  [4, 1, 3, 7, 13, 13, 15, 69],
  [7, 1, 1, 3, 13, 7, 35, 63],
  [8, 1, 3, 5, 9, 1, 25, 53],
  [14, 1, 3, 1, 13, 9, 35, 107],
  [19, 1, 3, 1, 5, 27, 61, 31],
  [21, 1, 1, 5, 11, 19, 41, 61],
  [28, 1, 3, 5, 3, 3, 13, 69],
  [31, 1, 1, 7, 13, 1, 19, 1],
  [32, 1, 3, 7, 5, 13, 19, 59],
  [37, 1, 1, 3, 9, 25, 29, 41],
  [41, 1, 3, 5, 13, 23, 1, 55],
  [42, 1, 3, 7, 3, 13, 59, 17],
  [50, 1, 3, 1, 3, 5, 53, 69],
  [55, 1, 1, 5, 5, 23, 33, 13],
  [56, 1, 1, 7, 7, 1, 61, 123],
  [59, 1, 1, 7, 9, 13, 61, 49],
  [62, 1, 3, 3, 5, 3, 55, 33],
  [14, 1, 3, 1, 15, 31, 13, 49, 245],
  [21, 1, 3, 5, 15, 31, 59, 63, 97],
  [22, 1, 3, 1, 11, 11, 11, 77, 249],
  [38, 1, 3, 1, 11, 27, 43, 71, 9],
  [47, 1, 1, 7, 15, 21, 11, 81, 45],
  [49, 1, 3, 7, 3, 25, 31, 65, 79],
  [50, 1, 3, 1, 1, 19, 11, 3, 205],
  [52, 1, 1, 5, 9, 19, 21, 29, 157],
  [56, 1, 3, 7, 11, 1, 33, 89, 185],
  [67, 1, 3, 3, 3, 15, 9, 79, 71],
  [70, 1, 3, 7, 11, 15, 39, 119, 27],
  [84, 1, 1, 3, 1, 11, 31, 97, 225],
  [97, 1, 1, 1, 3, 23, 43, 57, 177],
  [103, 1, 3, 7, 7, 17, 17, 37, 71],
  [115, 1, 3, 1, 5, 27, 63, 123, 213],
  [122, 1, 1, 3, 5, 11, 43, 53, 133],
  [8, 1, 3, 5, 5, 29, 17, 47, 173, 479],
  [13, 1, 3, 3, 11, 3, 1, 109, 9, 69],
  [16, 1, 1, 1, 5, 17, 39, 23, 5, 343],
  [22, 1, 3, 1, 5, 25, 15, 31, 103, 499],
  [25, 1, 1, 1, 11, 11, 17, 63, 105, 183],
  [44, 1, 1, 5, 11, 9, 29, 97, 231, 363],
  [47, 1, 1, 5, 15, 19, 45, 41, 7, 383],
  [52, 1, 3, 7, 7, 31, 19, 83, 137, 221],
  [55, 1, 1, 1, 3, 23, 15, 111, 223, 83],
  [59, 1, 1, 5, 13, 31, 15, 55, 25, 161],
  [62, 1, 1, 3, 13, 25, 47, 39, 87, 257],
];

/** Most dimensions of a point. */
export const MOST_DIMENSIONS = DIRECTIONS.length + 1;

/**
 * A Sobol sequence of so many dimensions: each call writes the next point into `into`, numbers in [0, 1), in Gray-code order from
 * index 0. `shift` (32-bit whole numbers, one a dimension) turns every digit that it has set: a sequence as even as the plain one.
 */
export function sobol(dimensions: number, shift?: Uint32Array): (into: Float64Array) => void {
  const v = Array.from({ length: dimensions }, (_, d) => directionsOf(d));
  const x = new Uint32Array(dimensions);
  if (shift) x.set(shift.subarray(0, dimensions));
  let index = 0;
  return (into) => {
    if (index > 0) {
      // the digit that changes in Gray code: the lowest zero of the index before
      let c = 0;
      for (let i = index - 1; i & 1; i >>>= 1) c++;
      for (let d = 0; d < dimensions; d++) x[d]! ^= v[d]![c]!;
    }
    index++;
    for (let d = 0; d < dimensions; d++) into[d] = x[d]! / 4294967296;
  };
}

function directionsOf(dimension: number): Uint32Array {
  const v = new Uint32Array(BITS);
  if (dimension === 0) {
    for (let i = 0; i < BITS; i++) v[i] = (1 << (BITS - 1 - i)) >>> 0;
    return v;
  }
  const [a, ...m] = DIRECTIONS[dimension - 1]! as [number, ...number[]];
  const s = m.length;
  for (let i = 0; i < BITS; i++) {
    if (i < s) {
      v[i] = (m[i]! << (BITS - 1 - i)) >>> 0;
      continue;
    }
    let next = v[i - s]! ^ (v[i - s]! >>> s);
    for (let k = 1; k < s; k++) if ((a >> (s - 1 - k)) & 1) next ^= v[i - k]!;
    v[i] = next >>> 0;
  }
  return v;
}
