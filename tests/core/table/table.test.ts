// Tables in any letters and any pieces, their limits, and texts that a spreadsheet would take for formulas.
// Outside sources: RFC 4180 section 2 (its own examples); WHATWG Encoding Standard, index windows-1252 and section 4.2 (labels).
import fc from 'fast-check';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { guessColumns, importList } from '../../../core/strut';
import { type TableLimits, TableReader, checkTableSize, readTable, writeTable } from '../../../core/table';
import { refusal } from '../../support/refusal';
import { runs } from '../../support/tier';

const BOM = '\ufeff';
const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);
const utf16 = (text: string, little: boolean): Uint8Array =>
  Uint8Array.from([...Array(text.length).keys()].flatMap((i) => {
    const unit = text.charCodeAt(i);
    return little ? [unit & 255, unit >> 8] : [unit >> 8, unit & 255];
  })); // prettier-ignore
/** ISO-8859-1: a letter a byte. */
const latin1 = (text: string): Uint8Array => Uint8Array.from([...text].map((c) => c.charCodeAt(0)));

/** Reads in pieces that end at the given shares of the bytes. */
function read(bytes: Uint8Array, cuts: readonly number[] = [], limits?: TableLimits) {
  const reader = new TableReader('a.csv', limits);
  const ends = [...cuts.map((c) => Math.floor(c * bytes.length)), bytes.length].sort((a, b) => a - b);
  let from = 0;
  for (const end of ends) {
    reader.add(bytes.subarray(from, end));
    from = end;
  }
  return reader.end();
}
const cells = (table: { rows: readonly { cells: readonly string[] }[] }) => table.rows.map((r) => r.cells);

describe('RFC 4180, section 2', () => {
  it.each([
    ['1: a line break after each record', 'aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n', [['aaa', 'bbb', 'ccc'], ['zzz', 'yyy', 'xxx']]],
    ['2: none after the last', 'aaa,bbb,ccc\r\nzzz,yyy,xxx', [['aaa', 'bbb', 'ccc'], ['zzz', 'yyy', 'xxx']]],
    ['4: spaces are part of a field', 'aaa, bbb ,ccc', [['aaa', ' bbb ', 'ccc']]],
    ['5: fields in quotes or not', '"aaa","bbb","ccc"\r\nzzz,yyy,xxx', [['aaa', 'bbb', 'ccc'], ['zzz', 'yyy', 'xxx']]],
    ['6: a line break in quotes', '"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx', [['aaa', 'b\r\nbb', 'ccc'], ['zzz', 'yyy', 'xxx']]],
    ['7: a quote doubled', '"aaa","b""bb","ccc"', [['aaa', 'b"bb', 'ccc']]],
  ])('%s', (_, text, rows) => expect(cells(readTable(text))).toEqual(rows)); // prettier-ignore
});

const TEXT = 'Name;Länge (mm);Rod Ø;Tol ±;Winkel °\nGroße Tür;500,5;8;±20;75°\nFaçade ñ;620;10;±25;µ\n';
const ROWS = TEXT.trim().split('\n').map((l) => l.split(';')); // prettier-ignore

describe('letters', () => {
  it.each([
    ['UTF-8', utf8(TEXT)],
    ['UTF-8', utf8(BOM + TEXT)],
    ['UTF-16 LE', utf16(TEXT, true)],
    ['UTF-16 LE', utf16(BOM + TEXT, true)],
    ['UTF-16 BE', utf16(TEXT, false)],
    ['UTF-16 BE', utf16(BOM + TEXT, false)],
    ['Windows-1252', latin1(TEXT)],
  ] as const)('%s is told and read, in whatever pieces it comes', (encoding, bytes) => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 6 }), (cuts) => {
        const table = read(bytes, cuts);
        expect(table.encoding).toBe(encoding);
        expect(table.separator).toBe(';');
        expect(cells(table)).toEqual(ROWS);
        expect(table.rows.every((row) => row.fault === undefined)).toBe(true);
      }),
      { numRuns: runs(300) },
    );
  });
  it('the same where the first letter beyond ASCII comes late, and a piece ends inside a letter', () => {
    const plain = 'a;b;c\n'.repeat(5000);
    for (const [encoding, bytes] of [
      ['UTF-8', utf8(plain + 'ö;Ø;€\n')],
      ['Windows-1252', latin1(plain + 'é;Ø;\x80\n')],
    ] as const)
      // prettier-ignore
      for (let tail = 1; tail <= 9; tail++) {
        const table = read(bytes, [1 - tail / bytes.length]);
        expect(table.encoding).toBe(encoding);
        expect(table.rows.at(-1)).toMatchObject({ line: 5001, cells: [expect.stringMatching(/[öé]/), 'Ø', '€'] });
        expect(table.rows.at(-1)!.fault).toBeUndefined();
      }
  });
  it('what only Windows-1252 has (WHATWG index): euro, quotes, dashes', () =>
    expect(cells(read(Uint8Array.of(0x80, 0x3b, 0x84, 0x3b, 0x93, 0x3b, 0x96, 0x3b, 0x99, 0x3b, 0xd8)))).toEqual([
      ['€', '„', '“', '–', '™', 'Ø'],
    ]));
  it('random texts come back in all of them', () => {
    const letter = fc.constantFrom(...'abcXYZ 019.-ÄÖÜäöüßéØø±°µ²'.split(''));
    const cell = fc.string({ unit: letter, minLength: 1, maxLength: 8 }).filter((s) => s.trim() !== '');
    fc.assert(
      fc.property(fc.array(fc.tuple(cell, cell, cell), { minLength: 1, maxLength: 8 }), (rows) => {
        const text = writeTable(rows, ';');
        // a lone Ø before ± is a letter of UTF-8 too; a table in UTF-16 has some that are of ASCII
        for (const bytes of [utf8(text), utf8(BOM + text), utf16(BOM + text, true), utf16(BOM + text, false)])
          expect(cells(read(bytes))).toEqual(rows);
      }),
      { numRuns: runs(1000) },
    );
  });
  it.each([
    ['a byte that Windows-1252 leaves open', Uint8Array.of(...latin1('n;ö\nT'), 0x81, ...latin1('r;5\nok;1\n')), 2, 0],
    ['a broken letter in UTF-8', Uint8Array.of(...utf8('n;ö\n5;T'), 0xfc, ...utf8('r\nok;1\n')), 2, 1],
    ['one cut off at the end', Uint8Array.of(...utf8('n;ö\nok;1\n5;T'), 0xc3), 3, 1],
    ['UTF-8 in the midst of Windows-1252', Uint8Array.of(...latin1('n;ö\n'), ...utf8('Tür;5\n')), 2, 0],
    ['half a pair in UTF-16', utf16('\ufeffn;b\nT\ud83d;5\n', true), 2, 0],
    ['a byte over in UTF-16', Uint8Array.of(...utf16('\ufeffn;b\nT;5', true), 0x41), 2, 1],
    ['what another program has lost', utf8('n;b\nT\ufffdr;5\n'), 2, 0],
  ])('%s is told with its line, never left out or made up', (_, bytes, line, column) => {
    const faults = read(bytes).rows.flatMap(({ fault }) => fault ?? []);
    expect(faults).toHaveLength(1);
    expect(faults[0]).toMatchObject({ line, column, advice: expect.stringContaining('UTF-8') });
  });
  it.each([
    ['a packed spreadsheet', Uint8Array.of(0x50, 0x4b, 3, 4, 20, 0), /packed/],
    ['a PDF', utf8('%PDF-1.7\n'), /PDF/],
    ['UTF-32', Uint8Array.of(0xff, 0xfe, 0, 0, 0x61, 0, 0, 0), /UTF-32/],
    ['zero bytes', Uint8Array.of(...utf8('a;b\nc;d\n'), 0, 0, 0, 0x61), /line 3/],
  ])('%s is no table, which is said', (_, bytes, what) => {
    const { message, advice } = refusal(() => read(bytes));
    expect(message).toMatch(what);
    expect(advice).toMatch(/CSV/);
  });
});

describe('limits are told before the file is read whole', () => {
  const fed = (piece: Uint8Array, limits: TableLimits): { pieces: number; message: string } => {
    const reader = new TableReader('big.csv', limits);
    let pieces = 0;
    const { message } = refusal(() => {
      for (; pieces < 10_000; pieces++) reader.add(piece);
    });
    return { pieces, message };
  };
  const row = utf8('abc;def;ghi\n');
  const piece = new Uint8Array(row.length * 5000).map((_, i) => row[i % row.length]!);
  it('rows', () => {
    const { pieces, message } = fed(piece, { bytes: 1e12, rows: 12_000 });
    expect(pieces, 'at the third piece of 5,000 rows').toBe(2);
    expect(message).toContain('more than 12,000 lines');
  });
  it('bytes, before any is read, too', () => {
    expect(fed(piece, { bytes: 150_000, rows: 1e9 }).pieces).toBe(2);
    expect(refusal(() => checkTableSize('big.csv', 200e6, { bytes: 20e6, rows: 9 })).message).toContain('over 20 MB');
  });
  it.each([
    ['one endless line', ';'.repeat(200_000)],
    ['one of quotation marks', '"x'.repeat(100_000)],
    ['a quotation mark that never closes', `a;"b\n${'c;d\n'.repeat(40_000)}`],
  ])('%s stops after a million letters, and says where it began', (_, text) => {
    const { pieces, message } = fed(utf8(text), { bytes: 1e12, rows: 1e9 });
    expect(pieces).toBeLessThan(9);
    expect(message).toMatch(/line 1 .*letters long/);
  });
});

describe('texts that a spreadsheet would take for formulas', () => {
  const START = ['=', '+', '-', '@', '\t', '\r', "'", "'=", "''@", ''];
  const cell = fc
    .tuple(fc.constantFrom(...START), fc.oneof(fc.string({ maxLength: 8 }), fc.double({ noNaN: true }).map(String)))
    .map(([start, rest]) => start + rest)
    .filter((s) => !s.endsWith('\r'));
  it('are written so that none is one, and read back the same', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(cell, { minLength: 2, maxLength: 4 }), { minLength: 1, maxLength: 5 }),
        fc.constantFrom(',' as const, ';' as const, '\t' as const),
        (rows, separator) => {
          const kept = rows.filter((r) => r.some((c) => c.trim() !== ''));
          const text = writeTable(kept, separator);
          expect(readTable(text, separator).rows.map((r) => r.cells)).toEqual(kept);
          // as a spreadsheet sees it, by the library alone
          for (const c of Papa.parse<string[]>(text, { delimiter: separator, newline: '\r\n' }).data.flat())
            if (/^[=+\-@\t\r]/.test(c)) expect(Number(c.replace(',', '.'))).not.toBeNaN();
        },
      ),
      { numRuns: runs(3000) },
    );
  });
  it('numbers stay numbers', () =>
    expect(writeTable([['-5', '+3,25', '-1.5e-3', '-5 mm', '-reach']])).toBe(
      `-5,"+3,25",-1.5e-3,"'-5 mm","'-reach"\r\n`,
    ));
});

it('a list of 40,000 rows is read and taken in whole', () => {
  const head = 'Name,Extended length (mm),Stroke (mm),Rod (mm),Tube (mm),Force min (N),Force max (N),Force step (N)\n';
  const rows = Array.from({ length: 40_000 }, (_, i) => `Made ${i},${600 + (i % 60)},245,10,22,500,1100,25`).join('\n');
  const table = read(utf8(head + rows), [0.3, 0.6]);
  const { entries, errors } = importList(table, guessColumns(table));
  expect(errors).toEqual([]);
  expect(entries).toHaveLength(40_000);
  expect(entries.at(-1)!.name).toBe('Made 39999');
});
