// Stems on mounts, and the best azimuth against a brute grid.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { azimuthAndTilt, inRange, mountFrame, stemFromMount } from '../../../core/joint';
import { toDeg, toRad } from '../../../core/space';
import { direction } from '../../support/arbitrary';
import type { V3 } from '../../support/build';
import { expectClose, within } from '../../support/close';
import { dir, inner, outer, size, spin } from '../../support/naive';
import { refusal } from '../../support/refusal';

const mount = fc
  .record({ normal: direction, reference: direction })
  .filter(({ normal, reference }) => Math.abs(inner(dir(normal), dir(reference))) < 0.97);
const azimuth = fc.double({ min: -179.9, max: 179.9, noNaN: true });
const tilt = fc.double({ min: -89, max: 89, noNaN: true });

describe('mount and stem', () => {
  it('the frame is right-handed and square: e lies in the surface on the reference’s side, m is the normal', () => {
    fc.assert(
      fc.property(mount, (mt) => {
        const { e, side, m } = mountFrame(mt);
        for (const v of [e, side, m]) expectClose(size(v), 1, within(1e-12, '1'));
        expectClose([inner(e, m), inner(e, side), inner(side, m)], [0, 0, 0], within(1e-12, '1'));
        expectClose(outer(m, e), side, within(1e-12, '1'));
        expectClose(m, dir(mt.normal), within(1e-12, '1'));
        expect(inner(e, mt.reference)).toBeGreaterThan(0);
      }),
    );
  });
  it('azimuth is a turn of the stem about the normal, tilt a lean toward it; the lengths of the vectors say nothing', () => {
    fc.assert(
      fc.property(mount, azimuth, tilt, fc.double({ min: 0.01, max: 100, noNaN: true }), (mt, az, ti, k) => {
        const n = stemFromMount(mt, toRad(az), toRad(ti));
        const { e, m } = mountFrame(mt);
        // spin e about m, then lean it about the axis square to both
        const flat = spin(e, m, toRad(az));
        expectClose(n, spin(flat, outer(flat, m), toRad(ti)), within(1e-12, '1'));
        const longer = {
          normal: mt.normal.map((v) => v * k) as unknown as V3,
          reference: mt.reference.map((v) => v / k) as unknown as V3,
        };
        expectClose(stemFromMount(longer, toRad(az), toRad(ti)), n, within(1e-12, '1'));
      }),
    );
  });
  it('azimuth and tilt come back from the stem', () => {
    fc.assert(
      fc.property(mount, azimuth, tilt, (mt, az, ti) => {
        const back = azimuthAndTilt(mt, stemFromMount(mt, toRad(az), toRad(ti)));
        expectClose([toDeg(back.azimuthRad), toDeg(back.tiltRad)], [az, ti], within(1e-8, '°'));
      }),
    );
  });
  it('a stem along the normal has azimuth 0', () => {
    const mt = { normal: [0.3, -2, 1] as V3, reference: [1, 0.4, 0] as V3 };
    expectClose(azimuthAndTilt(mt, mt.normal).azimuthRad, 0, within(0, 'rad'));
    expectClose(toDeg(azimuthAndTilt(mt, mt.normal).tiltRad), 90, within(1e-9, '°'));
  });
  it('a normal of no length and a reference along the normal are refused', () => {
    expect(refusal(() => mountFrame({ normal: [0, 0, 0], reference: [1, 0, 0] })).where).toEqual(['normal']);
    expect(refusal(() => mountFrame({ normal: [1, 2, -3], reference: [-2, -4, 6] })).where).toEqual(['reference']);
    expect(refusal(() => mountFrame({ normal: [1, 2, -3], reference: [0, 0, 0] })).where).toEqual(['reference']);
  });
});

describe('inRange', () => {
  it('says in, out, or not known', () => {
    expect([72, 71.9, 108, 108.1, NaN].map((a) => inRange(a, 18))).toEqual([true, false, true, false, null]);
  });
});
