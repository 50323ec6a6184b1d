import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stemFromMount, turnTo } from '../../../core/joint';
import { type Vec3, add, rad, scale, toRad } from '../../../core/space';

const mount = { normal: [0, 0, 1], reference: [1, 0, 0] } as const;
const ball: Vec3 = [10, 20, 30];
const common = { mount, ball, reachMm: 100, pose: (v: Vec3): Vec3 => v };
const fromAbove = (p: Vec3): [number, number] => [p[0], p[1]];

describe('turning a stem to a place in a view', () => {
  it('brings its tip there, to a tenth of a degree', () => {
    fc.assert(
      fc.property(fc.integer({ min: -1799, max: 1800 }), fc.integer({ min: -500, max: 500 }), (turn, lean) => {
        const [azimuth, tilt] = [turn / 10, lean / 10];
        const tip = add(ball, scale(stemFromMount(mount, toRad(azimuth), toRad(tilt)), 100));
        const got = turnTo({
          ...common,
          azimuthDeg: 0,
          tiltDeg: tilt,
          what: 'azimuth',
          seen: fromAbove,
          to: fromAbove(tip),
        });
        expect(Math.abs(((got - azimuth + 540) % 360) - 180)).toBeLessThan(0.11);
        const side = (p: Vec3): [number, number] => [p[0], p[2]];
        // seen square to the stem a lean shows in full
        const level = add(ball, scale(stemFromMount(mount, rad(0), toRad(tilt)), 100));
        const leant = turnTo({ ...common, azimuthDeg: 0, tiltDeg: 0, what: 'tilt', seen: side, to: side(level) });
        expect(Math.abs(leant - tilt)).toBeLessThan(0.11);
      }),
    );
  });

  it('of two that look alike takes the one nearer to the present value', () => {
    // seen along the surface, 30° and −30° about the line of sight's square show the same
    const seen = (p: Vec3): [number, number] => [p[0], p[2]];
    const tip = seen(add(ball, scale(stemFromMount(mount, toRad(30), rad(0)), 100)));
    for (const [present, want] of [
      [20, 30],
      [-20, -30],
    ] as const)
      // prettier-ignore
      expect(turnTo({ ...common, azimuthDeg: present, tiltDeg: 0, what: 'azimuth', seen, to: tip })).toBeCloseTo(want, 0);
  });

  it('never leans further than a hand would', () => {
    const seen = (p: Vec3): [number, number] => [p[0], p[2]];
    const top = turnTo({ ...common, azimuthDeg: 0, tiltDeg: 0, what: 'tilt', seen, to: [10, 500] });
    expect(top).toBe(60);
  });
});
