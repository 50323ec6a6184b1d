import type { BentAngle } from './spec';

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
