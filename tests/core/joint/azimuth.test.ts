// Angle against azimuth and the bands that hold: edges by direct evaluation.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { angleAgainstAzimuth, azimuthBand, bestAtTilt, wedgeWithTurn, type Mount } from '../../../core/joint';
import { rad, toDeg, toRad } from '../../../core/space';
import { direction } from '../../support/arbitrary';
import type { V3 } from '../../support/build';
import { expectClose, within } from '../../support/close';
import { dir, inner, plus, size, spin, times } from '../../support/naive';
import { anyMount, anySwing, seeded, stemBy, worstBy } from './swings';
import { runs } from '../../support/tier';

const tilt = fc.double({ min: -60, max: 60, noNaN: true });

describe('azimuth chart', () => {
  it('gives closed, open and worst angle at every azimuth', () => {
    fc.assert(
      fc.property(anySwing, anyMount, tilt, (swing, mount, tiltDeg) => {
        const chart = angleAgainstAzimuth(swing, mount, tiltDeg, 7.5);
        expect([chart.azimuthDeg[0], chart.azimuthDeg.at(-1), chart.azimuthDeg.length]).toEqual([-180, 180, 49]);
        for (let i = 0; i < 49; i += 6) {
          const n = stemBy(mount, chart.azimuthDeg[i]!, tiltDeg);
          const phi = (deg: number): number => toDeg(rad(Math.acos(inner(n, swing.at(deg) as V3))));
          expectClose(chart.closedDeg[i], phi(0), within(1e-5, '°'));
          expectClose(chart.openDeg[i], phi(swing.angleDeg.at(-1)!), within(1e-5, '°'));
          expectClose(chart.worstDeg[i], worstBy(swing, n), within(1e-5, '°'));
          expectClose(Math.abs(90 - phi(chart.worstAtDeg[i]!)), chart.worstDeg[i]!, within(1e-5, '°'));
        }
      }),
      { ...seeded, numRuns: runs(40) },
    );
  });
});

describe('azimuth band', () => {
  it('holds inside, breaks outside, and its edges are right to 1e-6°, on random lids', () => {
    const LIDS = runs(100);
    let bands = 0;
    fc.assert(
      fc.property(
        anySwing,
        anyMount,
        tilt,
        fc.double({ min: 0.3, max: 40, noNaN: true }),
        (swing, mount, tiltDeg, room) => {
          const least = bestAtTilt(swing, mount, tiltDeg).deviationDeg;
          const range = Math.min(70, least + room);
          if (range <= least) return;
          const found = azimuthBand(swing, mount, tiltDeg, range);
          const off = (a: number, fine = 2): number => worstBy(swing, stemBy(mount, a, tiltDeg), fine);
          expect(found.length).toBeGreaterThan(0);
          for (const band of found) {
            bands++;
            expect(band.widthDeg).toBeGreaterThan(0);
            if (band.widthDeg >= 360) continue;
            expectClose(((((band.toDeg - band.fromDeg) % 360) + 360) % 360) - band.widthDeg, 0, within(1e-9, '°'));
            // on the edge the joint is on its limit; a hair inside it holds, a hair outside it does not
            for (const [edge, into] of [
              [band.fromDeg, 1],
              [band.toDeg, -1],
            ] as const) {
              const hair = Math.min(1e-3, band.widthDeg / 4);
              expect(off(edge + into * hair, 24)).toBeLessThanOrEqual(range + 1e-7);
              expect(off(edge - into * 1e-3, 24)).toBeGreaterThan(range - 1e-7);
            }
            for (const share of [0.02, 0.3, 0.5, 0.77, 0.98])
              expect(off(band.fromDeg + share * band.widthDeg)).toBeLessThan(range + 1e-7);
          }
          // everything else breaks
          for (let a = -180; a < 180; a += 3.1) {
            const inside = found.some((b) => (((a - b.fromDeg) % 360) + 360) % 360 <= b.widthDeg);
            if (!inside) expect(off(a)).toBeGreaterThan(range - 0.02);
          }
        },
      ),
      { ...seeded, numRuns: LIDS },
    );
    expect(bands).toBeGreaterThan(0.75 * LIDS);
  });
  it('edges against halving on direct evaluation between the rows of the travel too', () => {
    fc.assert(
      fc.property(
        anySwing,
        anyMount,
        tilt,
        fc.double({ min: 1, max: 30, noNaN: true }),
        (swing, mount, tiltDeg, room) => {
          const range = Math.min(70, bestAtTilt(swing, mount, tiltDeg).deviationDeg + room);
          for (const band of azimuthBand(swing, mount, tiltDeg, range)) {
            if (band.widthDeg > 300 || band.widthDeg < 0.5) continue;
            for (const [edge, into] of [
              [band.fromDeg, 1],
              [band.toDeg, -1],
            ] as const) {
              // densely enough that what lies between two samples is under 1e-8°
              const holds = (a: number): boolean => worstBy(swing, stemBy(mount, a, tiltDeg), 400) <= range;
              let [good, bad] = [edge + into * 0.05, edge - into * 0.05];
              if (!holds(good) || holds(bad)) continue;
              for (let i = 0; i < 22; i++) {
                const middle = (good + bad) / 2;
                if (holds(middle)) good = middle;
                else bad = middle;
              }
              expectClose(edge, (good + bad) / 2, within(1e-6, '°'));
            }
          }
        },
      ),
      { ...seeded, numRuns: runs(30) },
    );
  });
  it('is empty under the best deviation and the whole circle at 90°', () => {
    fc.assert(
      fc.property(anySwing, anyMount, tilt, (swing, mount, tiltDeg) => {
        const least = bestAtTilt(swing, mount, tiltDeg).deviationDeg;
        if (least > 0.01) expect(azimuthBand(swing, mount, tiltDeg, least * 0.999 - 1e-4)).toEqual([]);
        expect(azimuthBand(swing, mount, tiltDeg, 90)).toEqual([{ fromDeg: -180, toDeg: 180, widthDeg: 360 }]);
      }),
      { ...seeded, numRuns: runs(60) },
    );
  });
});

describe('wedge between two stems', () => {
  const vec = (mount: Mount, azimuthDeg: number): V3 => stemBy(mount, azimuthDeg, 0);
  it('turning about the normal and leaning toward the thin end brings one stem to the other', () => {
    fc.assert(
      fc.property(anyMount, direction, direction, (mount, present, wanted) => {
        const w = wedgeWithTurn(mount, present, wanted);
        const m = dir(mount.normal as V3);
        // a wedge whose thick end lies toward azimuth a lifts that side: a turn about m × a, the other way round
        const turned = spin(dir(present), m, toRad(w.turnDeg));
        const thick = vec(mount, w.thickAzimuthDeg);
        const axis = dir([
          m[1] * thick[2] - m[2] * thick[1],
          m[2] * thick[0] - m[0] * thick[2],
          m[0] * thick[1] - m[1] * thick[0],
        ]);
        expectClose(spin(turned, axis, -toRad(w.angleDeg)), dir(wanted), within(1e-9, '1'));
      }),
      seeded,
    );
  });
  it('an upright stud needs no turn: its wedge gets thicker on the side it must lean away from', () => {
    const mount = { normal: [0, 0, 1] as V3, reference: [1, 0, 0] as V3 };
    const w = wedgeWithTurn(mount, [0, 0, 1], dir([Math.sin(0.2), 0, Math.cos(0.2)]));
    expectClose([w.angleDeg, w.turnDeg], [toDeg(rad(0.2)), 0], within(1e-9, '°'));
    // it must lean toward +x, so the thick end lies at −x
    expectClose(Math.abs(w.thickAzimuthDeg), 180, within(1e-9, '°'));
    expectClose(size(plus([1, 0, 0], times([1, 0, 0], -1))), 0, within(0, '1'));
  });
});
