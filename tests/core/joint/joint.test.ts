// Stems on mounts, and the best azimuth against a brute grid.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { azimuthAndTilt, bestAzimuth, mountFrame, stemFromMount } from '../../../core/joint';
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

describe('best azimuth', () => {
  it('is never worse than the best of a 0.05° grid by more than 0.05°, on 200 random travels', () => {
    fc.assert(
      fc.property(
        mount,
        fc.double({ min: -60, max: 60, noNaN: true }),
        direction,
        direction,
        fc.double({ min: 5, max: 140, noNaN: true }),
        (mt, tiltDeg, start, axis, sweepDeg) => {
          // the strut's direction swings about some axis, as it does in a lid
          const steps = 24;
          const directions = new Float64Array(3 * (steps + 1));
          for (let i = 0; i <= steps; i++)
            directions.set(spin(dir(start), dir(axis), toRad((sweepDeg * i) / steps)), 3 * i);
          const best = bestAzimuth(mt, tiltDeg, directions);
          const deviation = (azimuthDeg: number): number => {
            const n = stemFromMount(mt, toRad(azimuthDeg), toRad(tiltDeg));
            let worst = 0;
            for (let i = 0; i <= steps; i++) {
              const along = n[0] * directions[3 * i]! + n[1] * directions[3 * i + 1]! + n[2] * directions[3 * i + 2]!;
              worst = Math.max(worst, Math.abs(toDeg(Math.asin(Math.min(1, Math.max(-1, along))))));
            }
            return worst;
          };
          let brute = Infinity;
          const { e, side, m } = mountFrame(mt);
          const [a, b, c] = [e, side, m].map((v) =>
            Array.from({ length: steps + 1 }, (_, i) =>
              inner(v, [directions[3 * i]!, directions[3 * i + 1]!, directions[3 * i + 2]!]),
            ),
          );
          const [ct, st] = [Math.cos(toRad(tiltDeg)), Math.sin(toRad(tiltDeg))];
          for (let k = 0; k < 7200; k++) {
            const [cp, sp] = [ct * Math.cos((k * Math.PI) / 3600), ct * Math.sin((k * Math.PI) / 3600)];
            let worst = 0;
            for (let i = 0; i <= steps; i++) worst = Math.max(worst, Math.abs(cp * a![i]! + sp * b![i]! + st * c![i]!));
            brute = Math.min(brute, worst);
          }
          expectClose(best.deviationDeg, deviation(best.azimuthDeg), within(1e-6, '°'));
          expect(best.deviationDeg - toDeg(Math.asin(Math.min(1, brute)))).toBeLessThan(0.05);
          expect(best.azimuthDeg).toBeGreaterThan(-180);
          expect(best.azimuthDeg).toBeLessThanOrEqual(180);
        },
      ),
      {
        numRuns: 200,
        // once taken for a coarse grid's wrong valley: 0.07° off the best
        examples: [
          [
            { normal: [0.05, -2.15, -1.19], reference: [2.25, 1.31, 1.51] },
            60,
            [2.05, -0.22, -1.61],
            [-2.35, 0.96, -0.84],
            5,
          ],
        ],
      },
    );
  });
  it('a strut that lies in the mount’s plane is square to the azimuth across it', () => {
    const best = bestAzimuth(
      { normal: [0, 0, 3], reference: [2, 0, 0] },
      0,
      Float64Array.of(Math.cos(0.4), Math.sin(0.4), 0),
    );
    expectClose(Math.abs(Math.sin(toRad(best.azimuthDeg) - 0.4)), 1, within(1e-5, '1'));
    expectClose(best.deviationDeg, 0, within(0.06, '°'));
  });
});
