import fontkit from '@cantoo/fontkit';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  boundsOf,
  type DimensionMark,
  dimensionLabel,
  dimensionValue,
  explode,
  explodeDimension,
  formatNumber,
  lettersWithout,
  lineStyles,
  type Mark,
  moveMarks,
  type PlainMark,
  type Point,
  type Sheet,
  textWidthMm,
  unknownLetters,
  writeSvg,
} from '../../../core/drawing';
import { advances, UNITS_PER_EM } from '../../../core/drawing/advances';
import { writePdf } from '../../../core/drawing/pdf';
import { LidwrightError } from '../../../core/error';
import { rad } from '../../../core/space';
import { fontBytes, fontFile } from './font';
import { haveTool, wordsOf } from '../papers/readers';
import { runs } from '../../support/tier';

const linear = (
  from: Point,
  to: Point,
  along: Point,
  through: Point,
  more: Partial<DimensionMark> = {},
): DimensionMark => ({
  kind: 'dimension',
  id: 'd',
  measured: { of: 'distance', from, to, along },
  scale: 1,
  before: '',
  after: '',
  decimals: 2,
  layout: { style: 'linear', through, gapsMm: [2, 2], outside: 'end' },
  ...more,
});
const only = <K extends PlainMark['kind']>(marks: readonly PlainMark[], kind: K) =>
  marks.filter((m): m is Extract<PlainMark, { kind: K }> => m.kind === kind);

describe('formatNumber', () => {
  it.each([
    [6.6, 2, '6.6'],
    [100, 2, '100'],
    [3.175, 2, '3.18'],
    [3.1749, 2, '3.17'],
    [0.004, 2, '0'],
    [-0.001, 2, '0'],
    [1200, 0, '1200'],
    [51.024, 1, '51'],
  ])('writes %d to %d decimals as %s', (value, decimals, text) => expect(formatNumber(value, decimals)).toBe(text));
});

describe('lettering', () => {
  it('has the widths of the font file', () => {
    const font = fontkit.create(fontBytes) as unknown as {
      unitsPerEm: number;
      hasGlyphForCodePoint(code: number): boolean;
      glyphForCodePoint(code: number): { advanceWidth: number };
    };
    expect(font.unitsPerEm).toBe(UNITS_PER_EM);
    for (const [first, widths] of advances)
      widths.forEach((width, i) =>
        expect(width).toBe(font.hasGlyphForCodePoint(first + i) ? font.glyphForCodePoint(first + i).advanceWidth : 0),
      );
  });

  it('measures by hand: ⌀8.4 at 3.5 mm', () => {
    // ⌀ 1109, figures 1172 each, point 585 (units of 2048 an em); capitals 1493 high: (1109 + 2·1172 + 651)·3.5/1493.
    expect(textWidthMm('⌀8.4', 3.5)).toBeCloseTo(((1109 + 2 * 1172 + 585) * 3.5) / 1493, 9);
  });

  it('knows every letter that the font file has, and no other', () => {
    const font = fontkit.create(fontBytes) as unknown as { characterSet: number[] };
    const has = new Set(font.characterSet.filter((code) => code >= 0x20 && !(code >= 0x7f && code < 0xa0)));
    for (let code = 0; code <= 0x1ffff; code++)
      if (!/[\t\n\v\f\r]/.test(String.fromCodePoint(code)))
        expect(lettersWithout(String.fromCodePoint(code)).length === 0, code.toString(16)).toBe(has.has(code));
  });

  it('draws a letter that the font has not as a box in PDF and SVG, whatever it is', async () => {
    const read = haveTool('pdftotext');
    const text = (said: string): Mark => ({
      kind: 'text',
      at: [1, 9],
      text: said,
      sizeMm: 5,
      anchor: 'start',
      rotationDeg: 0,
    });
    for (const [said, drawn] of [
      ['Hatch 🚤 漢', 'Hatch □ □'],
      ['\ud83d half', '□ half'],
      ['bell\u0007\u0000', 'bell□□'],
      ['two\tlines\n', 'two lines '],
      ['Крышка Ω é', 'Крышка Ω é'],
    ] as const) {
      const one: Sheet = { ...sheet, title: said, parts: [{ name: 'p', marks: [text(said)] }] };
      const pdf = await writePdf([one], { fontBytes, date: '2026-11-25' });
      expect(/<text[^>]*>([^<]*)<\/text>/.exec(writeSvg(one))![1]).toBe(drawn);
      if (read) expect(wordsOf(pdf).map(({ text: word }) => word)).toEqual(drawn.trim().split(' '));
    }
  });

  it('names letters that the font has not', () => expect(unknownLetters('⌀ 9 ± 漢 Ω')).toEqual(['漢']));
});

describe('dimension', () => {
  it('says what its points measure, along its own direction only', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -300, max: 300, noNaN: true }), { minLength: 4, maxLength: 4 }),
        fc.double({ min: 0, max: 3, noNaN: true }),
        ([a, b, c, d], turn) => {
          const along: Point = [Math.cos(turn), Math.sin(turn)];
          const mark = linear([a!, b!], [c!, d!], along, [0, 400], { scale: 0.5 });
          expect(dimensionValue(mark)).toBeCloseTo(2 * Math.abs((c! - a!) * along[0] + (d! - b!) * along[1]), 9);
          expect(Math.abs(Number(dimensionLabel(mark)) - dimensionValue(mark))).toBeLessThanOrEqual(0.005 + 1e-9);
        },
      ),
      { seed: 7, numRuns: runs(2000) },
    );
  });

  it('draws figure, arrows and extension lines as ISO 129-1 has them', () => {
    const marks = explodeDimension(linear([10, 40], [45, 43], [1, 0], [0, 20]));
    const [text] = only(marks, 'text');
    expect(text).toMatchObject({ text: '35', anchor: 'middle', rotationDeg: 0, sizeMm: 3.5 });
    expect(text!.at[0]).toBeCloseTo(27.5, 9);
    expect(text!.at[1]).toBeGreaterThan(20.5);
    const lines = only(marks, 'line');
    expect(lines.every((l) => l.role === 'narrow')).toBe(true);
    // Extension lines: 2 mm off the outline, 8 line widths past the dimension line.
    expect(lines.slice(0, 2).map((l) => [l.from, l.to])).toEqual([
      [
        [10, 38],
        [10, 18],
      ],
      [
        [45, 41],
        [45, 18],
      ],
    ]);
    expect([lines[2]!.from, lines[2]!.to]).toEqual([
      [10, 20],
      [45, 20],
    ]);
    for (const head of only(marks, 'area')) {
      const [tip, a, b] = head.points as [Point, Point, Point];
      expect([10, 45]).toContain(tip[0]);
      const back: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
      const length = Math.hypot(tip[0] - back[0], tip[1] - back[1]);
      expect(length).toBeGreaterThanOrEqual(3 - 1e-9);
      expect((2 * Math.atan(Math.hypot(a[0] - b[0], a[1] - b[1]) / 2 / length) * 180) / Math.PI).toBeCloseTo(15, 6);
      expect(back[0] > 10 && back[0] < 45).toBe(true);
    }
  });

  it('reads a standing figure from the right, left of its line', () => {
    for (const along of [
      [0, 1],
      [0, -1],
    ] as const) {
      const [text] = only(explodeDimension(linear([10, 10], [12, 70], along, [0, 0])), 'text');
      expect(text!.rotationDeg).toBeCloseTo(90, 9);
      expect(text!.at[0]).toBeLessThan(-0.5);
      expect(text!.at[1]).toBeCloseTo(40, 9);
    }
  });

  it('puts arrows, and a figure that has no room, outside', () => {
    const marks = explodeDimension(linear([10, 40], [13, 40], [1, 0], [0, 20], { before: 't=' }));
    for (const { points } of only(marks, 'area')) {
      const back = (points[1]![0] + points[2]![0]) / 2;
      expect(back < 10 || back > 13).toBe(true);
    }
    expect(boundsOf(only(marks, 'text')).left).toBeGreaterThan(13 + 4);
  });

  it('keeps radius, diameter and angle', () => {
    const leader = { style: 'leader', tip: [5, 0], landing: [15, 9], side: 1 } as const;
    const round = (of: 'radius' | 'diameter', before: string): DimensionMark => ({
      ...linear([0, 0], [1, 0], [1, 0], [0, 0]),
      measured: { of, centre: [0, 0], radiusMm: 5 },
      scale: 2,
      before,
      layout: leader,
    });
    expect(dimensionLabel(round('radius', 'R'))).toBe('R2.5');
    expect(dimensionLabel(round('diameter', '2× ⌀'))).toBe('2× ⌀5');
    const [text] = only(explodeDimension(round('radius', 'R')), 'text');
    expect(text!.at[0]).toBeGreaterThan(18);
    const angle: DimensionMark = {
      ...round('radius', ''),
      after: '°',
      measured: { of: 'angle', vertex: [3, 4], startRad: rad(0.2), sweepRad: rad(Math.PI / 3) },
      layout: { style: 'angular', radiusMm: 20 },
    };
    expect(dimensionLabel(angle)).toBe('60°');
    expect(only(explodeDimension(angle), 'arc')).toHaveLength(1);
    expect(only(explodeDimension(angle), 'area').map((a) => a.points[0]!.map((v) => Number(v.toFixed(6))))).toEqual([
      [Number((3 + 20 * Math.cos(0.2)).toFixed(6)), Number((4 + 20 * Math.sin(0.2)).toFixed(6))],
      [
        Number((3 + 20 * Math.cos(0.2 + Math.PI / 3)).toFixed(6)),
        Number((4 + 20 * Math.sin(0.2 + Math.PI / 3)).toFixed(6)),
      ],
    ]);
  });
});

/** One of everything, no two numbers alike. */
const everything: Mark[] = [
  { kind: 'line', role: 'hidden', from: [12, 13], to: [57, 19] },
  { kind: 'circle', role: 'visible', centre: [40, 60], radiusMm: 7.5 },
  { kind: 'arc', role: 'phantom', centre: [80, 44], radiusMm: 11, startRad: rad(0.3), sweepRad: rad(-4.1) },
  {
    kind: 'path',
    role: 'visible',
    closed: true,
    segments: [
      { kind: 'line', from: [100, 20], to: [130, 20] },
      { kind: 'arc', centre: [130, 26], radiusMm: 6, startRad: rad(-Math.PI / 2), sweepRad: rad(Math.PI) },
      { kind: 'line', from: [130, 32], to: [100, 20] },
    ],
  },
  {
    kind: 'area',
    points: [
      [20, 80],
      [26, 81],
      [23, 88],
    ],
  },
  { kind: 'text', at: [15, 100], text: 'Ω < 4 & "µ" ± 0.5°', sizeMm: 5, anchor: 'start', rotationDeg: 0 },
  { kind: 'text', at: [120, 90], text: 'standing', sizeMm: 2.5, anchor: 'middle', rotationDeg: 90 },
  linear([30, 120], [90, 127], [1, 0], [0, 110], { before: '3× ' }),
];
const sheet: Sheet = {
  title: 'Test <sheet>',
  widthMm: 150,
  heightMm: 140,
  parts: [{ name: 'all', marks: everything }],
};

describe('marks', () => {
  it('move as one: bounds and values go along', () => {
    const a = boundsOf(everything);
    const moved = moveMarks(everything, 3.5, -2);
    const b = boundsOf(moved);
    for (const [key, by] of [
      ['left', 3.5],
      ['right', 3.5],
      ['bottom', -2],
      ['top', -2],
    ] as const)
      expect(b[key]).toBeCloseTo(a[key] + by, 9);
    expect(explode(moved).length).toBe(explode(everything).length);
  });

  it('bounds an arc by where it really goes', () => {
    expect(
      boundsOf([{ kind: 'arc', role: 'narrow', centre: [5, 6], radiusMm: 10, startRad: rad(0.1), sweepRad: rad(3) }])
        .top,
    ).toBeCloseTo(16, 9);
    expect(
      boundsOf([{ kind: 'arc', role: 'narrow', centre: [5, 6], radiusMm: 10, startRad: rad(0.1), sweepRad: rad(1) }])
        .left,
    ).toBeCloseTo(5 + 10 * Math.cos(1.1), 9);
  });

  it('have lines in two widths, 2 : 1', () => {
    for (const [role, { widthMm }] of Object.entries(lineStyles))
      if (role !== 'frame') expect([0.5, 0.25]).toContain(widthMm);
    expect(lineStyles.visible.widthMm).toBe(2 * lineStyles.narrow.widthMm);
  });
});

describe('writeSvg', () => {
  const svg = writeSvg(sheet);
  it('is in millimetres, with text as text', () => {
    expect(svg).toContain('width="150mm" height="140mm" viewBox="0 0 150 140"');
    expect(svg).toContain('>Ω &lt; 4 &amp; &quot;µ&quot; ± 0.5°</text>');
    expect(svg).toContain('<title>Test &lt;sheet&gt;</title>');
    expect(svg).toContain('>3× 60</text>');
    expect(svg).toContain('<circle cx="40" cy="80" r="7.5" stroke-width="0.5"/>');
    expect(svg).not.toMatch(/NaN|undefined/);
  });
  it('turns arcs the right way: the far point of the half circle is on the right', () => {
    expect(svg).toContain('M100 120L130 120A6 6 0 0 0 136 114A6 6 0 0 0 130 108L100 120Z');
    expect(svg).toMatch(/A11 11 0 0 1 /);
    // none so long that rounded ends could shift its centre
    expect(svg).not.toMatch(/A[\d.]+ [\d.]+ 0 1 /);
  });
  it('takes the font in when asked', () => {
    expect(svg).not.toContain('@font-face');
    const withFont = writeSvg(sheet, { fontBytes });
    const data = /base64,([A-Za-z0-9+/=]+)/.exec(withFont)![1]!;
    expect(new Uint8Array(Buffer.from(data, 'base64'))).toEqual(fontBytes);
  });
});

describe('writePdf', () => {
  it('gives the same bytes for the same sheets and date', async () => {
    const [a, b] = await Promise.all([0, 1].map(() => writePdf([sheet], { fontBytes, date: '2026-11-25' })));
    expect(Buffer.from(a!).equals(Buffer.from(b!))).toBe(true);
    const other = await writePdf([sheet], { fontBytes, date: '2026-11-26' });
    expect(Buffer.from(a!).equals(Buffer.from(other))).toBe(false);
  });

  it.each<[string, Promise<unknown> | (() => Promise<unknown>), RegExp]>([
    ['a date that is none', () => writePdf([sheet], { fontBytes, date: '25.11.2026' }), /YYYY-MM-DD/],
    ['no sheets', () => writePdf([], { fontBytes, date: '2026-11-25' }), /no sheet/],
    [
      'another font',
      () => writePdf([sheet], { fontBytes: fontFile('ttf/DejaVuSerif.ttf'), date: '2026-11-25' }),
      /DejaVu Sans Condensed/,
    ],
    [
      'a file that is no font',
      () => writePdf([sheet], { fontBytes: new Uint8Array([1, 2, 3]), date: '2026-11-25' }),
      /font file/,
    ],
  ])('refuses %s', async (_name, make, words) => {
    const work = typeof make === 'function' ? make() : make;
    const error = await work.then(
      () => undefined,
      (e: unknown) => e,
    );
    expect(error).toBeInstanceOf(LidwrightError);
    expect(String(error)).toMatch(words);
  });
});
