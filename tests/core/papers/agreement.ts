import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Sheet } from '../../../core/drawing';
import type { DxfRead, P } from '../drawing/dxf-read';
import { haveTool, inFolder } from './readers';

/*
 * SVG, PDF and DXF of one sheet, each read by a program that has nothing to do with this project (librsvg and poppler for SVG,
 * poppler for PDF, dxf-parser for DXF), must hold the same points.
 */
const TOLERANCE_MM = 0.02;

export interface Drawn {
  readonly points: readonly P[];
  readonly segments: readonly (readonly [P, P])[];
}

/** Every point and straight piece of every path of the first page, mm from the lower left, as poppler draws it; lettering left out. */
export function pathPoints(pdf: Uint8Array): Drawn {
  return inFolder((folder) => {
    writeFileSync(join(folder, 'a.pdf'), pdf);
    execFileSync('pdftocairo', [
      '-svg',
      '-noshrink',
      '-nocenter',
      '-f',
      '1',
      '-l',
      '1',
      join(folder, 'a.pdf'),
      join(folder, 'a.svg'),
    ]);
    const svg = readFileSync(join(folder, 'a.svg'), 'utf8').replace(/<defs>.*?<\/defs>/gs, '');
    const height = Number(/<svg [^>]*height="([\d.]+)/.exec(svg)![1]);
    const points: P[] = [];
    const segments: (readonly [P, P])[] = [];
    const paths = [...svg.matchAll(/<path [^>]*?\bd="([^"]*)"(?: transform="matrix\(([^)]*)\)")?/g)].map((m) => ({
      d: m[1]!,
      matrix: (m[2] ?? '1,0,0,1,0,0').split(/[ ,]+/).map(Number) as [number, number, number, number, number, number],
    }));
    for (const {
      d,
      matrix: [a, b, c, e, x, y],
    } of paths)
      for (const m of d.matchAll(/([MLC])((?:\s+-?[\d.]+)+)/g)) {
        const numbers = m[2]!.trim().split(/\s+/).map(Number);
        const [px, py] = numbers.slice(-2) as [number, number];
        const onPage = [a * px + c * py + x, b * px + e * py + y] as const;
        const at: P = [(onPage[0] * 25.4) / 72, ((height - onPage[1]) * 25.4) / 72];
        if (m[1] === 'L') segments.push([points[points.length - 1]!, at]);
        points.push(at);
      }
    return { points, segments };
  });
}

/** A point set that answers "is there one near here" fast. */
export function nearness(points: readonly P[]): (p: P) => boolean {
  const cell = 0.1;
  const index = (v: number): number => Math.floor(v / cell);
  const cells = new Map<string, P[]>();
  for (const p of points) {
    const key = `${index(p[0])} ${index(p[1])}`;
    cells.set(key, [...(cells.get(key) ?? []), p]);
  }
  return (p) => {
    for (let i = -1; i <= 1; i++)
      for (let j = -1; j <= 1; j++)
        for (const q of cells.get(`${index(p[0]) + i} ${index(p[1]) + j}`) ?? [])
          if (Math.hypot(p[0] - q[0], p[1] - q[1]) < TOLERANCE_MM) return true;
    return false;
  };
}

function offSegment(p: P, [a, b]: readonly [P, P]): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const k = Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy || 1)));
  return Math.hypot(p[0] - a[0] - k * dx, p[1] - a[1] - k * dy);
}

const on = (c: P, r: number, a: number): P => [c[0] + r * Math.cos(a), c[1] + r * Math.sin(a)];

/** Corners and ends, and the circles that curves run on, of a DXF. */
function shapeOf(dxf: DxfRead): { ends: P[]; circles: { centre: P; radius: number }[] } {
  const ends: P[] = [
    ...dxf.lines.flatMap((l) => [l.from, l.to]),
    ...dxf.polylines.flatMap((p) => p.vertices.map((v) => v.at)),
    ...dxf.solids.flat(),
    ...dxf.arcs.flatMap((a) => [on(a.centre, a.radius, a.start), on(a.centre, a.radius, a.end)]),
  ];
  const bulged = dxf.polylines.flatMap(({ vertices }) =>
    vertices.flatMap(({ at, bulge }, i) => {
      if (bulge === 0) return [];
      const to = vertices[(i + 1) % vertices.length]!.at;
      const [dx, dy] = [to[0] - at[0], to[1] - at[1]];
      // centre of the circle through both ends with a quarter angle atan(bulge)
      const k = (1 - bulge * bulge) / (4 * bulge);
      const centre: P = [(at[0] + to[0]) / 2 - dy * k, (at[1] + to[1]) / 2 + dx * k];
      return [{ centre, radius: Math.hypot(at[0] - centre[0], at[1] - centre[1]) }];
    }),
  );
  return { ends, circles: [...dxf.circles, ...dxf.arcs, ...bulged] };
}

/** What one has and the other has not; empty when SVG or PDF (as poppler drew it) and DXF show the same. */
export function disagreement(sheet: Sheet, { points, segments }: Drawn, dxf: DxfRead): string[] {
  const { ends, circles } = shapeOf(dxf);
  const there = nearness(points);
  // poppler leaves out a corner of a polyline that lies on the straight through its neighbours
  const found = (p: P): boolean => there(p) || segments.some((s) => offSegment(p, s) < TOLERANCE_MM);
  const known = nearness(ends);
  const onCircle = (p: P): boolean =>
    circles.some((c) => Math.abs(Math.hypot(p[0] - c.centre[0], p[1] - c.centre[1]) - c.radius) < TOLERANCE_MM);
  // the paper itself is drawn as a white rectangle in the SVG
  const corner = ([x, y]: P): boolean =>
    [0, sheet.widthMm].some((v) => Math.abs(v - x) < 0.05) && [0, sheet.heightMm].some((v) => Math.abs(v - y) < 0.05);
  const say = (what: string, p: P): string => `${what} ${p[0].toFixed(3)}, ${p[1].toFixed(3)}`;
  return [
    ...ends.filter((p) => !found(p)).map((p) => say('only in the DXF:', p)),
    ...points.filter((p) => !known(p) && !onCircle(p) && !corner(p)).map((p) => say('not in the DXF:', p)),
    ...circles
      .filter(
        (c) =>
          !points.some((p) => Math.abs(Math.hypot(p[0] - c.centre[0], p[1] - c.centre[1]) - c.radius) < TOLERANCE_MM),
      )
      .map((c) => say('circle only in the DXF:', c.centre)),
  ];
}

/** Whether the readers are installed. */
export const haveReaders = haveTool('pdftocairo') && haveTool('rsvg-convert');

/** A sheet without its lettering, which every reader draws with a font of its own. */
export const textless = (sheet: Sheet): Sheet => ({
  ...sheet,
  parts: sheet.parts.map((p) => ({ ...p, marks: p.marks.filter((m) => m.kind !== 'text') })),
});
