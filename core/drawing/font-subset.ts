// Like ./pdf an entry of its own: the font library is large. Load this with import().
import fontkit from '@cantoo/fontkit';
import { fail } from '../error';
import { explodeDimension } from './dimension';
import { drawingFont } from './lettering';
import { boxed } from './letters';
import type { Sheet } from './model';

/** Every letter that stands on a sheet, once, in order. */
export function lettersOn(sheet: Sheet): string {
  const found = new Set<string>();
  for (const part of sheet.parts)
    for (const mark of part.marks.flatMap((m) => (m.kind === 'dimension' ? explodeDimension(m) : [m])))
      if (mark.kind === 'text') for (const letter of boxed(mark.text)) found.add(letter);
  return [...found].sort().join('');
}

const u16 = (...values: number[]): number[] => values.flatMap((v) => [(v >> 8) & 255, v & 255]);
const u32 = (v: number): number[] => u16(Math.floor(v / 65536) & 65535, v & 65535);

/** Which glyph each letter has: format 4, a run for each letter (all letters lie in the first 65 535 code points). */
function cmap(glyphs: ReadonlyMap<number, number>): number[] {
  const codes = [...glyphs.keys()].sort((a, b) => a - b);
  const runs = [...codes.map((c) => [c, glyphs.get(c)!] as const), [0xffff, 0] as const];
  const n = runs.length;
  const power = 2 ** Math.floor(Math.log2(n));
  const body = [
    ...u16(0, 2 * n, 2 * power, Math.log2(power), 2 * (n - power)),
    ...runs.flatMap(([c]) => u16(c)),
    ...u16(0),
    ...runs.flatMap(([c]) => u16(c)),
    ...runs.flatMap(([c, glyph]) => u16((glyph - c) & 65535)),
    ...runs.flatMap(() => u16(0)),
  ];
  return [...u16(0, 1, 3, 1), ...u32(12), ...u16(4, body.length + 4), ...body];
}

/** Family, style, full and PostScript name. */
function nameTable(): number[] {
  const { family, postscriptName } = drawingFont;
  const texts = [
    [1, family],
    [2, 'Book'],
    [4, family],
    [6, postscriptName],
  ] as const;
  let at = 0;
  const records = texts.flatMap(([id, text]) => {
    const record = u16(3, 1, 0x409, id, 2 * text.length, at);
    at += 2 * text.length;
    return record;
  });
  const letters = texts.flatMap(([, text]) => [...text].flatMap((c) => u16(c.charCodeAt(0))));
  return [...u16(0, texts.length, 6 + 12 * texts.length), ...records, ...letters];
}

/** The tables of a TrueType file by their names. */
function tablesOf(file: Uint8Array): Map<string, Uint8Array> {
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  const tables = new Map<string, Uint8Array>();
  for (let i = 0; i < view.getUint16(4); i++) {
    const at = 12 + 16 * i;
    const name = String.fromCharCode(...file.subarray(at, at + 4));
    tables.set(name, file.subarray(view.getUint32(at + 8), view.getUint32(at + 8) + view.getUint32(at + 12)));
  }
  return tables;
}

/** A TrueType file of these tables, each padded to four bytes. */
function sfnt(tables: ReadonlyMap<string, Uint8Array>): Uint8Array {
  const names = [...tables.keys()].sort();
  const n = names.length;
  const power = 2 ** Math.floor(Math.log2(n));
  const head = [...u32(0x10000), ...u16(n, 16 * power, Math.log2(power), 16 * (n - power))];
  let at = 12 + 16 * n;
  const body: number[] = [];
  for (const name of names) {
    const padded = [...tables.get(name)!];
    while (padded.length % 4 !== 0) padded.push(0);
    let sum = 0;
    for (let i = 0; i < padded.length; i += 4)
      sum = (sum + padded[i]! * 2 ** 24 + padded[i + 1]! * 65536 + padded[i + 2]! * 256 + padded[i + 3]!) % 2 ** 32;
    head.push(...[...name].map((c) => c.charCodeAt(0)), ...u32(sum), ...u32(at), ...u32(tables.get(name)!.length));
    body.push(...padded);
    at += padded.length;
  }
  return Uint8Array.from([...head, ...body]);
}

/**
 * The drawing font with these letters alone, as a file of its own: outlines by fontkit, with the tables that a browser asks for besides. The same bytes for
 * the same letters every time; letters that the font has not got are left out.
 */
export function subsetFont(fontBytes: Uint8Array, letters: string): Uint8Array {
  const font = fontkit.create(fontBytes);
  if (!('createSubset' in font)) return fail('the font file holds several fonts', [], 'Give a file with one.');
  const subset = font.createSubset();
  const glyphs = new Map<number, number>();
  for (const letter of letters) {
    const code = letter.codePointAt(0)!;
    const glyph = code < 0xffff && font.hasGlyphForCodePoint(code) ? font.glyphForCodePoint(code) : null;
    if (glyph) glyphs.set(code, subset.includeGlyph(glyph.id));
  }
  const whole = tablesOf(fontBytes);
  const tables = tablesOf(subset.encode());
  tables.set('cmap', Uint8Array.from(cmap(glyphs)));
  tables.set('name', Uint8Array.from(nameTable()));
  tables.set('OS/2', whole.get('OS/2')!);
  tables.set('post', Uint8Array.from([...u32(0x30000), ...whole.get('post')!.subarray(4, 32)]));
  return sfnt(tables);
}
