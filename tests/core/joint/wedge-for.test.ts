// Wedges for brackets and studs: holes under holes, thick end on the right side.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  fittingOf,
  footprintSize,
  holeOnFace,
  liftMm,
  stemFromMount,
  thickMm,
  thicknessAt,
  undersideOf,
  wedgeMesh,
  wedgeOfTilt,
  wedgeUnderBracket,
  wedgeUnderEnd,
  wedgeUnderStud,
  wedgeWithTurn,
} from '../../../core/joint';
import { rad, toRad } from '../../../core/space';
import { expectClose, within } from '../../support/close';

const common = { id: 'w', name: 'W', thinMm: 3, material: { name: 'Steel', densityKgM3: 7850 } };
const bracket = {
  baseLegMm: 52,
  baseWidthMm: 70,
  fixings: [-21, 21].map((acrossMm) => ({ acrossMm, fromEndMm: 15, diameterMm: 9 })),
};

describe('a wedge for a tilt', () => {
  it('is the one that brings a stem lying in the surface to its tilt', () => {
    const mount = { normal: [0.2, -1, 3] as const, reference: [1, 0.4, 0] as const };
    fc.assert(
      fc.property(
        fc.double({ min: -179, max: 179, noNaN: true }),
        fc.double({ min: -44, max: 44, noNaN: true }),
        (azimuth, tilt) => {
          if (Math.abs(tilt) < 0.01) return;
          const flat = stemFromMount(mount, toRad(azimuth), rad(0));
          const leaning = stemFromMount(mount, toRad(azimuth), toRad(tilt));
          const w = wedgeWithTurn(mount, flat, leaning);
          const { angleDeg, thickAzimuthDeg } = wedgeOfTilt(azimuth, tilt);
          expectClose(angleDeg, w.angleDeg, within(1e-9, '°'));
          expectClose(Math.cos(toRad(thickAzimuthDeg - w.thickAzimuthDeg)), 1, within(1e-9, '1'));
        },
      ),
    );
  });
  it('under a bracket: face as long as the base leg, holes under its holes, on the end away from the stem', () => {
    for (const tilt of [12, -12]) {
      const w = wedgeUnderBracket(tilt, bracket, common);
      const c = Math.cos(toRad(12));
      expectClose(footprintSize(w).lengthMm / c, 52, within(1e-9, 'mm'));
      // along the slope from the face's middle: 26 − 15 toward the free end, which is the thin one when the stem leans up
      for (const h of w.holes) expectClose(holeOnFace(w, h) / c, tilt > 0 ? -11 : 11, within(1e-9, 'mm'));
      expectClose(w.holes[1]!.yMm - w.holes[0]!.yMm, tilt > 0 ? 42 : -42, within(1e-9, 'mm'));
      expect(wedgeMesh(w).triangles.length).toBeGreaterThan(100);
    }
  });
  it('under a stud: its hole in the middle of the face, wide enough to seat the head', () => {
    const w = wedgeUnderStud(-7, 9, fittingOf('angled-ball-13-m8'), common);
    expectClose(holeOnFace(w, w.holes[0]!), 0, within(1e-9, 'mm'));
    expect(footprintSize(w).lengthMm).toBe(39);
    expect(w.angleDeg).toBe(7);
    expect(wedgeUnderStud(7, 9, undefined, common).footprint).toEqual({ kind: 'round', diameterMm: 27 });
  });
  it('under an end: as its bracket needs it, or as typed with the stud in its middle', () => {
    const typed = { lengthMm: 50, widthMm: 40, thinMm: 3, holeMm: 8.4 };
    const w = wedgeUnderEnd('lid', -12, bracket, typed);
    expect(w).toEqual(wedgeUnderBracket(-12, bracket, { ...common, id: w.id, name: w.name, material: w.material }));
    expect(wedgeUnderEnd('base', -7, null, typed)).toMatchObject({
      name: 'Mount wedge, base end',
      angleDeg: 7,
      footprint: { kind: 'rectangle', lengthMm: 50, widthMm: 40 },
      holes: [{ xMm: 0, yMm: 0, diameterMm: 8.4 }],
    });
  });
  it('the underside and the face say the same about a hole, and the lift is the middle thickness', () => {
    const w = wedgeUnderStud(20, 7, undefined, common);
    for (const x of [-4, 0, 3.3]) {
      const below = undersideOf(w, footprintSize(w).lengthMm, x);
      expectClose(holeOnFace(w, { xMm: below, yMm: 0, diameterMm: 7 }), x, within(1e-9, 'mm'));
    }
    expectClose(liftMm(w), (3 + thickMm(w)) / 2, within(1e-9, 'mm'));
    expectClose(thicknessAt(w, -footprintSize(w).lengthMm / 2), 3, within(1e-9, 'mm'));
  });
});
