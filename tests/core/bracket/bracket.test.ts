import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type BracketSpec,
  blanks,
  bracketMesh,
  checkBracket,
  bodyLayout,
  foldedProfile,
  massKg,
  placeBracket,
} from '../../../core/bracket';
import { LidwrightError } from '../../../core/error';
import { add, cross, distance, dot, norm, scale, sub } from '../../../core/space';
import { guardBracket, hatchBracket, lockerBracket } from '../../../core/bracket/examples';
import { runs } from '../../support/tier';

const seeded = { seed: 20261125, numRuns: runs(3000) };
const fails = (spec: BracketSpec) => checkBracket(spec).filter((issue) => issue.severity === 'fails');

const pair = (diameterMm: number, spacingMm: number, fromEndMm: number): Pick<BracketSpec, 'fixings'> => ({
  fixings: [-0.5, 0.5].map((k, i) => ({
    ...{ id: `fix${i + 1}`, acrossMm: k * spacingMm, fromEndMm, diameterMm, slotMm: 0, slotDeg: 0 },
  })),
});
const stud = (diameterMm: number, heightMm: number): BracketSpec['studHole'] => ({
  ...{ diameterMm, heightMm, fromEndMm: 0, acrossMm: 0 },
});

describe('checkBracket', () => {
  it('passes the sample brackets', () => {
    for (const spec of [hatchBracket, guardBracket, lockerBracket]) expect(fails(spec)).toEqual([]);
  });

  const bad: [string, Partial<BracketSpec>, string, string][] = [
    ['NaN thickness', { thicknessMm: NaN }, 'number', 'thicknessMm'],
    ['negative leg', { baseLegMm: -52 }, 'number', 'baseLegMm'],
    ['endless leg', { uprightLegMm: Infinity }, 'number', 'uprightLegMm'],
    ['negative corner', { topCornerRadiusMm: -1 }, 'number', 'topCornerRadiusMm'],
    ['no density', { material: { name: 'x', densityKgM3: 0 } }, 'number', 'material.densityKgM3'],
    ['bend too tight', { insideRadiusMm: 0.9 }, 'bend-ratio', 'insideRadiusMm'],
    ['base leg inside the bend', { baseLegMm: 9 }, 'leg-in-bend', 'baseLegMm'],
    ['upright inside the bend', { uprightLegMm: 8 }, 'leg-in-bend', 'uprightLegMm'],
    ['base corner over half the width', { baseCornerRadiusMm: 35.1 }, 'base-corner', 'baseCornerRadiusMm'],
    ['top corner too large', { topCornerRadiusMm: 25 }, 'top-corner', 'topCornerRadiusMm'],
    ['base hole over the side', { ...pair(9, 64, 15) }, 'fixing-edge', 'baseHole.fromEndMm'],
    [
      'base hole in the rounded corner',
      { baseCornerRadiusMm: 20, ...pair(9, 58, 6) },
      'fixing-edge',
      'baseHole.fromEndMm',
    ],
    ['base hole in the bend', { ...pair(9, 42, 39) }, 'fixing-bend', 'baseHole.fromEndMm'],
    ['base holes meet', { ...pair(9, 8, 15) }, 'holes-meet', 'baseHole.spacingMm'],
    ['stud hole over the top', { studHole: stud(11, 57) }, 'studHole-edge', 'studHole.heightMm'],
    ['stud hole in the bend', { studHole: stud(11, 14) }, 'studHole-bend', 'studHole.heightMm'],
  ];
  it.each(bad)('fails on %s, naming field and cure', (_name, change, id, field) => {
    const spec = { ...hatchBracket, ...change };
    const found = fails(spec).find((issue) => issue.id === id);
    expect(found?.where.join('.')).toBe(field);
    expect(found?.advice).toMatch(/\w{3}/);
    for (const make of [blanks, massKg, bracketMesh, foldedProfile]) expect(() => make(spec)).toThrow(LidwrightError);
  });

  it('watches what can be made with care', () => {
    const watch = (change: Partial<BracketSpec>) =>
      checkBracket({ ...hatchBracket, ...change }).map((issue) => `${issue.severity} ${issue.id}`);
    expect(watch({})).toEqual([]);
    expect(watch({ insideRadiusMm: 2.4 })).toEqual(['watch bend-ratio', 'watch bend-crack']);
    expect(watch({ insideRadiusMm: 3 })).toEqual(['watch bend-crack']);
    expect(watch({ studHole: stud(11, 20) })).toEqual(['watch studHole-bend']);
    expect(watch({ studHole: stud(11, 50) })).toEqual(['watch studHole-edge']);
  });
});

describe('flat pattern', () => {
  it('agrees with a sum by hand', () => {
    // Guard bracket: r/t = 1.25, k = 0.65 + 0.5·lg 1.25 = 0.69845501; blank = (24 − 4.5) + (31 − 4.5) + (π/2)(2.5 + 0.69845501)
    // = 19.5 + 26.5 + 5.02413 = 51.02413; area = 38·51.02413 − 2·π·5.5²/4 − π·6.6²/4 = 1857.188; ·2 mm·7850 kg/m³ = 0.02916 kg.
    const flat = bodyLayout(guardBracket);
    const [body] = blanks(guardBracket);
    expect(flat.k).toBeCloseTo(0.698455, 6);
    expect(flat.lengthMm).toBeCloseTo(51.02413, 4);
    expect(body!.bends[0]!.from[1]).toBeCloseTo(22.01207, 4);
    expect(body!.holes[2]!.centre[1]).toBeCloseTo(51.02413 - 10.5, 4);
    expect(massKg(guardBracket)).toBeCloseTo(0.0291578, 6);
  });
});

describe('mesh', () => {
  it('stands in the bracket frame: base leg towards −x on z = 0, stud hole over the origin', () => {
    const { positionsMm } = bracketMesh(hatchBracket);
    const axis = (k: number) => [...positionsMm].filter((_, i) => i % 3 === k);
    expect([Math.min(...axis(0)), Math.max(...axis(0))]).toEqual([-52, 0]);
    expect(Math.min(...axis(2))).toBe(0);
    expect(Math.max(...axis(2))).toBeCloseTo(61, 9);
    expect(Math.max(...axis(1))).toBeCloseTo(35, 9);
    const rim = [...positionsMm].flatMap((_, i) =>
      i % 3 === 0 &&
      positionsMm[i] === 0 &&
      Math.abs(Math.hypot(positionsMm[i + 1]!, positionsMm[i + 2]! - 44) - 5.5) < 1e-9
        ? [i]
        : [],
    );
    expect(rim.length).toBeGreaterThanOrEqual(48);
  });
});

describe('placeBracket', () => {
  const vec = fc.tuple(...[0, 1, 2].map(() => fc.double({ min: -3, max: 3, noNaN: true }))) as fc.Arbitrary<
    [number, number, number]
  >;

  it('puts the stud axis through the ball, the outer face ballOffset behind it, the surface heightMm under it', () => {
    fc.assert(
      fc.property(
        vec,
        vec,
        vec,
        fc.double({ min: 0, max: 60, noNaN: true }),
        (ball, mountNormal, azimuthDirection, ballOffsetMm) => {
          fc.pre(norm(cross(mountNormal, azimuthDirection)) > 1e-3);
          const { originMm, axes } = placeBracket({
            ball,
            mountNormal,
            azimuthDirection,
            spec: { ...hatchBracket, ballOffsetMm },
          });
          expect(dot(cross(axes.x, axes.y), axes.z)).toBeCloseTo(1, 9);
          const onAxis = add(originMm, scale(axes.z, hatchBracket.studHole.heightMm));
          expect(norm(cross(sub(ball, onAxis), axes.x))).toBeCloseTo(0, 6);
          expect(dot(sub(ball, originMm), axes.x)).toBeCloseTo(ballOffsetMm, 6);
          expect(dot(axes.z, mountNormal)).toBeCloseTo(norm(mountNormal), 9);
          expect(dot(axes.x, azimuthDirection)).toBeGreaterThan(0);
        },
      ),
      seeded,
    );
  });

  it('agrees with a placement by hand', () => {
    const placed = placeBracket({
      ball: [100, 20, 7],
      mountNormal: [0, 0, -2],
      azimuthDirection: [0, 3, 5],
      spec: { ...hatchBracket, ballOffsetMm: 16 },
    });
    expect(distance(placed.originMm, [100, 4, 51])).toBeLessThan(1e-12);
    expect(placed.axes.y.map((v) => v + 0)).toEqual([1, 0, 0]);
  });

  it('refuses an azimuth along the normal', () => {
    expect(() =>
      placeBracket({
        ball: [0, 0, 0],
        mountNormal: [0, 0, 1],
        azimuthDirection: [0, 0, -4],
        spec: hatchBracket,
      }),
    ).toThrow(LidwrightError);
  });
});
