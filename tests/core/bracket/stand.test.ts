import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ballAt, type BracketSpec, hardwareBodies, outOfBracket, standBracket } from '../../../core/bracket';
import { sampleBrackets, tabBracket, wedgeBracket } from '../../../core/bracket/examples';
import type { Strut } from '../../../core/job';
import { stemFromMount } from '../../../core/joint';
import { type Vec3, add, cross, distance, dot, norm, rad, sub, toRad } from '../../../core/space';
import { runs } from '../../support/tier';

type End = Strut['ends']['base'];
const end = (mount: End['mount'], azimuthDeg: number, tiltDeg: number): End =>
  ({ fitting: 'ball-stud', rangeDeg: 18, mount, azimuthDeg, tiltDeg }) as End;
const part = fc.double({ min: -3, max: 3, noNaN: true });
const vec: fc.Arbitrary<Vec3> = fc.tuple(part, part, part);

/** Tilt of the stem each kind can hold, degrees. */
const ownTilt = (spec: BracketSpec): number =>
  spec.wedge ? 90 - spec.wedge.tiltDeg : spec.kind === 'flat-tab' ? (spec.ballSide === 'inside' ? -90 : 90) : 0;

describe('standBracket', () => {
  const anySpec = fc.tuple(fc.constantFrom(...sampleBrackets), fc.boolean()).map(([spec, inside]): BracketSpec => ({
    ...spec,
    ballSide: inside && spec.kind !== 'wedge-plate' ? 'inside' : 'outside',
  }));

  it('puts the ball where the joint is, the underside on the mount, the stem over the azimuth asked for', () => {
    fc.assert(
      fc.property(
        anySpec,
        vec,
        vec,
        vec,
        fc.integer({ min: -179, max: 180 }),
        (spec, ball, normal, reference, azimuthDeg) => {
          fc.pre(norm(cross(normal, reference)) > 1e-2 && norm(normal) > 0.1);
          const mount = { normal, reference };
          const stand = standBracket({ end: end(mount, azimuthDeg, ownTilt(spec)), ball, spec })!;
          const { x, y, z } = stand.axes;
          expect(dot(cross(x, y), z)).toBeCloseTo(1, 9);
          expect(dot(z, normal)).toBeCloseTo(norm(normal), 9);
          expect(distance(add(stand.originMm, outOfBracket(stand, ballAt(spec))), ball)).toBeLessThan(1e-9);
          expect(stand.stemMismatchDeg).toBeLessThan(1e-4);
          expect(stand.tiltDeg).toBeCloseTo(ownTilt(spec), 5);
          const turn = (stand.azimuthDeg - azimuthDeg + 540) % 360;
          expect(Math.abs(turn - 180)).toBeLessThan(1e-5);
        },
      ),
      { seed: 20261125, numRuns: runs(3000) },
    );
  });

  it('says how far the stem in the job is off, and what would agree', () => {
    const mount = { normal: [0, 0, 1], reference: [1, 0, 0] } as End['mount'];
    const stand = standBracket({ end: end(mount, 25, 60), ball: [0, 0, 0], spec: wedgeBracket })!;
    expect(stand.stemMismatchDeg).toBeCloseTo(16, 6);
    expect([stand.azimuthDeg, stand.tiltDeg].map((deg) => Number(deg.toFixed(6)))).toEqual([25, 76]);
    const bent = standBracket({ end: end(mount, 25, -12), ball: [0, 0, 0], spec: sampleBrackets[0]! })!;
    expect(bent.stemMismatchDeg).toBeCloseTo(12, 6);
    const tab = standBracket({ end: end(mount, 25, 0), ball: [0, 0, 0], spec: tabBracket })!;
    expect(tab.stemMismatchDeg).toBeCloseTo(90, 6);
    expect(norm(sub(tab.axes.x, stemFromMount(mount!, toRad(25), rad(0))))).toBeLessThan(1e-9);
    expect(
      standBracket({ end: { ...end(mount, 0, 0), mount: undefined } as End, ball: [0, 0, 0], spec: tabBracket }),
    ).toBeNull();
  });
});

describe('hardwareBodies', () => {
  it('gives each fixing a shank, a washer and a head on the plate, and ends the stud at the ball', () => {
    for (const spec of sampleBrackets) {
      const bodies = hardwareBodies(spec);
      for (const f of spec.fixings)
        expect(bodies.filter((b) => b.of === f.id).map((b) => b.part)).toEqual(['shank', 'washer', 'head']);
      const neck = bodies.find((b) => b.part === 'stud');
      if (spec.kind === 'channel') expect(bodies.filter((b) => b.part === 'pin')).toHaveLength(3);
      else expect(distance(neck!.to, ballAt(spec))).toBeLessThan(1e-9);
      for (const body of bodies) expect(distance(body.from, body.to)).toBeGreaterThan(0);
    }
  });
});
