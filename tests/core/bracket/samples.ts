import fc from 'fast-check';
import { type BentAngle, checkBracket } from '../../../core/bracket';

const between = (low: number, high: number) =>
  fc.integer({ min: 0, max: 10_000 }).map((n) => Math.round((low + ((high - low) * n) / 10_000) * 100) / 100);

/** Any bracket that can be made: drawn freely, then kept when no check fails. */
export const makeableBracket: fc.Arbitrary<BentAngle> = fc
  .record({
    t: between(1, 10),
    ratio: between(0.3, 6),
    base: between(15, 180),
    upright: between(15, 260),
    width: between(20, 160),
    taper: fc.oneof(fc.constant(1), between(0.35, 1.3)),
    baseCorner: fc.oneof(fc.constant(0), between(0, 0.5)),
    topCorner: fc.oneof(fc.constant(0), between(0, 0.5)),
    hole: between(3, 16),
    spacing: between(0.2, 0.85),
    fromEnd: between(0.15, 0.8),
    stud: between(4, 16),
    height: between(0.3, 0.9),
    density: between(1500, 8900),
  })
  .map((r): BentAngle => {
    const two = (x: number): number => Math.round(x * 100) / 100;
    const topWidthMm = two(r.width * r.taper);
    return {
      id: 'r',
      name: 'Random',
      kind: 'bent-angle',
      thicknessMm: r.t,
      insideRadiusMm: two(r.t * r.ratio),
      baseLegMm: r.base,
      uprightLegMm: r.upright,
      baseWidthMm: r.width,
      topWidthMm,
      baseCornerRadiusMm: two(r.width * r.baseCorner),
      topCornerRadiusMm: two(topWidthMm * r.topCorner),
      baseHole: { diameterMm: r.hole, spacingMm: two(r.width * r.spacing), fromEndMm: two(r.base * r.fromEnd) },
      studHole: { diameterMm: r.stud, heightMm: two(r.upright * r.height) },
      material: { name: 'Sheet', densityKgM3: r.density },
    };
  })
  .filter((spec) => !checkBracket(spec).some((issue) => issue.severity === 'fails'));
