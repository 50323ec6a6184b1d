import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dxfText, type Mark, type PathSegment, type Sheet, writeDxf } from '../../../core/drawing';
import { rad } from '../../../core/space';
import { polylineArea, readDxf, shownText } from './dxf-read';

const sheet = (marks: readonly Mark[], layer?: string): Sheet => ({
  title: 'Test',
  widthMm: 210,
  heightMm: 297,
  parts: [{ name: 'all', marks, ...(layer === undefined ? {} : { layer }) }],
});
const length = fc.integer({ min: -200_000, max: 200_000 }).map((n) => n / 1000);
const size = fc.integer({ min: 100, max: 90_000 }).map((n) => n / 1000);
const point = fc.tuple(length, length);

describe('DXF text', () => {
  it('comes back as it was, whatever is in it', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 30 }), (raw) => {
        const text = raw.replace(/\s+/g, ' ');
        const written = dxfText(text);
        expect(written).toMatch(/^[\x20-\x7e]*$/);
        expect(shownText(written)).toBe(text);
      }),
    );
  });
  it('keeps the signs of a drawing by the format’s own codes', () => {
    expect(dxfText('⌀9 ±0.1 at 45°')).toBe('%%c9 %%p0.1 at 45%%d');
    expect(shownText(dxfText('100 % of %%d, C:\\U+2300'))).toBe('100 % of %%d, C:\\U+2300');
  });
});

describe('DXF read back by a parser from outside', () => {
  it('says what it is: millimetres, metric, version, each handle once', () => {
    const dxf = readDxf(
      writeDxf(
        sheet([
          { kind: 'line', role: 'visible', from: [1, 2], to: [3, 4.5] },
          { kind: 'circle', role: 'centre', centre: [5, 6], radiusMm: 7.25 },
        ]),
      ),
    );
    expect(dxf.header).toMatchObject({ $INSUNITS: 4, $MEASUREMENT: 1, $ACADVER: 'AC1015' });
    expect(dxf.lines).toEqual([{ layer: 'EDGES', from: [1, 2], to: [3, 4.5] }]);
    expect(dxf.circles).toEqual([{ layer: 'AXES', centre: [5, 6], radius: 7.25 }]);
    expect(dxf.layers).toEqual(expect.arrayContaining(['0', 'EDGES', 'AXES']));
    const text = writeDxf(sheet([{ kind: 'line', role: 'visible', from: [1, 2], to: [3, 4] }]));
    const handles = [...text.matchAll(/^ {2}5\n([0-9A-F]+)$/gm)].map((m) => m[1]!);
    expect(new Set(handles).size).toBe(handles.length);
    // the next free handle is over all that are used ($HANDSEED comes first)
    expect(Math.max(...handles.slice(1).map((h) => parseInt(h, 16)))).toBeLessThan(parseInt(handles[0]!, 16));
  });

  it('puts a part that names its layer wholly on it, in a name that readers take', () => {
    const dxf = readDxf(writeDxf(sheet([{ kind: 'line', role: 'hidden', from: [0, 0], to: [1, 1] }], 'a/b: c')));
    expect(dxf.lines[0]!.layer).toBe('a-b-c');
    expect(dxf.layers).toContain('a-b-c');
  });

  it('keeps arcs whichever way they turn', () => {
    fc.assert(
      fc.property(
        point,
        size,
        fc.double({ min: -7, max: 7, noNaN: true }).map(rad),
        fc.double({ min: 0.01, max: 6.2, noNaN: true }),
        fc.boolean(),
        (centre, radiusMm, startRad, sweep, back) => {
          const sweepRad = rad(back ? -sweep : sweep);
          const [arc] = readDxf(
            writeDxf(sheet([{ kind: 'arc', role: 'visible', centre, radiusMm, startRad, sweepRad }])),
          ).arcs;
          const at = (a: number): number[] => [centre[0] + radiusMm * Math.cos(a), centre[1] + radiusMm * Math.sin(a)];
          const [low, high] = back ? [startRad + sweepRad, startRad] : [startRad, startRad + sweepRad];
          at(arc!.start).forEach((v, k) => expect(v).toBeCloseTo(at(low)[k]!, 4));
          at(arc!.end).forEach((v, k) => expect(v).toBeCloseTo(at(high)[k]!, 4));
          const turn = (((arc!.end - arc!.start) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
          expect(turn).toBeCloseTo(sweep, 5);
        },
      ),
    );
  });

  it('writes an outline with arcs as one closed polyline whose area is the outline’s', () => {
    fc.assert(
      fc.property(point, size, size, fc.double({ min: 0, max: 6, noNaN: true }), ([x, y], r, l, turn) => {
        // a slot: its area is known in closed form
        const [c, s] = [Math.cos(turn), Math.sin(turn)];
        const put = (a: number, b: number): [number, number] => [x + a * c - b * s, y + a * s + b * c];
        const cap = (a: number, start: number): PathSegment => ({
          kind: 'arc',
          centre: put(a, 0),
          radiusMm: r,
          startRad: rad(turn + start),
          sweepRad: rad(Math.PI),
        });
        const segments: PathSegment[] = [
          { kind: 'line', from: put(-l, -r), to: put(l, -r) },
          cap(l, -Math.PI / 2),
          { kind: 'line', from: put(l, r), to: put(-l, r) },
          cap(-l, Math.PI / 2),
        ];
        const [outline] = readDxf(
          writeDxf(sheet([{ kind: 'path', role: 'visible', closed: true, segments }])),
        ).polylines;
        expect(outline!.closed).toBe(true);
        expect(outline!.vertices).toHaveLength(4);
        const area = Math.PI * r * r + 4 * r * l;
        expect(Math.abs(polylineArea(outline!.vertices) - area)).toBeLessThan(1e-4 * (r + l) + 1e-7 * area);
      }),
    );
  });

  it('fills triangles and quadrangles with their corners in the format’s crossed order, larger areas too', () => {
    const square: [number, number][] = [
      [0, 0],
      [4, 0],
      [4, 3],
      [0, 3],
    ];
    const dxf = readDxf(
      writeDxf(
        sheet([
          { kind: 'area', points: square },
          { kind: 'area', points: square.slice(0, 3) },
        ]),
      ),
    );
    expect(dxf.solids[0]).toEqual([square[0], square[1], square[3], square[2]]);
    expect(dxf.solids[1]!.slice(0, 3)).toEqual(square.slice(0, 3));
    const text = writeDxf(sheet([{ kind: 'area', points: [...square, [-2, 1.5]] }]));
    expect(text).toContain('HATCH');
    expect(text).toMatch(/^ 93\n5$/m);
  });

  it('keeps texts as texts where they stand', () => {
    const dxf = readDxf(
      writeDxf(
        sheet([
          { kind: 'text', at: [10, 20], text: '⌀9 ±0.1, 45°', sizeMm: 3.5, anchor: 'middle', rotationDeg: 90 },
          { kind: 'text', at: [1, 2], text: 'Zürich → Łódź', sizeMm: 2.5, anchor: 'start', rotationDeg: 0 },
        ]),
      ),
    );
    expect(dxf.texts).toEqual([
      { layer: 'TEXT', at: [10, 20], text: '⌀9 ±0.1, 45°', size: 3.5, rotationDeg: 90, align: 1 },
      { layer: 'TEXT', at: [1, 2], text: 'Zürich → Łódź', size: 2.5, rotationDeg: 0, align: 0 },
    ]);
  });
});
