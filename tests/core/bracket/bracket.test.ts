import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type BentAngle,
  blankAreaMm2,
  bracketMesh,
  checkBracket,
  type Contour,
  contourPoints,
  flatPattern,
  foldedFront,
  foldedProfile,
  foldedVolumeMm3,
  massKg,
  placeBracket,
  segmentEnd,
  segmentStart,
} from '../../../core/bracket';
import { LidwrightError } from '../../../core/error';
import { add, cross, distance, dot, norm, scale, sub } from '../../../core/space';
import { guardBracket, hatchBracket, lockerBracket } from '../../../core/bracket/examples';
import { makeableBracket } from './samples';

const seeded = { seed: 20261125, numRuns: 300 };
const fails = (spec: BentAngle) => checkBracket(spec).filter((issue) => issue.severity === 'fails');

/** True when two segments of a polygon that are not neighbours cross or touch. */
function crossesItself(contour: Contour): boolean {
  const p = contourPoints(contour, Math.PI / 16);
  const side = (a: readonly number[], b: readonly number[], c: readonly number[]) =>
    Math.sign((b[0]! - a[0]!) * (c[1]! - a[1]!) - (b[1]! - a[1]!) * (c[0]! - a[0]!));
  for (let i = 0; i < p.length; i++)
    for (let j = i + 2; j < p.length; j++) {
      if (i === 0 && j === p.length - 1) continue;
      const [a, b, c, d] = [p[i]!, p[(i + 1) % p.length]!, p[j]!, p[(j + 1) % p.length]!];
      if (side(a, b, c) !== side(a, b, d) && side(c, d, a) !== side(c, d, b)) return true;
    }
  return false;
}

function isClosed(contour: Contour): boolean {
  return contour.every((s, i) => {
    const from = segmentEnd(s);
    const to = segmentStart(contour[(i + 1) % contour.length]!);
    return Math.hypot(from[0] - to[0], from[1] - to[1]) < 1e-8;
  });
}

describe('checkBracket', () => {
  it('passes the sample brackets', () => {
    for (const spec of [hatchBracket, guardBracket, lockerBracket]) expect(fails(spec)).toEqual([]);
  });

  const bad: [string, Partial<BentAngle>, string, string][] = [
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
    [
      'base hole over the side',
      { baseHole: { diameterMm: 9, spacingMm: 64, fromEndMm: 15 } },
      'baseHole-edge',
      'baseHole.fromEndMm',
    ],
    [
      'base hole in the rounded corner',
      { baseCornerRadiusMm: 20, baseHole: { diameterMm: 9, spacingMm: 58, fromEndMm: 6 } },
      'baseHole-edge',
      'baseHole.fromEndMm',
    ],
    [
      'base hole in the bend',
      { baseHole: { diameterMm: 9, spacingMm: 42, fromEndMm: 39 } },
      'baseHole-bend',
      'baseHole.fromEndMm',
    ],
    [
      'base holes meet',
      { baseHole: { diameterMm: 9, spacingMm: 8, fromEndMm: 15 } },
      'holes-meet',
      'baseHole.spacingMm',
    ],
    ['stud hole over the top', { studHole: { diameterMm: 11, heightMm: 57 } }, 'studHole-edge', 'studHole.heightMm'],
    ['stud hole in the bend', { studHole: { diameterMm: 11, heightMm: 14 } }, 'studHole-bend', 'studHole.heightMm'],
  ];
  it.each(bad)('fails on %s, naming field and cure', (_name, change, id, field) => {
    const spec = { ...hatchBracket, ...change };
    const found = fails(spec).find((issue) => issue.id === id);
    expect(found?.where.join('.')).toBe(field);
    expect(found?.advice).toMatch(/\w{3}/);
    for (const make of [flatPattern, massKg, bracketMesh, foldedProfile])
      expect(() => make(spec)).toThrow(LidwrightError);
  });

  it('watches what can be made with care', () => {
    const watch = (change: Partial<BentAngle>) =>
      checkBracket({ ...hatchBracket, ...change }).map((issue) => `${issue.severity} ${issue.id}`);
    expect(watch({})).toEqual([]);
    expect(watch({ insideRadiusMm: 2.4 })).toEqual(['watch bend-ratio', 'watch bend-crack']);
    expect(watch({ insideRadiusMm: 3 })).toEqual(['watch bend-crack']);
    expect(watch({ studHole: { diameterMm: 11, heightMm: 20 } })).toEqual(['watch studHole-bend']);
    expect(watch({ studHole: { diameterMm: 11, heightMm: 50 } })).toEqual(['watch studHole-edge']);
  });
});

describe('flat pattern and fold', () => {
  it('keeps every contour closed, counter-clockwise and clear of itself', () => {
    fc.assert(
      fc.property(makeableBracket, (spec) => {
        for (const contour of [flatPattern(spec).outline, foldedProfile(spec), foldedFront(spec)]) {
          expect(isClosed(contour)).toBe(true);
          expect(crossesItself(contour)).toBe(false);
        }
        expect(blankAreaMm2(flatPattern(spec))).toBeGreaterThan(0);
      }),
      seeded,
    );
  });

  it('has the volume of the bent part, but for the bend, whose middle is not its neutral axis', () => {
    fc.assert(
      fc.property(makeableBracket, (spec) => {
        const flat = flatPattern(spec);
        // The bend as drawn is (π/2)(r + t/2) long in its middle, the blank there (π/2)(r + k·t/2).
        const bend = spec.baseWidthMm * spec.thicknessMm * (Math.PI / 2) * (spec.thicknessMm / 2) * (1 - flat.k);
        const blank = blankAreaMm2(flat) * spec.thicknessMm;
        expect(Math.abs(foldedVolumeMm3(spec) - blank - bend) / blank).toBeLessThan(1e-9);
      }),
      seeded,
    );
  });

  it('agrees with a sum by hand', () => {
    // Guard bracket: r/t = 1.25, k = 0.65 + 0.5·lg 1.25 = 0.69845501; blank = (24 − 4.5) + (31 − 4.5) + (π/2)(2.5 + 0.69845501)
    // = 19.5 + 26.5 + 5.02413 = 51.02413; area = 38·51.02413 − 2·π·5.5²/4 − π·6.6²/4 = 1857.188; ·2 mm·7850 kg/m³ = 0.02916 kg.
    const flat = flatPattern(guardBracket);
    expect(flat.k).toBeCloseTo(0.698455, 6);
    expect(flat.developedLengthMm).toBeCloseTo(51.02413, 4);
    expect(flat.bend.lineMm).toBeCloseTo(22.01207, 4);
    expect(flat.holes[2]!.centre[1]).toBeCloseTo(51.02413 - 10.5, 4);
    expect(massKg(guardBracket)).toBeCloseTo(0.0291578, 6);
  });
});

describe('mesh', () => {
  it('is closed, and its volume goes to that of the bent part as the facets get finer', () => {
    fc.assert(
      fc.property(makeableBracket, (spec) => {
        const mesh = bracketMesh(spec, 96);
        const at = (i: number) => [...mesh.positionsMm.slice(3 * i, 3 * i + 3)] as unknown as [number, number, number];
        const edges = new Map<string, number>();
        let six = 0;
        for (let i = 0; i < mesh.triangles.length; i += 3) {
          const [a, b, c] = [...mesh.triangles.slice(i, i + 3)] as [number, number, number];
          six += dot(at(a), cross(at(b), at(c)));
          for (const [p, q] of [
            [a, b],
            [b, c],
            [c, a],
          ]) {
            edges.set(`${p}>${q}`, (edges.get(`${p}>${q}`) ?? 0) + 1);
          }
        }
        // Closed: each edge is met once in each direction.
        const open = [...edges].filter(
          ([e, count]) => count !== 1 || edges.get(e.split('>').reverse().join('>')) !== 1,
        );
        expect(open).toEqual([]);
        const volume = foldedVolumeMm3(spec);
        expect(Math.abs(six / 6 - volume) / volume).toBeLessThan(2e-3);
      }),
      { ...seeded, numRuns: 60 },
    );
  });

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
            ballOffsetMm,
            spec: hatchBracket,
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
      ballOffsetMm: 16,
      spec: hatchBracket,
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
        ballOffsetMm: 1,
        spec: hatchBracket,
      }),
    ).toThrow(LidwrightError);
  });
});
