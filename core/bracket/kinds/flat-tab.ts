import { becomePlate } from './become';
import { BASE_LEG, type Kind } from './kind';

export const flatTab: Kind = {
  name: 'Flat tab',
  use: 'A plate that stands out over an edge; the stud goes through it.',
  legs: ['base'],
  holds: 'stud',
  bothSides: true,
  sizes: [BASE_LEG],
  edges: ['free-end', 'stud-end', 'side', 'stud-side'],
  become: becomePlate,
  /** A tab along a coaming, its stud towards the opening, slots along it for setting. */
  sample: {
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
  },
};
