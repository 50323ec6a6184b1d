import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Sheet, writeDxf, writeSvg } from '../../../core/drawing';
import { writePdf } from '../../../core/drawing/pdf';
import { workOut } from '../../../core/findings';
import { readJob, resolveJob } from '../../../core/job';
import { papersOf } from '../../../core/papers';
import { sampleDrawings } from '../../../core/papers/examples';
import { type DxfRead, type P, readDxf } from '../drawing/dxf-read';
import { fontBytes } from '../drawing/font';
import { haveTool, inFolder, svgAsPdf } from './readers';

/*
 * SVG, PDF and DXF of one sheet, each read by a program that has nothing to do with this project (librsvg and poppler for SVG,
 * poppler for PDF, dxf-parser for DXF), must hold the same points.
 */
const TOLERANCE_MM = 0.02;

interface Drawn {
  readonly points: readonly P[];
  readonly segments: readonly (readonly [P, P])[];
}

/** Every point and straight piece of every path of the first page, mm from the lower left, as poppler draws it; lettering left out. */
function pathPoints(pdf: Uint8Array): Drawn {
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
function nearness(points: readonly P[]): (p: P) => boolean {
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

function disagreement(sheet: Sheet, { points, segments }: Drawn, dxf: DxfRead): string[] {
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

const here = import.meta.dirname;
function exampleSheets(name: string): [string, Sheet][] {
  const job = resolveJob(readJob(readFileSync(join(here, `../../../assets/examples/${name}.lidjob`), 'utf8')));
  const papers = papersOf(job, workOut(job), { date: '2026-11-25', program: 'Lidwright test' });
  return papers.flatMap((paper) =>
    paper.draw().map((sheet, i): [string, Sheet] => [`${paper.id} page ${i + 1}`, sheet]),
  );
}

const sheets: [string, Sheet][] = [
  ...Object.entries(sampleDrawings).map(([name, draw]): [string, Sheet] => [name, draw()]),
  ...exampleSheets('workboat-hatch'),
];
const tools = haveTool('pdftocairo') && haveTool('rsvg-convert');
const textless = (sheet: Sheet): Sheet => ({
  ...sheet,
  parts: sheet.parts.map((p) => ({ ...p, marks: p.marks.filter((m) => m.kind !== 'text') })),
});

describe('one sheet, three writers', () => {
  it.skipIf(!tools).each(sheets)('PDF and DXF agree in every coordinate: %s', async (_, sheet) => {
    const pdf = await writePdf([sheet], { fontBytes, date: '2026-11-25' });
    expect(disagreement(sheet, pathPoints(pdf), readDxf(writeDxf(sheet)))).toEqual([]);
  });

  it.skipIf(!tools).each(sheets)('SVG and DXF agree in every coordinate: %s', (_, full) => {
    const sheet = textless(full);
    expect(disagreement(sheet, pathPoints(svgAsPdf(writeSvg(sheet))), readDxf(writeDxf(sheet)))).toEqual([]);
  });

  it.each(sheets)('texts are the same texts at the same places in SVG and DXF: %s', (_, sheet) => {
    const unescape = (s: string): string =>
      s
        .replace(/&lt;/g, '<')
        .replace(/&gt;/g, '>')
        .replace(/&quot;/g, '"')
        .replace(/&amp;/g, '&');
    const svg = [
      ...writeSvg(sheet).matchAll(
        /<text x="([\d.-]+)" y="([\d.-]+)" font-size="[\d.]+"(?: text-anchor="(\w+)")?(?: transform="rotate\(([\d.-]+)[^"]*)?[^>]*>(.*?)<\/text>/g,
      ),
    ].map(([, x, y, anchor, turn, text]) =>
      [
        unescape(text!),
        Number(x).toFixed(3),
        (sheet.heightMm - Number(y)).toFixed(3),
        anchor ?? 'start',
        -Number(turn ?? 0) + 0,
      ].join('\t'),
    );
    const dxf = readDxf(writeDxf(sheet)).texts.map((t) =>
      [t.text, t.at[0].toFixed(3), t.at[1].toFixed(3), ['start', 'middle', 'end'][t.align], t.rotationDeg + 0].join(
        '\t',
      ),
    );
    const close = (list: string[]): string[] => list.map((s) => s.replace(/(\.\d\d)\d/g, '$1')).sort();
    expect(svg.length).toBeGreaterThan(2);
    expect(dxf.length).toBe(svg.length);
    // rounding to 0.01 may fall either way: compared as texts, then as places
    expect(close(dxf).map((s) => s.split('\t')[0])).toEqual(close(svg).map((s) => s.split('\t')[0]));
    const places = nearness(svg.map((s): P => [Number(s.split('\t')[1]), Number(s.split('\t')[2])]));
    for (const s of dxf) expect(places([Number(s.split('\t')[1]), Number(s.split('\t')[2])]), s).toBe(true);
  });
});
