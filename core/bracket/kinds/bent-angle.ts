import { becomeAngle } from './become';
import { BASE_LEG, type Kind } from './kind';

export const bentAngle: Kind = {
  name: 'Bent angle',
  use: 'One leg on the mount, the stud through the leg that stands up.',
  legs: ['base', 'upright'],
  holds: 'stud',
  bothSides: true,
  sizes: [BASE_LEG],
  edges: ['free-end', 'upright-top', 'side', 'stud-side'],
  become: becomeAngle,
  sample: {
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
  },
};
