// Lines of a map whose spare is known everywhere.
import { expect, it } from 'vitest';
import { CELL, type WorksMap, contour } from '../../../core/find';

/** A map of a side's cells with spare by a function of column and row. */
function mapOf(
  side: number,
  spare: (x: number, y: number) => number,
  by: (x: number, y: number) => number = () => 2,
): WorksMap {
  const cells = Array.from({ length: side * side }, (_, k) => [k % side, Math.floor(k / side)] as const);
  return {
    grid: { at: [0, 0, 0], across: [1, 0, 0], up: [0, 0, 1], columns: side, rows: side },
    end: 'base',
    state: Uint8Array.from(cells, ([x, y]) => (spare(x, y) >= 0 ? CELL.works : CELL.fails)),
    spare: Float32Array.from(cells, ([x, y]) => spare(x, y)),
    decides: Uint8Array.from(cells, ([x, y]) => by(x, y)),
    others: [],
    caseOf: new Int8Array(side * side),
    caseIds: ['normal'],
    entry: new Int16Array(side * side).fill(-1),
    force: new Int16Array(side * side).fill(-1),
  };
}

it('goes round a round place as one closed line, where it is', () => {
  const lines = contour(
    mapOf(41, (x, y) => (12 - Math.hypot(x - 20, y - 20)) / 40),
    0,
  );
  expect(lines).toHaveLength(1);
  const [{ points, id, caseId }] = lines as [(typeof lines)[number]];
  expect([id, caseId]).toEqual(['hand-opening', 'normal']);
  for (const [x, y] of points) expect(Math.abs(Math.hypot(x - 20, y - 20) - 12)).toBeLessThan(0.02);
  expect(points.length).toBeGreaterThan(60);
  expect(points[0]).toEqual(points.at(-1));
  // a level inside it lies as much further in
  for (const [x, y] of contour(
    mapOf(41, (u, v) => (12 - Math.hypot(u - 20, v - 20)) / 40),
    0.1,
  )[0]!.points)
    expect(Math.abs(Math.hypot(x - 20, y - 20) - 8)).toBeLessThan(0.02);
});

it('breaks a line where another demand decides, and stays off what is no part of the zone', () => {
  const lines = contour(mapOf(21, (_x, y) => (y - 10.5) / 10, (x) => (x < 10 ? 2 : 3)), 0); // prettier-ignore
  expect(lines.map((l) => l.id).sort()).toEqual(['hand-opening', 'stays-open']);
  expect(lines.flatMap((l) => l.points.map(([, y]) => y)).every((y) => Math.abs(y - 10.5) < 1e-9)).toBe(true);
  const holed = contour(
    mapOf(21, (x, y) => (x > 10 ? NaN : (y - 10.5) / 10)),
    0,
  );
  expect(Math.max(...holed.flatMap((l) => l.points.map(([x]) => x)))).toBe(10);
});

it('parts two places that touch at a corner by what lies between them', () => {
  // 2 × 2 cells: full on one diagonal, empty on the other
  const saddle = (low: number): number =>
    contour(
      mapOf(2, (x, y) => (x === y ? 0.2 : low)),
      0,
    ).length;
  expect(saddle(-0.3)).toBe(2);
  expect(saddle(-0.1)).toBe(2);
});
