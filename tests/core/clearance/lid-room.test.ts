// Bodies on the lid against bodies on the base: held against a dense sampling of their surfaces that shares no code with them.
import { expect, it } from 'vitest';
import { type RoomBody, roomOf, shapePieces } from '../../../core/clearance';
import { type Draw, seeded } from '../../../core/find/random';
import { movePoint, setPointCoordinate } from '../../../core/job';
import { convexPieces } from '../../../core/solid';
import { type Vec3, add, cross, dot, norm, rotateVec, scale, sub, toRad, unit } from '../../../core/space';
import { lidOfSizes } from '../../../core/start';
import type { Axis } from '../../../core/travel';
import { DEEP, runs } from '../../support/tier';

/** A body as plain arithmetic knows it: how far a point is outside each of its convex parts (0 inside), and points of its surface by two numbers each. */
interface Plain {
  readonly body: RoomBody;
  readonly outside: readonly ((p: Vec3) => number)[];
  readonly faces: readonly ((u: number, v: number) => Vec3)[];
}

const clamp = (x: number, low: number, high: number): number => Math.max(low, Math.min(high, x));

function axesOf(draw: Draw): [Vec3, Vec3, Vec3] {
  const x = unit([draw() - 0.5, draw() - 0.5, draw() - 0.5]);
  const z = unit(cross(x, [draw() - 0.5, draw() - 0.5, draw() - 0.5]));
  return [x, cross(z, x), z];
}

function box(draw: Draw, at: Vec3, size: number): Plain {
  const turn: Vec3 = [360 * draw(), 360 * draw(), 360 * draw()];
  const half: Vec3 = [size * (0.1 + draw()), size * (0.1 + draw()), size * (0.1 + draw())];
  const base: readonly Vec3[] = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  const axes = base.map((a) => base.reduce<Vec3>((v, about, k) => rotateVec(v, about, toRad(turn[k]!)), a));
  const shape = { box: { centre: at, sizeMm: scale(half, 2), rotationDeg: turn } };
  const faces = [0, 1, 2].flatMap((k) =>
    [-1, 1].map((s) => (u: number, v: number): Vec3 => {
      const [i, j] = [(k + 1) % 3, (k + 2) % 3];
      const far = scale(axes[k]!, s * half[k]!);
      return add(at, add(far, add(scale(axes[i]!, (2 * u - 1) * half[i]!), scale(axes[j]!, (2 * v - 1) * half[j]!))));
    }),
  );
  return {
    body: { id: 'b', name: 'box', pieces: shapePieces(shape) },
    outside: [(p) => Math.hypot(...axes.map((a, k) => Math.max(0, Math.abs(dot(sub(p, at), a)) - half[k]!)))],
    faces,
  };
}

function cylinder(draw: Draw, at: Vec3, size: number): Plain {
  const [x, y, z] = axesOf(draw);
  const [radius, half] = [size * (0.1 + draw()), size * (0.2 + draw())];
  const shape = { cylinder: { from: sub(at, scale(z, half)), to: add(at, scale(z, half)), radiusMm: radius } };
  const round = (a: number, r: number): Vec3 => add(scale(x, r * Math.cos(a)), scale(y, r * Math.sin(a)));
  return {
    body: { id: 'c', name: 'cylinder', pieces: shapePieces(shape) },
    outside: [
      (p) => {
        const along = dot(sub(p, at), z);
        const off = norm(sub(sub(p, at), scale(z, along)));
        return Math.hypot(Math.max(0, Math.abs(along) - half), Math.max(0, off - radius));
      },
    ],
    faces: [
      (u, v) => add(at, add(scale(z, (2 * u - 1) * half), round(2 * Math.PI * v, radius))),
      ...[-1, 1].map((s) => (u: number, v: number): Vec3 => add(at, add(scale(z, s * half), round(2 * Math.PI * v, u * radius)))), // prettier-ignore
    ],
  };
}

/** An L-shaped plate: no convex outline, as three boxes in plain arithmetic would be two. */
function plate(draw: Draw, at: Vec3, size: number): Plain {
  const [x, y, z] = axesOf(draw);
  const [w, h, t] = [size * (0.5 + draw()), size * (0.5 + draw()), size * 0.1 * (0.1 + draw())];
  const corners = [
    [0, 0],
    [2 * w, 0],
    [2 * w, h],
    [w, h],
    [w, 2 * h],
    [0, 2 * h],
  ] as [number, number][];
  const place = (a: number, b: number, c: number): Vec3 => add(at, add(scale(x, a), add(scale(y, b), scale(z, c))));
  const off = ([a, b, c]: Vec3, A: number, B: number): number =>
    Math.hypot(a - clamp(a, 0, A), b - clamp(b, 0, B), c - clamp(c, -t, t));
  const rects: [number, number][] = [
    [2 * w, h],
    [w, 2 * h],
  ];
  return {
    body: { id: 'p', name: 'plate', pieces: convexPieces({ origin: at, x, y, z }, corners, -t, t) },
    outside: rects.map(([A, B]) => (p: Vec3) => {
      const d = sub(p, at);
      return off([dot(d, x), dot(d, y), dot(d, z)], A, B);
    }),
    faces: rects.flatMap(([A, B]) => [
      ...[-t, t].map((c) => (u: number, v: number) => place(u * A, v * B, c)),
      ...[0, A].map((a) => (u: number, v: number) => place(a, u * B, (2 * v - 1) * t)),
      ...[0, B].map((b) => (u: number, v: number) => place(u * A, b, (2 * v - 1) * t)),
    ]),
  };
}

/**
 * Least distance by sampling the one's surface against each convex part of the other: a quarter of a face at a time a grid, then
 * ever finer ones round the nearest point.
 */
function sampled(on: Plain, other: Plain, pose: (p: Vec3) => Vec3): number {
  let least = Infinity;
  for (const outside of other.outside)
    for (const face of on.faces)
      for (const [startU, startV] of [
        [0.25, 0.25],
        [0.25, 0.75],
        [0.75, 0.25],
        [0.75, 0.75],
      ] as const) {
        let [u0, v0, span]: [number, number, number] = [startU, startV, 0.25];
        for (let round = 0; round < 9 && least > 0; round++) {
          let best = Infinity;
          const [cu, cv] = [u0, v0];
          for (let i = -4; i <= 4; i++)
            for (let j = -4; j <= 4; j++) {
              const [u, v] = [clamp(cu + (span * i) / 4, 0, 1), clamp(cv + (span * j) / 4, 0, 1)];
              const d = outside(pose(face(u, v)));
              if (d < best) [best, u0, v0] = [d, u, v];
            }
          least = Math.min(least, best);
          span *= 0.45;
        }
      }
  return least;
}

function world(seed: number): { axis: Axis; openDeg: number; lid: Plain; base: Plain } {
  const draw = seeded(seed);
  const opening = unit([draw() - 0.5, 1, draw() - 0.5]);
  const origin: Vec3 = [100 * draw(), 100 * draw(), 100 * draw()];
  const axis: Axis = { origin, along: opening, opening, sign: 1, spanMm: 800 };
  const out = unit(cross(opening, [0, 0, 1]));
  const make = [box, cylinder, plate];
  const one = (at: Vec3, size: number): Plain => make[Math.floor(draw() * 3)]!(draw, at, size);
  const at = (far: number, deg: number, along: number): Vec3 =>
    add(origin, add(rotateVec(scale(out, far), opening, toRad(deg)), scale(opening, along)));
  return {
    axis,
    openDeg: 60 + 60 * draw(),
    lid: one(at(200 + 500 * draw(), 0, 300 * draw()), 120),
    base: one(at(200 + 500 * draw(), 40 + 100 * draw(), 300 * draw()), 120),
  };
}

it('gives gaps within 0.2 mm and the first touch within 0.1°, against sampled surfaces', () => {
  let touched = 0;
  let cleared = 0;
  const count = runs(200, 1);
  for (let seed = 1; seed <= count; seed++) {
    const { axis, openDeg, lid, base } = world(seed);
    const posed =
      (deg: number) =>
      (p: Vec3): Vec3 =>
        add(axis.origin, rotateVec(sub(p, axis.origin), axis.opening, toRad(deg)));
    const back =
      (deg: number) =>
      (p: Vec3): Vec3 =>
        add(axis.origin, rotateVec(sub(p, axis.origin), axis.opening, toRad(-deg)));
    const gap = (deg: number): number => Math.min(sampled(lid, base, posed(deg)), sampled(base, lid, back(deg)));
    const room = roomOf(axis, openDeg, lid.body, base.body, 3);
    const where = `seed ${seed}`;
    expect(room.known, where).toBe(true);
    if (gap(0) < 3) continue;
    const last = room.touchDeg ?? openDeg;
    for (let deg = 0; deg < last - 0.1; deg += 4)
      expect(gap(deg), `${where} at ${deg}`).toBeGreaterThan(room.gapMm - 0.2);
    if (room.touchDeg !== null) {
      touched++;
      expect(gap(room.touchDeg - 0.1), where).toBeGreaterThan(0);
      // at that very angle: a little later what only grazes has parted again (seed 90)
      expect(gap(room.touchDeg), where).toBeLessThan(0.2);
    } else {
      cleared++;
      expect(Math.abs(gap(room.atDeg) - room.gapMm), where).toBeLessThan(0.2);
    }
    if (room.clearDeg < openDeg) expect(Math.abs(gap(room.clearDeg) - 3), where).toBeLessThan(0.2);
  }
  if (DEEP) expect(Math.min(touched, cleared)).toBeGreaterThan(count / 20);
});

it('the body of a mass goes along with its point, dragged or typed', () => {
  const boxed = {
    centre: [-300, 0, 60] as [number, number, number],
    sizeMm: [200, 200, 100] as [number, number, number],
  };
  const lid = lidOfSizes({
    ...{ widthMm: 800, depthMm: 600, layers: [{ name: 'ply', thicknessMm: 20, densityKgM3: 700 }] },
    things: [{ name: 'Crate', kg: 5, outMm: 300, overMm: 40 }],
  });
  const job = { ...lid, masses: lid.masses.map((m) => (m.id === 'thing1' ? { ...m, body: { box: boxed } } : m)) };
  const body = (now: typeof lid): unknown => now.masses.find((m) => m.id === 'thing1')!.body!.box!.centre;
  const [x, y, z] = lid.points.find((p) => p.id === 'cg-thing1')!.at as [number, number, number];
  expect(body(movePoint(job, { id: 'cg-thing1', at: [x + 10, y - 20, z] }))).toEqual([-290, -20, 60]);
  expect(body(setPointCoordinate(job, { id: 'cg-thing1', component: 2, value: z + 5 }))).toEqual([-300, 0, 65]);
  expect(body(movePoint(job, { id: 'grip', at: [0, 0, 0] }))).toEqual([-300, 0, 60]);
});
