import { fail } from '../error';

/** A point of a plane, mm. */
export type Flat = readonly [number, number];

const turn = (a: Flat, b: Flat, c: Flat): number => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
const inTriangle = (p: Flat, a: Flat, b: Flat, c: Flat): boolean =>
  turn(a, b, p) >= 0 && turn(b, c, p) >= 0 && turn(c, a, p) >= 0;

const torn = (what: string): never =>
  fail(
    `its outline and holes can’t be cut into triangles: ${what}`,
    [],
    'Move or shrink a hole, or change a width a little: something touches or crosses something else.',
  );
const placeWords = ([x, y]: Flat): string => `(${x.toFixed(2)}, ${y.toFixed(2)})`;

/** Opens a hole into the ring round it by a slit between two corners that see each other. */
function slit(ring: number[], hole: readonly number[], at: readonly Flat[]): number[] {
  let h = 0;
  hole.forEach((v, i) => {
    if (at[v]![0] > at[hole[h]!]![0]) h = i;
  });
  const m = at[hole[h]!]!;
  // straight to the right: the first side of the ring that is met there
  let reach = Infinity;
  let seen = -1;
  ring.forEach((v, i) => {
    const [a, b] = [at[v]!, at[ring[(i + 1) % ring.length]!]!];
    // only sides that run upward have the inside on their left, where the hole is
    if (!(a[1] <= m[1] && b[1] >= m[1]) || a[1] === b[1]) return;
    const x = a[0] + ((m[1] - a[1]) * (b[0] - a[0])) / (b[1] - a[1]);
    if (x < m[0] || x >= reach) return;
    reach = x;
    seen = a[0] > b[0] ? i : (i + 1) % ring.length;
  });
  if (seen < 0) return torn(`the hole whose rim reaches ${placeWords(m)} lies outside of it`);
  const hit: Flat = [reach, m[1]];
  let p = at[ring[seen]!]!;
  // a corner that stands in the triangle between would cut the view: the one nearest to level takes over
  let slope = Math.abs(p[1] - m[1]) / (p[0] - m[0]);
  const [u, v, w]: Flat[] = p[1] > m[1] ? [m, hit, p] : [m, p, hit];
  ring.forEach((r, i) => {
    const q = at[r]!;
    if (q[0] <= m[0] || (q[0] === p[0] && q[1] === p[1]) || !inTriangle(q, u!, v!, w!)) return;
    const here = Math.abs(q[1] - m[1]) / (q[0] - m[0]);
    if (here < slope) [slope, seen, p] = [here, i, q];
  });
  const round = [...hole.slice(h), ...hole.slice(0, h), hole[h]!];
  return [...ring.slice(0, seen + 1), ...round, ...ring.slice(seen)];
}

/**
 * Triangles (counter-clockwise, three numbers of corners each) of a flat shape with holes. `outer` runs counter-clockwise,
 * each hole clockwise, all as numbers into `at`; holes lie inside and apart. By slits to the holes, then ears cut off one by one.
 * Throws a LidwrightError where that leaves a gap: every corner is on a triangle, or there are none.
 * Source: D. Eberly, "Triangulation by Ear Clipping" (from memory).
 */
export function triangulate(
  at: readonly Flat[],
  outer: readonly number[],
  holes: readonly (readonly number[])[],
): number[] {
  const rightmost = (hole: readonly number[]): number => Math.max(...hole.map((v) => at[v]![0]));
  let ring = [...outer];
  for (const hole of [...holes].sort((a, b) => rightmost(b) - rightmost(a))) ring = slit(ring, hole, at);
  const triangles: number[] = [];
  while (ring.length > 3) {
    let ear = -1;
    let roundest = -1;
    for (let i = 0; i < ring.length; i++) {
      const [a, b, c] = [ring[(i + ring.length - 1) % ring.length]!, ring[i]!, ring[(i + 1) % ring.length]!];
      const [p, q, r] = [at[a]!, at[b]!, at[c]!];
      const area = turn(p, q, r);
      if (area <= 1e-12) continue;
      const blocked = ring.some((v) => {
        if (v === a || v === b || v === c) return false;
        return inTriangle(at[v]!, p, q, r);
      });
      if (blocked) continue;
      const longest = Math.max(
        Math.hypot(p[0] - q[0], p[1] - q[1]),
        Math.hypot(q[0] - r[0], q[1] - r[1]),
        Math.hypot(r[0] - p[0], r[1] - p[1]),
      );
      const shape = area / (longest * longest);
      if (shape > roundest) [roundest, ear] = [shape, i];
    }
    if (ear < 0) return torn(`it crosses itself near ${placeWords(at[ring[0]!]!)}`);
    triangles.push(ring[(ear + ring.length - 1) % ring.length]!, ring[ear]!, ring[(ear + 1) % ring.length]!);
    ring.splice(ear, 1);
  }
  if (ring.length < 3 || turn(at[ring[0]!]!, at[ring[1]!]!, at[ring[2]!]!) <= 0)
    return torn(`nothing is left of it near ${placeWords(at[ring[0] ?? 0] ?? [0, 0])}`);
  return [...triangles, ...ring];
}
