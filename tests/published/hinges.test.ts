/*
Lids on two hinges held by a strut, stick or cable: statics problems of textbooks, built as jobs and run through the kernel.
The sources have y up: their (x, y, z) is our (x, −z, y). The pose of the source is the closed lid, so row 0 is read.
First the kernel's balance force is the source's force; then a strut of just that force leaves the hand nothing to do and
the hinges what the source says. Sources let one hinge take all axial force; the kernel reports its sum, which is compared.
*/
import { describe, it } from 'vitest';
import type { Job } from '../../core/job';
import { checkJob } from '../../core/result';
import { constantForce, lid, type V3 } from '../support/build';
import { expectClose, within } from '../support/close';

const G = 9.80665;
const INCH = 25.4;
const LBF = 4.4482216152605;

const ours = ([x, y, z]: V3, mm: number): V3 => [x * mm, -z * mm, y * mm];
const theirs = ([x, y, z]: readonly number[]): V3 => [x!, z!, -y!];

interface Problem {
  readonly a: V3;
  readonly b: V3;
  /** Weight in N and where it hangs. */
  readonly weightN: number;
  readonly g: V3;
  /** Where the strut takes hold of the lid, and the point it pushes from. */
  readonly at: V3;
  readonly from: V3;
  /** Length of the source's unit, mm. */
  readonly mm: number;
}

function solve(p: Problem): { balanceN: number; handN: number; a: V3; b: V3; axialN: number } {
  const strutMm = Math.hypot(...p.at.map((v, i) => v - p.from[i]!)) * p.mm;
  const job = (forceN: number): Job =>
    lid({
      a: ours(p.a, p.mm),
      b: ours(p.b, p.mm),
      grip: ours(p.g, p.mm),
      masses: [{ kg: p.weightN / G, at: ours(p.g, p.mm) }],
      struts: [
        {
          base: ours(p.from, p.mm),
          lid: ours(p.at, p.mm),
          spec: { ...constantForce(forceN, strutMm + 10, 24), toleranceN: [0, 0] },
        },
      ],
      openDeg: 1,
    });
  const balanceN = checkJob(job(100)).cases[0]!.travel.struts[0]!.balanceForceN[0]!;
  const t = checkJob(job(balanceN)).cases[0]!.travel;
  return {
    balanceN,
    handN: t.handOpeningN[0]!,
    a: theirs(t.hingeAN[0]!),
    b: theirs(t.hingeBN[0]!),
    axialN: t.hingeAxialN[0]!,
  };
}

describe('hinged lids of statics books', () => {
  // Beer & Johnston statics: Prob. 4.113 (ISBN 978-0073398242), 4.69 (978-0073398167): stick and A as printed, further digits and B
  // worked out. The problem lets hinge A carry no axial force; here nothing pulls along the axis at all.
  it('a window on two hinges held out by a stick: stick 19.62 N, A (−19.22, 45.1, 0), B (0, 49.05, 0) N', () => {
    const open = 2 * Math.asin(0.3 / 1.5);
    expectClose((open * 180) / Math.PI, 23.0739, within(5e-5, '°'));
    const [s, c] = [Math.sin(open), Math.cos(open)];
    const r = solve({
      a: [0, 0, 0.9],
      b: [0, 0, 0],
      weightN: 98.1,
      g: [0.75 * s, -0.75 * c, 0.45],
      at: [1.5 * s, -1.5 * c, 0.9],
      from: [0, -1.5, 0.9],
      mm: 1000,
    });
    expectClose(r.balanceN, 19.62, within(1e-5, 'N'));
    expectClose(r.handN, 0, within(1e-6, 'N'));
    expectClose(r.a, [-19.223596, 45.126, 0], within(1e-5, 'N'));
    expectClose(r.b, [0, 49.05, 0], within(1e-5, 'N'));
    expectClose(r.axialN, 0, within(1e-6, 'N'));
  });

  const cover = (kg: number, deg: number): ReturnType<typeof solve> => {
    const [x, y] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
    return solve({
      a: [0, 0, 0.6],
      b: [0, 0, 0],
      weightN: kg * 9.81,
      g: [0.45, 0, 0.3],
      at: [0.9, 0, 0.6],
      from: [0.9 - 0.4 * x, -0.4 * y, 0.6],
      mm: 1000,
    });
  };
  // Beer & Johnston, the roof cover on two hinges held level by a brace (data from memory, forces worked out): beside the others,
  // never alone.
  it('a cover held level by a brace, 30 kg, 75°: 152.341, A (−39.4287, 0, 0), B (0, 147.15, 0) N', () => {
    const r = cover(30, 75);
    expectClose(r.balanceN, 152.341, within(1e-3, 'N'));
    expectClose(r.a, [-39.4287, 0, 0], within(1e-3, 'N'));
    expectClose(r.b, [0, 147.15, 0], within(1e-3, 'N'));
  });

  // Beer & Johnston, the lid of a roof scuttle held by a rod: printed 116.6, −72.7, −38.1 and 37.5 lb (from memory), further digits
  // worked out from its geometry.
  it('the lid of a roof scuttle on a rod, in inches and pounds: rod 116.579 lb, A (0, −72.692, −38.058), B (0, 37.5, 0)', () => {
    const alpha = (50 * Math.PI) / 180;
    const r = solve({
      a: [0, 0, 0],
      b: [26, 0, 0],
      weightN: 75 * LBF,
      g: [13, 16 * Math.sin(alpha), 16 * Math.cos(alpha)],
      at: [0, 14.178167, 11.896895],
      from: [0, 0, 7],
      mm: INCH,
    });
    expectClose(r.balanceN / LBF, 116.579415, within(2e-5, 'lb'));
    expectClose(
      r.a.map((v) => v / LBF),
      [0, -72.692162, -38.058475],
      within(2e-5, 'lb'),
    );
    expectClose(
      r.b.map((v) => v / LBF),
      [0, 37.5, 0],
      within(2e-5, 'lb'),
    );
    expectClose(r.axialN, 0, within(1e-6, 'N'));
  });
  it('the scuttle’s geometry: CD is 15 in long, AD 18.508283 in, the angle at D 20.945969°', () => {
    const d = [14.178167, 11.896895] as const;
    expectClose(Math.hypot(d[0], d[1] - 7), 15, within(2e-6, 'in'));
    expectClose(Math.hypot(...d), 18.508283, within(1e-6, 'in'));
  });

  // Beer & Johnston, Sample 4.9 p. 198 (printed: 343; 49.0, 73.5, 98.1; 245, 73.5 N), further digits worked out.
  const r = 0.24;
  const coverParts = {
    a: [0, 0, 2 * r] as V3,
    b: [0, 0, 0] as V3,
    weightN: 30 * 9.81,
    g: [r, 0, r] as V3,
    at: [2 * r, 0, r] as V3,
    mm: 1000,
  };
  it('a round cover on two bearings and a cable: T 343.35, A (49.05, 73.575, 98.1), B (245.25, 73.575, 0) N', () => {
    // the cable pulls the lid along (−6, 3, −2)/7: the same as a push from the other side
    const s = solve({ ...coverParts, from: [2 * r + 0.48, -0.24, r + 0.16] });
    expectClose(s.balanceN, 343.35, within(1e-5, 'N'));
    // radial parts; the source gives bearing A all 98.1 N along the axis: towards +z, against A → B
    expectClose(s.a, [49.05, 73.575, 0], within(1e-5, 'N'));
    expectClose(s.b, [245.25, 73.575, 0], within(1e-5, 'N'));
    expectClose(s.axialN, -98.1, within(1e-5, 'N'));
  });
  it('from the cable’s own side the same is a negative push: a gas spring can’t hold it', () => {
    const job = lid({
      a: ours(coverParts.a, 1000),
      b: ours(coverParts.b, 1000),
      grip: ours(coverParts.g, 1000),
      masses: [{ kg: coverParts.weightN / G, at: ours(coverParts.g, 1000) }],
      struts: [
        {
          base: ours([2 * r - 0.48, 0.24, r - 0.16], 1000),
          lid: ours(coverParts.at, 1000),
          spec: constantForce(100, 570, 24),
        },
      ],
      openDeg: 1,
    });
    expectClose(checkJob(job).cases[0]!.travel.struts[0]!.balanceForceN[0], -343.35, within(1e-5, 'N'));
  });
});

describe('doors, hatches and panels', () => {
  // OpenStax University Physics vol. 1, "Forces on Door Hinges", module m58341: equal shares of the weight are the
  // source's assumption, so the sum along the axis is compared.
  it('a 400 N door 1 m wide on hinges 2 m apart: ±100 N across, 200 N up each', () => {
    // a hinge lying along x, with the base pitched 90° nose down: x points at the ground
    const door = lid({
      a: [0, 0, 0],
      b: [2000, 0, 0],
      grip: [1000, 1000, 0],
      masses: [{ kg: 400 / G, at: [1000, 500, 0] }],
      openDeg: 80,
      cases: [{ pitchDeg: 90 }],
    });
    const t = checkJob(door).cases[0]!.travel;
    [0, 37, 80].forEach((deg) => {
      const i = t.angleDeg.indexOf(deg);
      expectClose(Math.hypot(...t.hingeAN[i]!), 100, within(1e-9, 'N'));
      expectClose(Math.hypot(...t.hingeBN[i]!), 100, within(1e-9, 'N'));
      expectClose(
        t.hingeAN[i]!.map((v, k) => v + t.hingeBN[i]![k]!),
        [0, 0, 0],
        within(1e-9, 'N'),
      );
      expectClose(t.hingeAxialN[i]! / 2, -200, within(1e-9, 'N'));
      expectClose(t.handOpeningN[i], 0, within(1e-9, 'N'));
    });
  });
});
