import type { Bracket } from '../job';
import type { BracketSpec } from './kinds';
import { bracketSpecOf } from './spec';

const spec = (bracket: Omit<Bracket, 'strut' | 'end'>): BracketSpec =>
  bracketSpecOf({ ...bracket, strut: 's1', end: 'base' });

/** Brackets of our own, all numbers different. */
export const hatchBracket = spec({
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
  ballOffsetMm: 16,
  material: { name: 'Stainless steel 1.4301', densityKgM3: 7900 },
});

/** A small one with straight sides and sharp corners. */
export const guardBracket = spec({
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
  ballOffsetMm: 11,
  material: { name: 'Steel S235', densityKgM3: 7850 },
});

/** A big one whose top is wider than its base. */
export const lockerBracket = spec({
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
  ballOffsetMm: 18,
  material: { name: 'Aluminium EN AW-5754', densityKgM3: 2670 },
});

/** A tab along a coaming, its stud towards the opening, slots along it for setting. */
export const tabBracket = spec({
  id: 'b4',
  name: 'Coaming tab',
  kind: 'flat-tab',
  thicknessMm: 6,
  baseLegMm: 92,
  baseWidthMm: 50,
  topWidthMm: 32,
  baseCornerRadiusMm: 8,
  topCornerRadiusMm: 14,
  baseHole: { diameterMm: 6.6, spacingMm: 26, fromEndMm: 16, rows: 2, rowSpacingMm: 24, slotMm: 5, slotDeg: 0 },
  studHole: { diameterMm: 8.4, fromEndMm: 18 },
  ballOffsetMm: 13,
  material: { name: 'Stainless steel 1.4404', densityKgM3: 7980 },
});

/** An angle with two gussets, three free fixings and its ball on the inside. */
export const gussetBracket = spec({
  id: 'b5',
  name: 'Deck bracket',
  kind: 'gusset-angle',
  thicknessMm: 5,
  insideRadiusMm: 6,
  baseLegMm: 78,
  uprightLegMm: 83,
  baseWidthMm: 96,
  topWidthMm: 88,
  baseCornerRadiusMm: 7,
  topCornerRadiusMm: 16,
  fixings: [
    { id: 'f1', acrossMm: -28, fromEndMm: 15, diameterMm: 9 },
    { id: 'f2', acrossMm: 28, fromEndMm: 15, diameterMm: 9 },
    { id: 'f3', acrossMm: 0, fromEndMm: 30, diameterMm: 9, slotMm: 4, slotDeg: 90 },
  ],
  studHole: { diameterMm: 9, heightMm: 58 },
  ballOffsetMm: 17,
  ballSide: 'inside',
  gusset: { thicknessMm: 4, alongMm: 36, upMm: 42, count: 2, acrossMm: 38 },
  material: { name: 'Steel S355J2', densityKgM3: 7850 },
});

/** A channel for a rod end on a pin. */
export const channelBracket = spec({
  id: 'b6',
  name: 'Rod-end channel',
  kind: 'channel',
  thicknessMm: 4,
  insideRadiusMm: 4.5,
  baseLegMm: 38,
  gapMm: 30,
  uprightLegMm: 54,
  baseWidthMm: 104,
  topWidthMm: 36,
  baseCornerRadiusMm: 0,
  topCornerRadiusMm: 13,
  baseHole: { diameterMm: 9, spacingMm: 74, fromEndMm: 19 },
  studHole: { diameterMm: 10.2, heightMm: 38 },
  ballOffsetMm: 15,
  material: { name: 'Stainless steel 1.4301', densityKgM3: 7900 },
});

/** A wedge whose top leans along and across. */
export const wedgeBracket = spec({
  id: 'b7',
  name: 'Rail wedge',
  kind: 'wedge-plate',
  thicknessMm: 5,
  baseLegMm: 86,
  baseWidthMm: 48,
  topWidthMm: 40,
  baseCornerRadiusMm: 5,
  topCornerRadiusMm: 9,
  fixings: [
    { id: 'f1', acrossMm: -12, fromEndMm: 14, diameterMm: 6.6 },
    { id: 'f2', acrossMm: 12, fromEndMm: 14, diameterMm: 6.6 },
  ],
  studHole: { diameterMm: 8.4, fromEndMm: 26, acrossMm: 2 },
  ballOffsetMm: 13,
  wedge: { tiltDeg: 14, directionDeg: 20 },
  material: { name: 'Aluminium EN AW-6082', densityKgM3: 2700 },
});

/** One of each kind and then some: tests, drawings and pictures are made from these. */
export const sampleBrackets: readonly BracketSpec[] = [
  hatchBracket,
  guardBracket,
  lockerBracket,
  tabBracket,
  gussetBracket,
  channelBracket,
  wedgeBracket,
];
