import type { TriangleMesh } from '../../../core/solid';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  ballAt,
  blankAreaMm2,
  blanks,
  blankVolumeMm3,
  bodyLayout,
  bracketMesh,
  type BracketSpec,
  type Contour,
  contourAreaMm2,
  contourPoints,
  depthInContourMm,
  foldedVolumeMm3,
  holeContour,
  placedHoles,
  type Point2,
  segmentEnd,
  segmentStart,
  stemOfBracket,
  viewOf,
} from '../../../core/bracket';
import { BRACKET_KINDS } from '../../../core/job';
import { type Vec3, add, cross, dot, norm, rad, scale, sub } from '../../../core/space';
import { sampleBrackets } from '../../../core/bracket/examples';
import { makeableOf } from './samples';
import { runs } from '../../support/tier';

const CASES = runs(500);
const MESHES = runs(40);
const seed = 20261125;

/** Two segments of a polygon that are not neighbours cross or touch: by the parameters of the crossing, not by sides. */
function crossesItself(contour: Contour): boolean {
  const p = contourPoints(contour, rad(Math.PI / 16));
  const n = p.length;
  for (let i = 0; i < n; i++)
    for (let j = i + 2; j < n; j++) {
      if (i === 0 && j === n - 1) continue;
      const [a, b, c, d] = [p[i]!, p[(i + 1) % n]!, p[j]!, p[(j + 1) % n]!];
      const [rx, ry, sx, sy] = [b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]];
      const det = rx * sy - ry * sx;
      if (det === 0) continue;
      const s = ((c[0] - a[0]) * sy - (c[1] - a[1]) * sx) / det;
      const t = ((c[0] - a[0]) * ry - (c[1] - a[1]) * rx) / det;
      if (s >= 0 && s <= 1 && t >= 0 && t <= 1) return true;
    }
  return false;
}

const closes = (contour: Contour): boolean =>
  contour.every((s, i) => {
    const [from, to] = [segmentEnd(s), segmentStart(contour[(i + 1) % contour.length]!)];
    return Math.hypot(from[0] - to[0], from[1] - to[1]) < 1e-7;
  });

/** Edges not met exactly once each way, and the volume by the divergence theorem. */
function measure(mesh: TriangleMesh): { open: number; volumeMm3: number } {
  const at = (i: number): Vec3 => [
    mesh.positionsMm[3 * i]!,
    mesh.positionsMm[3 * i + 1]!,
    mesh.positionsMm[3 * i + 2]!,
  ];
  const edges = new Map<string, number>();
  let six = 0;
  for (let i = 0; i < mesh.triangles.length; i += 3) {
    const [a, b, c] = [...mesh.triangles.slice(i, i + 3)] as [number, number, number];
    six += dot(at(a), cross(at(b), at(c)));
    for (const [p, q] of [
      [a, b],
      [b, c],
      [c, a],
    ])
      edges.set(`${p}>${q}`, (edges.get(`${p}>${q}`) ?? 0) + 1);
  }
  const open = [...edges].filter(([e, count]) => count !== 1 || edges.get(e.split('>').reverse().join('>')) !== 1);
  return { open: open.length, volumeMm3: six / 6 };
}

/** What the blank lacks of the fold: each bend is drawn (π/2)(r + t/2) long in its middle, cut (π/2)(r + k·t/2) long. */
function bendsMm3(spec: BracketSpec): number {
  const { bends, k } = bodyLayout(spec);
  return bends.length * spec.baseWidthMm * spec.thicknessMm * (Math.PI / 2) * (spec.thicknessMm / 2) * (1 - k);
}

/** A spec with everything off the middle on the other side. */
const mirrored = (spec: BracketSpec): BracketSpec => ({
  ...spec,
  fixings: spec.fixings.map((f) => ({ ...f, acrossMm: -f.acrossMm, slotDeg: -f.slotDeg })),
  studHole: { ...spec.studHole, acrossMm: -spec.studHole.acrossMm },
  wedge: spec.wedge && { ...spec.wedge, directionDeg: -spec.wedge.directionDeg },
});

describe.each(BRACKET_KINDS)('%s', (kind) => {
  const any = makeableOf(kind);

  it(`keeps area × thickness, contours and holes right in ${CASES} random brackets`, () => {
    fc.assert(
      fc.property(any, (spec) => {
        const pieces = blanks(spec);
        const blank = blankVolumeMm3(spec);
        const folded = foldedVolumeMm3(spec);
        expect(Math.abs(folded - blank - bendsMm3(spec)) / blank).toBeLessThan(1e-9);
        if (!spec.wedge) {
          const sum = pieces.reduce((v, p) => v + p.quantity * p.thicknessMm * blankAreaMm2(p), 0);
          expect(Math.abs(sum - blank) / blank).toBeLessThan(1e-12);
        }
        for (const piece of pieces) {
          expect(closes(piece.outline)).toBe(true);
          expect(crossesItself(piece.outline)).toBe(false);
          expect(contourAreaMm2(piece.outline)).toBeGreaterThan(0);
          for (const hole of piece.holes) {
            const rim = contourPoints(holeContour(hole), rad(Math.PI / 8));
            expect(Math.min(...rim.map((p) => depthInContourMm(p, piece.outline)))).toBeGreaterThan(0);
            for (const bend of piece.bends) {
              const away = Math.min(...rim.map((p) => Math.abs(p[1] - bend.from[1])));
              expect(away).toBeGreaterThan(bend.allowanceMm / 2 - 1e-6);
            }
          }
        }
      }),
      { seed, numRuns: CASES },
    );
  });

  it('is the mirror image when everything changes sides', () => {
    fc.assert(
      fc.property(any, (spec) => {
        const [here, there] = [blanks(spec), blanks(mirrored(spec))];
        here.forEach((piece, i) => {
          const other = there[i]!;
          expect(blankAreaMm2(other)).toBeCloseTo(blankAreaMm2(piece), 6);
          piece.holes.forEach((hole, k) => {
            expect(other.holes[k]!.centre[0]).toBeCloseTo(-hole.centre[0], 9);
            expect(other.holes[k]!.centre[1]).toBeCloseTo(hole.centre[1], 9);
          });
        });
        const flip = (v: Vec3): Vec3 => [v[0], -v[1], v[2]];
        const holes = placedHoles(mirrored(spec));
        placedHoles(spec).forEach((hole, k) => {
          expect(norm(sub(flip(hole.centreMm), holes[k]!.centreMm))).toBeLessThan(1e-9);
          expect(norm(sub(flip(hole.axis), holes[k]!.axis))).toBeLessThan(1e-9);
        });
        expect(norm(sub(flip(ballAt(spec)), ballAt(mirrored(spec))))).toBeLessThan(1e-9);
      }),
      { seed, numRuns: runs(1000) },
    );
  });

  it('has a closed mesh of its own volume, with its holes where they are placed', () => {
    fc.assert(
      fc.property(any, (spec) => {
        const mesh = bracketMesh(spec, 64);
        const { open, volumeMm3 } = measure(mesh);
        expect(open).toBe(0);
        const folded = foldedVolumeMm3(spec);
        expect(Math.abs(volumeMm3 - folded) / folded).toBeLessThan(4e-3);
        const points = Array.from({ length: mesh.positionsMm.length / 3 }, (_, i) => [
          ...mesh.positionsMm.slice(3 * i, 3 * i + 3),
        ]) as unknown as Vec3[];
        for (const hole of placedHoles(spec)) {
          // rim on the face it is placed on: in the plane, a radius away from the slot's middle line
          const rim = points.filter((p) => {
            const d = sub(p, hole.centreMm);
            if (Math.abs(dot(d, hole.axis)) > 1e-6) return false;
            const along = Math.max(-hole.slotMm / 2, Math.min(hole.slotMm / 2, dot(d, hole.slotAxis)));
            return Math.abs(norm(sub(d, scale(hole.slotAxis, along))) - hole.diameterMm / 2) < 1e-6;
          });
          expect(rim.length).toBeGreaterThanOrEqual(32);
        }
      }),
      { seed, numRuns: MESHES },
    );
  });

  it('puts the ball on the stud’s axis, and the views’ outlines round the mesh', () => {
    fc.assert(
      fc.property(any, (spec) => {
        const hole = placedHoles(spec).find((h) => h.role !== 'fixing')!;
        const off = sub(ballAt(spec), hole.centreMm);
        expect(norm(cross(off, hole.axis))).toBeLessThan(1e-9);
        expect(dot(off, hole.axis)).toBeCloseTo(spec.ballOffsetMm, 9);
        expect(Math.abs(dot(stemOfBracket(spec), hole.axis))).toBeCloseTo(1, 12);
        const mesh = bracketMesh(spec, 32);
        const span = (values: number[]): [number, number] => [Math.min(...values), Math.max(...values)];
        const axis = (k: number): number[] => [...mesh.positionsMm].filter((_, i) => i % 3 === k);
        const [x, y, z] = [span(axis(0)), span(axis(1)), span(axis(2))];
        const back = ([a, b]: [number, number]): [number, number] => [-b, -a];
        const expected = { front: [y, z], side: [back(x), z], top: [y, back(x)] } as const;
        for (const direction of ['front', 'side', 'top'] as const) {
          const at: Point2[] = viewOf(spec, direction)
            .filter((l) => l.role === 'visible')
            .flatMap((l) =>
              l.closed
                ? contourPoints(l.segments, rad(Math.PI / 64))
                : l.segments.flatMap((s) => [segmentStart(s), segmentEnd(s)]),
            );
          [0, 1].forEach((k) => {
            const [low, high] = span(at.map((p) => p[k]!));
            expect(Math.abs(low - expected[direction][k]![0])).toBeLessThan(0.02 * spec.baseWidthMm);
            expect(Math.abs(high - expected[direction][k]![1])).toBeLessThan(0.02 * spec.baseWidthMm);
          });
        }
      }),
      { seed, numRuns: MESHES },
    );
  });
});

describe('samples', () => {
  it('are closed meshes of their own volume', () => {
    for (const spec of sampleBrackets) {
      const { open, volumeMm3 } = measure(bracketMesh(spec, 96));
      expect(open).toBe(0);
      expect(Math.abs(volumeMm3 / foldedVolumeMm3(spec) - 1)).toBeLessThan(3e-4);
    }
  });

  it('agree with sums by hand', () => {
    // Channel: r/t = 1.125, k = 0.65 + 0.5·lg 1.125 = 0.675576; allowance (π/2)(4.5 + 1.351153) = 9.190969; straight uprights 54 − 8.5 = 45.5,
    // base 38 − 17 = 21: 2·45.5 + 21 + 2·9.190969 = 130.381938.
    const channel = sampleBrackets.find((s) => s.kind === 'channel')!;
    expect(bodyLayout(channel).lengthMm).toBeCloseTo(130.381938, 4);
    expect(ballAt(channel)).toEqual([-19, 0, 38]);
    // Wedge leaning 45° along x, 20 long, 10 wide, 4 thin: 10·20·(4 + 10) = 2800 less holes; stud hole at mid: ⌀2·(4 + 10)·cos 45°.
    const wedge: BracketSpec = {
      ...sampleBrackets.find((s) => s.kind === 'wedge-plate')!,
      ...{
        thicknessMm: 4,
        baseLegMm: 20,
        baseWidthMm: 10,
        topWidthMm: 10,
        baseCornerRadiusMm: 0,
        topCornerRadiusMm: 0,
      },
      ...{ fixings: [], attachedBy: 'weld', studThread: null, ballOffsetMm: 6 },
      studHole: { diameterMm: 2, heightMm: 0, fromEndMm: 10, acrossMm: 0 },
      wedge: { tiltDeg: 45, directionDeg: 0 },
    };
    expect(blankVolumeMm3(wedge)).toBeCloseTo(2800 - Math.PI * 14 * Math.SQRT1_2, 9);
    expect(foldedVolumeMm3(wedge)).toBeCloseTo(2800 - Math.PI * 14 * Math.SQRT1_2, 9);
    // stem (−1, 0, 1)/√2; the ball 14/√2 + 6 up it
    const far = 14 * Math.SQRT1_2 + 6;
    expect(norm(sub(ballAt(wedge), add([0, 0, 0], scale([-Math.SQRT1_2, 0, Math.SQRT1_2], far))))).toBeLessThan(1e-9);
    // Tab seen from above: a hole at +y lies left in the blank, whose first axis runs towards −y.
    const tab = sampleBrackets.find((s) => s.kind === 'flat-tab')!;
    const fix2 = placedHoles(tab).find((h) => h.id === 'fix2')!;
    expect(fix2.centreMm).toEqual([16 - 74, 13, 0]);
    expect(blanks(tab)[0]!.holes.find((h) => h.id === 'fix2')!.centre).toEqual([-13, 16]);
  });
});
