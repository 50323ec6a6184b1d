// Many random brackets: sheets that can be read, as large as they can be, and cutting files that a machine takes, by two readers.
import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import DxfParser from 'dxf-parser';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Blank, blanks, type BracketSpec, stockMm } from '../../../core/bracket';
import { boundsOf, type Mark, type Point, type Sheet, writeDxf } from '../../../core/drawing';
import { BRACKET_KINDS } from '../../../core/job';
import { bracketDrawing, cuttingSheet } from '../../../core/papers';
import { fitBracketDrawing } from '../../../core/papers/bracket-drawing';
import { piecesCross } from '../../../core/papers/bracket/place-dimensions';
import { withoutTiny } from '../../../core/papers/cutting-sheet';
import { makeableOf } from '../bracket/samples';
import { polylineArea, readDxf } from '../drawing/dxf-read';
import { DEEP, runs } from '../../support/tier';
import { collisions } from './overlap';
import { inFolder } from './readers';

const info = { title: 'B', number: 'N', creator: 'C', approver: 'D', owner: 'O', date: '2026-11-25' };
const COUNT = runs(500, 3);
/** Colours of the format's own table by layer: what is cut, bent and only read must not be taken for one another. */
const COLOURS: Readonly<Record<string, number>> = { CUT: 7, BEND: 5, NOTE: 3 };

const anyKind: fc.Arbitrary<BracketSpec> = fc.oneof(...BRACKET_KINDS.map((kind) => makeableOf(kind)));
const drawn = fc.record({
  spec: anyKind,
  paper: fc.constantFrom('A4' as const, 'A3' as const),
  projection: fc.constantFrom('first' as const, 'third' as const),
});

const leadersOf = (marks: readonly Mark[]): (readonly [Point, Point])[] =>
  marks.flatMap((m) =>
    m.kind === 'dimension' && m.layout.style === 'leader' ? [[m.layout.tip, m.layout.landing] as const] : [],
  );

/** How near a straight piece comes to a point. */
function nearest([a, b]: readonly [Point, Point], p: Point): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const t = Math.max(0, Math.min(1, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy || 1)));
  return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy);
}

/** Leaders of one view that run through a hole or another leader, in words. */
function badLeaders(sheet: Sheet): string[] {
  return sheet.parts.flatMap(({ name, marks }) => {
    const leaders = leadersOf(marks);
    const holes = marks.flatMap((m) => (m.kind === 'circle' && m.role !== 'frame' ? [m] : []));
    return leaders.flatMap((line, i) => [
      ...leaders.slice(i + 1).flatMap((other) => (piecesCross(line, other) ? [`${name}: leaders cross`] : [])),
      ...holes.flatMap((h) =>
        nearest(line, h.centre) < h.radiusMm - 0.05 ? [`${name}: a leader through a hole`] : [],
      ),
    ]);
  });
}

/** Blanks as a shop nests them: a file for each thickness of stock. */
function byStock(spec: BracketSpec): Map<number, Blank[]> {
  const found = new Map<number, Blank[]>();
  for (const blank of blanks(spec)) found.set(stockMm(blank), [...(found.get(stockMm(blank)) ?? []), blank]);
  return found;
}

/** What is wrong with a cutting file, by dxf-parser. */
function badCutting(dxf: string): string[] {
  const read = readDxf(dxf);
  const layers = (
    new DxfParser().parseSync(dxf)!.tables as unknown as { layer: { layers: Record<string, { colorIndex: number }> } }
  ).layer.layers;
  const cut = read.polylines.filter((p) => p.layer === 'CUT');
  const shortest = Math.min(
    ...cut.flatMap(({ vertices }) =>
      vertices.map(({ at, bulge }, i) => {
        const to = vertices[(i + 1) % vertices.length]!.at;
        const chord = Math.hypot(to[0] - at[0], to[1] - at[1]);
        const sweep = 4 * Math.atan(Math.abs(bulge));
        return sweep < 1e-9 ? chord : (chord * sweep) / (2 * Math.sin(sweep / 2));
      }),
    ),
  );
  const thick = read.texts
    .flatMap((t) => /^t = ([\d.]+) mm|^Stock: plate of ([\d.]+) mm/.exec(t.text)?.slice(1) ?? [])
    .filter(Boolean);
  return [
    ...(cut.length > 0 && cut.every((p) => p.closed) ? [] : ['a cut that is not closed']),
    ...(shortest >= 0.05 ? [] : [`a piece of ${shortest} mm`]),
    ...(new Set(thick).size === 1 ? [] : [`thicknesses ${thick.join(', ')}`]),
    ...Object.entries(COLOURS).flatMap(([name, colour]) =>
      layers[name] === undefined ||
      layers[name].colorIndex === colour ||
      (layers[name] as { colorNumber?: number }).colorNumber === colour
        ? []
        : [`layer ${name} has colour ${JSON.stringify(layers[name])}`],
    ),
    ...(read.lines.some((l) => l.layer === 'CUT') || read.arcs.some((a) => a.layer === 'CUT') ? ['a loose cut'] : []),
  ];
}

const EZDXF = `
import sys, math, glob, json, ezdxf
bad = []
for name in sorted(glob.glob(sys.argv[1] + '/*.dxf')):
    doc = ezdxf.readfile(name)
    audit = doc.audit()
    if audit.errors: bad.append(name + ': ' + str([e.message for e in audit.errors][:3]))
    if doc.header.get('$INSUNITS') != 4: bad.append(name + ': not in millimetres')
    for layer, colour in {'CUT': 7, 'BEND': 5, 'NOTE': 3}.items():
        if doc.layers.has_entry(layer) and doc.layers.get(layer).color != colour: bad.append(name + ': colour of ' + layer)
    for e in doc.modelspace().query('*[layer=="CUT"]'):
        kind = e.dxftype()
        if kind == 'LWPOLYLINE':
            if not e.closed: bad.append(name + ': open')
            p = list(e.get_points('xyb'))
            for a, b in zip(p, p[1:] + p[:1]):
                if math.hypot(b[0] - a[0], b[1] - a[1]) < 0.05 and abs(a[2]) < 0.2: bad.append(name + ': short')
        elif kind != 'CIRCLE': bad.append(name + ': ' + kind)
print(json.dumps(bad))
`;

/** Debian's Python, which its ezdxf belongs to; null, and said aloud, where it is not there. */
function pythonWithEzdxf(): string | null {
  try {
    execFileSync('/usr/bin/python3', ['-c', 'import ezdxf'], { stdio: 'ignore' });
    return '/usr/bin/python3';
  } catch {
    console.warn('SKIPPED: python3-ezdxf is not installed, so cutting files are not read back by it.');
    return null;
  }
}

describe('many brackets', () => {
  it('are drawn with no text on a text or line, no leader through a hole or a leader, at the largest scale that fits', () => {
    let compared = 0;
    fc.assert(
      fc.property(drawn, ({ spec, paper, projection }) => {
        const sheet =
          fitBracketDrawing(spec, info, { paper, projection }) ??
          bracketDrawing(spec, info, { paper: 'A3', projection });
        expect(collisions(sheet)).toEqual([]);
        expect(badLeaders(sheet)).toEqual([]);
        const larger = [5, 2, 1, 1 / 2, 1 / 5, 1 / 10];
        const scale = 1 / sheet.realPerPaper!;
        const next = larger[larger.findIndex((k) => Math.abs(k - scale) < 1e-9) - 1];
        if (next === undefined) return;
        // the parts alone, so much larger, with no size beside them, against the room over the title block
        const views = sheet.parts.filter((p) => /view|pattern|section|gusset/.test(p.name));
        const areas = views.map(({ marks }) => {
          const box = boundsOf(marks.filter((m) => m.kind !== 'text' && m.kind !== 'dimension'));
          return [(box.right - box.left) * (next / scale), (box.top - box.bottom) * (next / scale)] as const;
        });
        const [w, h] = sheet.widthMm > 300 ? [380, 190] : [170, 170];
        // each view with the room that its sizes take, 22 mm on two sides: this much of it all is left to packing, leaders and tables
        const need = areas.reduce((sum, [a, b]) => sum + (a + 22) * (b + 22), 0);
        compared++;
        expect(need > 0.2 * w * h || areas.some(([a, b]) => a > w - 25 || b > h - 25)).toBe(true);
      }),
      { numRuns: COUNT },
    );
    expect(compared).toBeGreaterThan(0);
  });

  it('are cut from files that are closed, of one thickness, with no piece under 0.05 mm, each layer in its colour', () => {
    const all: string[] = [];
    fc.assert(
      fc.property(anyKind, (spec) => {
        for (const [, group] of byStock(spec)) {
          const dxf = writeDxf(cuttingSheet('Test', group, { material: 'Steel', quantity: 1, hand: '' }));
          expect(badCutting(dxf)).toEqual([]);
          all.push(dxf);
        }
      }),
      { numRuns: COUNT },
    );
    expect(all.length).toBeGreaterThanOrEqual(COUNT);
    const python = DEEP ? pythonWithEzdxf() : null;
    if (python)
      inFolder((folder) => {
        all.forEach((dxf, i) => writeFileSync(join(folder, `${i}.dxf`), dxf));
        writeFileSync(join(folder, 'read.py'), EZDXF);
        const out = execFileSync(python, [join(folder, 'read.py'), folder], { encoding: 'utf8', maxBuffer: 1e8 });
        expect(JSON.parse(out.trim().split('\n').at(-1)!)).toEqual([]);
      });
  });

  it('lose pieces under 0.05 mm and hardly anything else: the area stays, corners move by less than half of that', () => {
    const tiny = fc.double({ min: 0.001, max: 0.049, noNaN: true });
    fc.assert(
      fc.property(tiny, tiny, (a, b) => {
        const corners: Point[] = [
          [0, 0],
          [100, 0],
          [100, 50 - a],
          [100 - b, 50],
          [0, 50],
        ];
        const outline = corners.map((from, i) => ({ kind: 'line' as const, from, to: corners[(i + 1) % 5]! }));
        const left = withoutTiny(outline);
        const ends = left.map((s) => (s.kind === 'line' ? s.from : s.centre));
        if (Math.hypot(a, b) < 0.05) expect(left).toHaveLength(4);
        for (const p of ends)
          expect(Math.min(...corners.map((q) => Math.hypot(p[0] - q[0], p[1] - q[1])))).toBeLessThan(0.026);
        expect(Math.abs(polylineArea(ends.map((at) => ({ at, bulge: 0 })))) - 5000).toBeLessThan(5);
      }),
      { numRuns: runs(100, 20) },
    );
  });
});
