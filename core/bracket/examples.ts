import { KINDS } from './kinds';
import { bracketSpecOf } from './spec';
import type { BracketSpec } from './types';
import type { BracketKind } from '../job';

const MOUNTED = { strut: 's1', end: 'base' } as const;

/** Brackets of our own, one of each kind, all numbers different. */
export const sampleOf = (kind: BracketKind): BracketSpec => bracketSpecOf({ ...KINDS[kind].sample, ...MOUNTED });
export const hatchBracket = sampleOf('bent-angle');
export const tabBracket = sampleOf('flat-tab');
export const gussetBracket = sampleOf('gusset-angle');
export const channelBracket = sampleOf('channel');
export const wedgeBracket = sampleOf('wedge-plate');

/** A small one with straight sides and sharp corners. */
export const guardBracket = bracketSpecOf({
  ...MOUNTED,
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
export const lockerBracket = bracketSpecOf({
  ...MOUNTED,
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

/** One of each kind and then some: tests, drawings and pictures are made from these. @internal for tests */
export const sampleBrackets: readonly BracketSpec[] = [
  hatchBracket,
  guardBracket,
  lockerBracket,
  tabBracket,
  gussetBracket,
  channelBracket,
  wedgeBracket,
];
