import type { WedgeSpec } from './wedge-spec';

/** Wedges of our own, all numbers different. */
export const hatchWedge: WedgeSpec = {
  id: 'w1',
  name: 'Wedge under the base bracket',
  angleDeg: 11,
  footprint: { kind: 'rectangle', lengthMm: 54, widthMm: 62 },
  thinMm: 3,
  squareTo: 'underside',
  holes: [
    { xMm: -11, yMm: -18, diameterMm: 6.6 },
    { xMm: -11, yMm: 18, diameterMm: 6.6 },
  ],
  material: { name: 'Aluminium EN AW-6082', densityKgM3: 2700 },
};

/** A round one under a single ball stud, its hole square to the face. */
export const studWedge: WedgeSpec = {
  id: 'w2',
  name: 'Wedge washer, lid stud',
  angleDeg: 6.5,
  footprint: { kind: 'round', diameterMm: 38 },
  thinMm: 2.5,
  squareTo: 'face',
  holes: [{ xMm: 0, yMm: 0, diameterMm: 9 }],
  material: { name: 'Stainless steel 1.4301', densityKgM3: 7900 },
};

/** A steep one with a single hole. @internal for tests */
export const steepWedge: WedgeSpec = {
  id: 'w3',
  name: 'Steep wedge, locker',
  angleDeg: 32,
  footprint: { kind: 'rectangle', lengthMm: 46, widthMm: 37 },
  thinMm: 4,
  squareTo: 'face',
  holes: [{ xMm: 2, yMm: 0, diameterMm: 11 }],
  material: { name: 'Printed ASA', densityKgM3: 1070 },
};
