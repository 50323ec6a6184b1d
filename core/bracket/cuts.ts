import { toRad } from '../space';
import { type Contour, roundedPolygon } from './contour';
import type { BlankHole, BracketSpec } from './kinds';
import { type BodyLayout, studInBlank } from './layout';

/** Holes of the body's blank, fixings first; checks nothing. */
export function bodyHoles(spec: BracketSpec, layout: BodyLayout): BlankHole[] {
  const fixings = spec.fixings.map((f): BlankHole => ({
    id: f.id,
    role: 'fixing',
    centre: [0 - f.acrossMm, layout.baseEndMm + f.fromEndMm],
    diameterMm: f.diameterMm,
    slotMm: f.slotMm,
    // along the bracket is the blank's second axis, +y its first axis backwards
    slotRad: toRad(f.slotDeg + 90),
  }));
  const centre = studInBlank(spec, layout);
  const round = { diameterMm: spec.studHole.diameterMm, slotMm: 0, slotRad: 0 };
  if (spec.kind !== 'channel') return [...fixings, { id: 'stud', role: 'stud', centre, ...round }];
  return [
    ...fixings,
    { id: 'pin-near', role: 'pin', centre, ...round },
    { id: 'pin-far', role: 'pin', centre: [centre[0], layout.lengthMm - centre[1]], ...round },
  ];
}

/** The gusset's outline: its corner is snipped off straight, just clear of the bend's inside radius. */
export function gussetOutline(spec: BracketSpec): Contour {
  const { alongMm, upMm } = spec.gusset!;
  const snip = spec.insideRadiusMm;
  const corners: readonly (readonly [number, number])[] =
    snip > 0
      ? [
          [snip, 0],
          [alongMm, 0],
          [0, upMm],
          [0, snip],
        ]
      : [
          [0, 0],
          [alongMm, 0],
          [0, upMm],
        ];
  return roundedPolygon(corners.map((at) => ({ at, radiusMm: 0 })));
}
