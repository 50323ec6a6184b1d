import fc from 'fast-check';
import { Vector3 } from 'three';
import { describe, expect, it } from 'vitest';
import { type Vec3, areaVector } from '../../../core/space';
import { firstLook, frame, nearest } from '../../../renderer/views/space/framing';
import { roundStep, sheetLines, sheetUnder } from '../../../renderer/views/space/ground-part';
import { massRadiusMm, octantColours } from '../../../renderer/views/space/marks-part';
import { panelOver } from '../../../renderer/views/space/panel';
import { Segments, dashed } from '../../../renderer/views/space/segments';
import { bandRims, beltMesh, conesMesh } from '../../../renderer/views/space/working-band';

const lengthOf = (s: Segments): number => {
  let sum = 0;
  for (let i = 0; i < s.count; i++) {
    const d = s.data.subarray(i * 6, i * 6 + 6);
    sum += Math.hypot(d[3]! - d[0]!, d[4]! - d[1]!, d[5]! - d[2]!);
  }
  return sum;
};
const square: Vec3[] = [
  [0, 0, 0],
  [100, 0, 0],
  [100, 100, 0],
  [0, 100, 0],
];

describe('dashed', () => {
  it('draws a line whole with an empty pattern, and closes it when told', () => {
    const open = new Segments(1);
    dashed(square, [], open);
    expect([open.count, lengthOf(open)]).toEqual([3, 300]);
    const ring = new Segments(1);
    dashed(square, [], ring, true);
    expect([ring.count, lengthOf(ring)]).toEqual([4, 400]);
  });
  it('draws the share that the pattern says, and runs on through corners', () => {
    const out = new Segments();
    dashed(square, [30, 10], out, true);
    expect(lengthOf(out)).toBeCloseTo(300, 3);
    // the dash that begins at 80 mm runs round the corner at 100 mm: 80 → 100 and 100 → 110
    expect([...out.data.subarray(12, 18)]).toEqual([80, 0, 0, 100, 0, 0]);
    expect([...out.data.subarray(18, 24)]).toEqual([100, 0, 0, 100, 10, 0]);
  });
  it('does not hang on a pattern far finer than the line, nor on points that are no numbers', () => {
    const out = new Segments();
    dashed([square[0]!, [1e6, 0, 0]], [1e-3, 1e-3], out);
    expect(out.count).toBeLessThanOrEqual(4000);
    out.clear();
    dashed([[NaN, 0, 0], ...square], [], out);
    expect(out.count).toBe(3);
  });
});

describe('the band of a working range', () => {
  const corner = (positions: Float32Array, i: number): Vector3 => new Vector3().fromArray(positions, i * 3);
  // independent oracle: three's Vector3.angleTo
  it('holds exactly the directions within 90° ± range of the strut', () => {
    for (const range of [0, 3, 18, 20, 45, 90]) {
      const { positions, index } = beltMesh(range);
      let widest = 0;
      for (let i = 0; i < positions.length / 3; i++) {
        const p = corner(positions, i);
        expect(p.length()).toBeCloseTo(1, 5);
        widest = Math.max(widest, Math.abs(90 - (p.angleTo(new Vector3(0, 0, 1)) * 180) / Math.PI));
      }
      expect(widest).toBeCloseTo(range, 3);
      expect(Math.max(...index)).toBeLessThan(positions.length / 3);
    }
  });
  it('is bounded by two cones of half angle 90° − range with their tips in the ball', () => {
    const { positions, index } = conesMesh(18);
    expect(corner(positions, 0).length()).toBe(0);
    for (let i = 1; i < positions.length / 3; i++) {
      const angle = (corner(positions, i).angleTo(new Vector3(0, 0, 1)) * 180) / Math.PI;
      expect(Math.min(angle, 180 - angle)).toBeCloseTo(72, 3);
    }
    for (let t = 0; t < index.length; t += 3) expect(index[t]).toBe(0);
    for (const ring of bandRims(18))
      for (const p of ring) expect(Math.abs(p[2])).toBeCloseTo(Math.sin(Math.PI / 10), 9);
  });
});

/** Area of a panel's outer face, mm². */
function faceArea(outline: readonly Vec3[], positions: Float32Array, index: Uint16Array): number {
  let sum = 0;
  for (let t = 0; t < index.length; t += 3) {
    const ids = [...index.subarray(t, t + 3)];
    if (ids.some((i) => i >= outline.length)) continue;
    const [a, b, c] = ids.map((i) => new Vector3().fromArray(positions, i * 3)) as [Vector3, Vector3, Vector3];
    sum += b.sub(a).cross(c.sub(a)).length() / 2;
  }
  return sum;
}

describe('panelOver', () => {
  it('covers a square and a hollow outline exactly', () => {
    const hollow: Vec3[] = [
      [0, 0, 0],
      [100, 0, 0],
      [100, 100, 0],
      [50, 20, 0],
      [0, 100, 0],
    ];
    for (const [outline, area] of [
      [square, 10_000],
      [[...square].reverse(), 10_000],
      [hollow, 6000],
    ] as const) {
      const panel = panelOver(outline, 4)!;
      expect(faceArea(outline, panel.positions, panel.index)).toBeCloseTo(area, 2);
      expect(Math.abs(areaVector(outline)[2]) / 2).toBeCloseTo(area, 9);
    }
  });
  it('is as thick as told, about the outline', () => {
    const panel = panelOver(square, 4)!;
    expect(panel.top.every((p) => p[2] === 2) && panel.bottom.every((p) => p[2] === -2)).toBe(true);
  });
  it('is a closed body: every edge is met once each way', () => {
    const { index } = panelOver(square, 4)!;
    const edges = new Map<string, number>();
    for (let t = 0; t < index.length; t += 3)
      for (const [a, b] of [
        [0, 1],
        [1, 2],
        [2, 0],
      ] as const) {
        const key = `${index[t + a]}>${index[t + b]}`;
        edges.set(key, (edges.get(key) ?? 0) + 1);
      }
    for (const [key, count] of edges) {
      expect(count).toBe(1);
      expect(edges.get(key.split('>').reverse().join('>'))).toBe(1);
    }
  });
  it('takes an outline that is bent or crosses itself, and refuses one without area', () => {
    const bent: Vec3[] = [square[0]!, square[1]!, [100, 100, 40], square[3]!];
    const crossed: Vec3[] = [square[0]!, square[2]!, square[1]!, [0, 150, 0]];
    for (const outline of [bent, crossed]) expect(panelOver(outline, 4)!.positions.every(Number.isFinite)).toBe(true);
    expect(panelOver(square.slice(0, 2), 4)).toBeNull();
    expect(panelOver([square[0]!, square[0]!, square[0]!], 4)).toBeNull();
    expect(panelOver([square[0]!, square[1]!, [50, 0, 0]], 4)).toBeNull();
    expect(panelOver([square[0]!, square[1]!, [NaN, 0, 5]], 4)).toBeNull();
  });
  it('never throws nor gives a number that is none (any outline)', () => {
    const coordinate = fc.double({ min: -1e4, max: 1e4, noNaN: true });
    fc.assert(
      fc.property(fc.array(fc.tuple(coordinate, coordinate, coordinate), { maxLength: 9 }), (outline) => {
        const panel = panelOver(outline, 4);
        if (panel) expect(panel.positions.every(Number.isFinite)).toBe(true);
      }),
    );
  });
});

describe('framing', () => {
  it('puts every point inside the margin', () => {
    const eye = { right: [0, 1, 0], up: [0, 0, 1] } as const;
    const points: Vec3[] = [
      [5, -300, 20],
      [900, 100, 720],
    ];
    const { zoom, target } = frame(points, eye, 420, 320, 26);
    for (const p of points) {
      expect(Math.abs(p[1] - target[1]) * zoom).toBeLessThanOrEqual(210 - 26 + 1e-9);
      expect(Math.abs(p[2] - target[2]) * zoom).toBeLessThanOrEqual(160 - 26 + 1e-9);
    }
    expect(((720 - 20) / 2) * zoom).toBeCloseTo(160 - 26, 6);
    expect(frame([], eye, 420, 320, 26)).toEqual({ zoom: 1, target: [0, 0, 0] });
  });
  it('looks at first so that no position of the lid is edge-on, from the near side', () => {
    const normals: Vec3[] = [0, 35, 70].map((d) => [Math.sin((d * Math.PI) / 180), 0, Math.cos((d * Math.PI) / 180)]);
    const eye = firstLook(normals, [-0.2, -1, 0]);
    for (const n of normals) expect(Math.abs(n[0] * eye[0] + n[1] * eye[1] + n[2] * eye[2])).toBeGreaterThan(0.15);
    expect(eye[1]).toBeLessThan(0);
    expect(Math.hypot(...eye)).toBeCloseTo(1, 9);
  });
  it('picks the nearest point in reach, and of two at one place the one in front', () => {
    const points = [
      { x: 10, y: 10, depth: 0.6 },
      { x: 10, y: 10, depth: 0.2 },
      { x: 30, y: 10, depth: 0.1 },
    ];
    expect(nearest(points, 11, 10, 14)).toBe(1);
    expect(nearest(points, 24, 10, 14)).toBe(2);
    expect(nearest(points, 200, 10, 14)).toBe(-1);
    expect(nearest([{ x: NaN, y: 0, depth: 0 }], 0, 0, 14)).toBe(-1);
  });
});

describe('sheet and masses', () => {
  it('steps by 1, 2 or 5 times a power of ten', () => {
    expect([1000, 2300, 4000, 80, 7].map((l) => roundStep(l, 10))).toEqual(
      [100, 200, 500, 10, 0.5].map((x) => expect.closeTo(x, 9)),
    );
    expect(roundStep(0, 10)).toBe(1);
  });
  it('lies under every point, its edges on whole steps', () => {
    const sheet = sheetUnder([
      [-930, -552, 40],
      [4, 492, 600],
    ]);
    expect(sheet.z).toBe(40);
    expect(sheet.min[0]).toBeLessThanOrEqual(-930);
    expect(sheet.max[1]).toBeGreaterThanOrEqual(492);
    for (const edge of [...sheet.min, ...sheet.max]) expect(Math.abs(edge % sheet.stepMm)).toBe(0);
    const out = new Segments();
    sheetLines(sheet, out);
    for (let i = 0; i < out.count; i++) expect(out.data[i * 6 + 2]).toBe(40);
  });
  it('draws eight times the mass twice as wide', () => {
    expect(massRadiusMm(80, 1000) / massRadiusMm(10, 1000)).toBeCloseTo(2, 9);
    expect(massRadiusMm(0, 1000)).toBeGreaterThan(0);
  });
  it('quarters the sphere so that neighbours over a plane differ', () => {
    const c = octantColours([1, 1, 1, -1, 1, 1, -1, -1, 1], [1, 1, 1], [0, 0, 0]);
    expect([c[0], c[3], c[6]]).toEqual([1, 0, 1]);
  });
});
