/**
 * Our own sum for a point turned about the line a → b: it is split along, square to and across the line.
 * mm and radians; right-handed about a → b.
 */
export function turnAbout(
  a: readonly number[],
  b: readonly number[],
  p: readonly number[],
  angleRad: number,
): [number, number, number] {
  const d = [0, 1, 2].map((k) => b[k]! - a[k]!);
  const span = Math.hypot(...d);
  const e = d.map((v) => v / span);
  const r = [0, 1, 2].map((k) => p[k]! - a[k]!);
  const along = e[0]! * r[0]! + e[1]! * r[1]! + e[2]! * r[2]!;
  const across = [e[1]! * r[2]! - e[2]! * r[1]!, e[2]! * r[0]! - e[0]! * r[2]!, e[0]! * r[1]! - e[1]! * r[0]!] as const;
  const [c, s] = [Math.cos(angleRad), Math.sin(angleRad)];
  const at = (k: 0 | 1 | 2): number => a[k]! + along * e[k]! + c * (r[k]! - along * e[k]!) + s * across[k];
  return [at(0), at(1), at(2)];
}
