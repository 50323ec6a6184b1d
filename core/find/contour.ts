import type { Vec2 } from '../space';
import { type WorksMap, decidesAt } from './map';

/** A line over a map's grid: columns and rows, with parts of them. */
export interface MapLine {
  readonly points: readonly Vec2[];
  /** What decides on the side where less is to spare: a demand's id, and the load case where one does. */
  readonly id: string | null;
  readonly caseId: string | null;
}

/** Beyond this it makes no difference how much is missing: a line keeps near the cells that it divides. */
const DEEP = 0.3;

/**
 * Where a map's spare goes through a level, by marching squares: lines as long as they hang together and the same demand
 * decides on their poorer side. Squares with a corner off the zone have none.
 */
export function contour(map: WorksMap, level: number): MapLine[] {
  const { columns, rows } = map.grid;
  const value = (cell: number): number => Math.max(-DEEP, map.spare[cell]!) - level;
  /** Pieces by the edges of the grid that they end on: an edge is twice its first cell, and one more where it goes up. */
  const pieces: { readonly ends: readonly [number, number]; readonly by: number; used: boolean }[] = [];
  const points = new Map<number, Vec2>();
  const at = new Map<number, number[]>();
  const cross = (a: number, b: number): number => {
    const edge = 2 * a + (b === a + 1 ? 0 : 1);
    if (!points.has(edge)) {
      const t = value(a) / (value(a) - value(b));
      const [x, y] = [a % columns, Math.floor(a / columns)];
      points.set(edge, b === a + 1 ? [x + t, y] : [x, y + t]);
    }
    return edge;
  };
  const add = (from: number, to: number, by: number): void => {
    const k = pieces.push({ ends: [from, to], by, used: false }) - 1;
    for (const edge of [from, to]) at.set(edge, [...(at.get(edge) ?? []), k]);
  };
  for (let row = 0; row + 1 < rows; row++)
    for (let column = 0; column + 1 < columns; column++) {
      const a = row * columns + column;
      const corners = [a, a + 1, a + 1 + columns, a + columns] as const;
      const values = corners.map(value);
      if (values.some(Number.isNaN)) continue;
      const inside = values.map((v) => v >= 0);
      const count = inside.filter(Boolean).length;
      if (count === 0 || count === 4) continue;
      const poor = corners[values.indexOf(Math.min(...values))]!;
      // sides in turn: below, right, above, left
      const sides = [[0, 1], [1, 2], [3, 2], [0, 3]] as const; // prettier-ignore
      const crossed = sides.flatMap(([i, k], side) => (inside[i] === inside[k] ? [] : [side]));
      const edge = (side: number): number => cross(corners[sides[side]![0]]!, corners[sides[side]![1]]!);
      if (crossed.length === 2) add(edge(crossed[0]!), edge(crossed[1]!), poor);
      else {
        // a saddle: what the middle is like hangs together
        const middle = values.reduce((sum, v) => sum + v, 0) >= 0;
        const [first, second] = middle === inside[0] ? [[0, 1], [2, 3]] : [[0, 3], [1, 2]]; // prettier-ignore
        for (const [s, t] of [first!, second!]) add(edge(s!), edge(t!), poor);
      }
    }
  const key = (cell: number): string => `${map.decides[cell]} ${map.caseOf[cell]}`;
  const lines: MapLine[] = [];
  pieces.forEach((piece, k) => {
    if (piece.used) return;
    piece.used = true;
    const kind = key(piece.by);
    const follow = (from: number): Vec2[] => {
      const way: Vec2[] = [];
      for (let edge = from, last = k; ;) {
        way.push(points.get(edge)!);
        const next = at.get(edge)!.find((i) => i !== last && !pieces[i]!.used && key(pieces[i]!.by) === kind);
        if (next === undefined) return way;
        pieces[next]!.used = true;
        const [s, t] = pieces[next]!.ends;
        [edge, last] = [s === edge ? t : s, next];
      }
    };
    const ahead = follow(piece.ends[1]);
    const behind = follow(piece.ends[0]);
    const c = map.caseOf[piece.by]!;
    lines.push({
      points: [...behind.reverse(), ...ahead],
      id: decidesAt(map, piece.by),
      caseId: map.caseIds[c] ?? null,
    });
  });
  return lines;
}
