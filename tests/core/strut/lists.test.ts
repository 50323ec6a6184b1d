// Strut lists: the generic one, reading a supplier's file in any dress, broken rows told one by one, and back out again.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type StrutListEntry,
  assumedOf,
  exportList,
  forcesOf,
  genericMetricList,
  guessColumns,
  importList,
  matchIssues,
  readListNumber,
  specIssues,
  specOf,
  usualBody,
} from '../../../core/strut';
import { readTable, writeTable } from '../../../core/table';
import { fileText } from '../../support/files';
import { refusal } from '../../support/refusal';
import { runs } from '../../support/tier';

const take = (text: string) => {
  const table = readTable(text);
  return importList(table, guessColumns(table));
};

describe('separated values (RFC 4180)', () => {
  it('quotes, doubled quotes, line breaks inside, CR LF, a byte order mark, no last line end', () => {
    const t = readTable('\uFEFFa,"b ""c""",d\r\n1,"two\r\nlines",3\n\n ,,\n4,"x,y",6');
    expect(t.separator).toBe(',');
    expect(t.rows.map((r) => r.cells)).toEqual([
      ['a', 'b "c"', 'd'],
      ['1', 'two\r\nlines', '3'],
      ['4', 'x,y', '6'],
    ]);
    expect(t.rows.map((r) => r.line)).toEqual([1, 2, 6]);
  });
  it.each([
    ['a;b;c\n1,5;2,5;3\n', ';'],
    ['a\tb\tc\n1,5\t2\t3\n', '\t'],
    ['a,b,c\n1.5,2,3\n', ','],
  ])('finds its separator: %j', (text, separator) => expect(readTable(text).separator).toBe(separator));
  it('an open quote is told with its line', () =>
    expect(readTable('a,b\n1,"2\n3,4\n').rows.map((r) => r.fault?.line)).toEqual([undefined, 2]));
  it('what is written is read back', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(fc.string({ maxLength: 12 }), { minLength: 2, maxLength: 4 }), {
          minLength: 1,
          maxLength: 5,
        }),
        fc.constantFrom(',' as const, ';' as const, '\t' as const),
        (rows, separator) => {
          const kept = rows.filter((r) => r.some((c) => c.trim() !== ''));
          expect(readTable(writeTable(kept, separator), separator).rows.map((r) => r.cells)).toEqual(kept);
        },
      ),
      { numRuns: runs(3000), seed: 4 },
    );
  });
});

describe('numbers of a list', () => {
  it.each<[string, '.' | ',', number, string | null]>([
    ['12.5', '.', 12.5, null],
    ['12,5', ',', 12.5, null],
    ['1,250.5', '.', 1250.5, null],
    ['1.250,5', ',', 1250.5, null],
    ['1 250,5 N', ',', 1250.5, 'N'],
    ['19 11/16"', '.', 19.6875, 'in'],
    ['3/8 in', '.', 0.375, 'in'],
    ['±30', '.', 30, null],
    ['+/- 25 N', '.', 25, 'N'],
    ['−5', '.', -5, null],
    ['90 lbf', '.', 90, 'lbf'],
  ])('%s with %s is %d', (text, decimal, value, unit) => {
    expect(readListNumber(text, decimal)).toEqual({ value, unit });
  });
  it.each(['', 'n/a', '1.2.3', '12,5,1', '1,25', '5..6', 'NaN', '1e5', '0x10', '12 34'])('%j is none', (text) => {
    expect(readListNumber(text, '.')).toBeNull();
  });
});

describe('the generic list', () => {
  const list = genericMetricList();
  it('is what the file in the assets says, and can all exist', () => {
    expect(fileText('assets/struts/generic-metric.csv')).toBe(exportList(list));
    for (const entry of list)
      for (const forceN of forcesOf(entry)) expect(specIssues(specOf(entry, forceN)), entry.name).toEqual([]);
  });
  it('has the four usual pairs, extended over twice the stroke, and assumes what nobody stated', () => {
    expect([...new Set(list.map((e) => `${e.rodMm}/${e.tubeMm}`))]).toEqual(['6/15', '8/18', '10/22', '14/28']);
    for (const e of list) {
      expect(e.extendedMm).toBeGreaterThan(2 * e.strokeMm);
      expect(assumedOf(e)).toEqual(['ratio', 'frictionN', 'toleranceN']);
    }
    expect(new Set(list.map((e) => e.name)).size).toBe(list.length);
  });
  it('comes back from its own export, in inches and pounds too', () => {
    expect(take(exportList(list)).entries).toEqual(list);
    const odd = take(exportList(list, { lengthUnit: 'in', forceUnit: 'lbf', separator: ';', decimal: ',' }));
    expect(odd.errors).toEqual([]);
    odd.entries.forEach((e, i) => {
      expect(e.extendedMm).toBeCloseTo(list[i]!.extendedMm, 5);
      expect(e.forceMaxN).toBeCloseTo(list[i]!.forceMaxN, 5);
      expect(e.endThread).toBe(list[i]!.endThread);
    });
  });
  it('forces of an entry: every step, and the last one', () => {
    expect(forcesOf({ forceMinN: 100, forceMaxN: 230, forceStepN: 50 })).toEqual([100, 150, 200, 230]);
    expect(forcesOf({ forceMinN: 100, forceMaxN: 100, forceStepN: 50 })).toEqual([100]);
    expect(forcesOf({ forceMinN: 100, forceMaxN: 200, forceStepN: 0 })).toEqual([100, 200]);
  });
  it('usual numbers of a pair that is not in the table are a neighbour’s, and it is said', () => {
    expect(usualBody(10, 22).exact).toBe(true);
    expect(usualBody(10, 23)).toMatchObject({ exact: false, rodMm: 10 });
    expect(usualBody(12, 28)).toMatchObject({ exact: false });
  });
});

const GOOD = `Order no.;Länge ausgefahren [mm];Hub [mm];Rod Ø;Tube Ø;Kraft min (N);Kraft max (N);Step;Ratio;Tolerance
A-1;500,5;200;8;18;100;700;50;1,35;±20
A-2;620;275;10;22;1.150;1.200;25;;
`;
describe('a supplier’s list', () => {
  it('semicolons, decimal commas, grouping points, words of two languages', () => {
    const got = take(GOOD);
    expect(got.errors).toEqual([]);
    expect(got.entries).toEqual<StrutListEntry[]>([
      {
        name: 'A-1',
        extendedMm: 500.5,
        strokeMm: 200,
        rodMm: 8,
        tubeMm: 18,
        forceMinN: 100,
        forceMaxN: 700,
        forceStepN: 50,
        ratio: 1.35,
        toleranceN: 20,
      },
      {
        name: 'A-2',
        extendedMm: 620,
        strokeMm: 275,
        rodMm: 10,
        tubeMm: 22,
        forceMinN: 1150,
        forceMaxN: 1200,
        forceStepN: 25,
      },
    ]);
    expect(got.lines).toEqual([2, 3]);
  });
  it('compressed length instead of one of the other two; one force; inches and pounds in the headings', () => {
    const got = take(
      'Part,Extended (in),Compressed (in),Rod dia (in),Tube dia (in),Force (lbf)\nP1,20,12,0.315,0.709,90\n',
    );
    expect(got.errors).toEqual([]);
    expect(got.entries[0]).toMatchObject({ extendedMm: 508, strokeMm: 203.2, forceStepN: 0 });
    expect(got.entries[0]!.forceMinN).toBeCloseTo(90 * 4.4482216152605, 5);
  });
  it('broken rows are told with line, column and advice; good rows are kept', () => {
    const got = take(
      `name,extended,stroke,rod,tube,force min,force max\n` +
        `ok,500.5,200.5,8,18,100,700\n` +
        `words,five hundred,200,8,18,100,700\n` +
        `comma,"500,5",200,8,18,100,700\n` +
        `empty,500,,8,18,100,700\n` +
        `swapped,500,200,8,18,700,100\n` +
        `short,150,200,8,18,100,700\n` +
        `unit,500,200,8,18,100 psi,700\n` +
        `tube,500,200,18,8,100,700\n` +
        `ok2,520,200,8,18,100,700\n`,
    );
    expect(got.entries.map((e) => e.name)).toEqual(['ok', 'ok2']);
    const by = (line: number) => got.errors.filter((e) => e.line === line);
    expect(by(3)[0]).toMatchObject({ column: 2, heading: 'extended', what: '"five hundred" is no number' });
    expect(by(4)[0]!.advice).toMatch(/decimal mark a comma/);
    expect(by(5)[0]).toMatchObject({ column: 3, what: 'is empty' });
    expect(by(6)[0]!.what).toMatch(/under the least/);
    expect(by(7)[0]!.what).toMatch(/leaves nothing/);
    expect(by(8)[0]!.what).toMatch(/psi/);
    expect(by(9)[0]!.what).toMatch(/tube/);
    for (const e of got.errors) expect(e.advice).toMatch(/^\S.*[.?]$/);
    expect(new Set(got.errors.map((e) => e.line))).toEqual(new Set([3, 4, 5, 6, 7, 8, 9]));
  });
  it('a length that contradicts the other two is told', () => {
    const got = take('name,extended,compressed,stroke,rod,tube,force\nx,500,310,200,8,18,400\n');
    expect(got.errors[0]!.what).toMatch(/compressed length is 310 mm, but extended less stroke is 300 mm/);
  });
  it('a match without what is needed can’t be used, and says what is missing; the person can set it by hand', () => {
    const table = readTable('a,b,c,d,e\n500,200,8,18,400\n');
    const guess = guessColumns(table);
    expect(guess.columns).toEqual({});
    expect(matchIssues(guess).length).toBeGreaterThanOrEqual(4);
    expect(refusal(() => importList(table, guess)).where[0]).toBe('columns');
    const byHand = {
      ...guess,
      hasHeader: true,
      columns: { extendedMm: 0, strokeMm: 1, rodMm: 2, tubeMm: 3, forceN: 4 },
    };
    expect(matchIssues(byHand)).toEqual([]);
    expect(importList(table, byHand).entries[0]).toMatchObject({ name: 'line 2', forceMinN: 400, forceMaxN: 400 });
    expect(matchIssues({ ...byHand, columns: { ...byHand.columns, strokeMm: 0 } })[0]!.what).toMatch(
      /stands for two things/,
    );
  });
  it('no file makes it fail otherwise', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 300 }), (text) => {
        const table = readTable(text);
        const got = importList(table, {
          columns: { extendedMm: 0, strokeMm: 1, rodMm: 2, tubeMm: 3, forceN: 4 },
          hasHeader: false,
          lengthUnit: 'mm',
          forceUnit: 'N',
          decimal: '.',
        });
        expect(got.entries.length + new Set(got.errors.map((e) => e.line)).size).toBeGreaterThanOrEqual(
          table.rows.length,
        );
      }),
      { numRuns: runs(3000), seed: 9 },
    );
  });
});
