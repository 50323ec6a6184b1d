import fc from 'fast-check';
import { type BentAngle, checkBracket } from '../../../core/bracket';

/** Brackets of our own, all numbers different. */
export const hatchBracket: BentAngle = {
  id: 'b1',
  name: 'Lid bracket',
  kind: 'bent-angle',
  thicknessMm: 4,
  insideRadiusMm: 5,
  baseLegMm: 52,
  uprightLegMm: 61,
  baseWidthMm: 70,
  topWidthMm: 34,
  baseCornerRadiusMm: 6,
  topCornerRadiusMm: 12,
  baseHole: { diameterMm: 9, spacingMm: 42, fromEndMm: 15 },
  studHole: { diameterMm: 11, heightMm: 44 },
  material: { name: 'Stainless steel 1.4301', densityKgM3: 7900 },
};

/** A small one with straight sides and sharp corners. */
export const guardBracket: BentAngle = {
  id: 'b2',
  name: 'Guard bracket',
  kind: 'bent-angle',
  thicknessMm: 2,
  insideRadiusMm: 2.5,
  baseLegMm: 24,
  uprightLegMm: 31,
  baseWidthMm: 38,
  topWidthMm: 38,
  baseCornerRadiusMm: 0,
  topCornerRadiusMm: 0,
  baseHole: { diameterMm: 5.5, spacingMm: 20, fromEndMm: 9 },
  studHole: { diameterMm: 6.6, heightMm: 20.5 },
  material: { name: 'Steel S235', densityKgM3: 7850 },
};

/** A big one whose top is wider than its base. */
export const lockerBracket: BentAngle = {
  id: 'b3',
  name: 'Locker bracket',
  kind: 'bent-angle',
  thicknessMm: 6.35,
  insideRadiusMm: 8,
  baseLegMm: 96,
  uprightLegMm: 148,
  baseWidthMm: 80,
  topWidthMm: 92,
  baseCornerRadiusMm: 15,
  topCornerRadiusMm: 20,
  baseHole: { diameterMm: 11, spacingMm: 50, fromEndMm: 26 },
  studHole: { diameterMm: 10.2, heightMm: 118.25 },
  material: { name: 'Aluminium EN AW-5754', densityKgM3: 2670 },
};

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
