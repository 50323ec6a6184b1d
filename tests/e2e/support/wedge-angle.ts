import { type P, type Solid, crossOf } from '../../core/joint/stl-reader';

/** The angle between the two largest faces of a solid, degrees: of a wedge, the one it stands on and the sloping one. */
export function wedgeAngleDeg({ facets }: Solid): number {
  const faces: { normal: P; area: number }[] = [];
  for (const facet of facets) {
    const n = crossOf(facet);
    const size = Math.hypot(...n);
    if (size < 1e-9) continue;
    const normal = n.map((x) => x / size) as P;
    const face = faces.find((f) => f.normal.every((x, i) => Math.abs(x - normal[i]!) < 1e-4));
    if (face) face.area += size / 2;
    else faces.push({ normal, area: size / 2 });
  }
  const [a, b] = faces.sort((p, q) => q.area - p.area) as [(typeof faces)[0], (typeof faces)[0]];
  // they look away from each other: what lacks of half a turn is the wedge
  return 180 - (Math.acos(a.normal.reduce((s, x, i) => s + x * b.normal[i]!, 0)) * 180) / Math.PI;
}
