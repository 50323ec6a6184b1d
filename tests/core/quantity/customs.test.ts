// How people write quantities: one customary reading is taken, two are refused with both, a unit is always checked.
import fc from 'fast-check';
import { all, create } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { LidwrightError } from '../../../core/error';
import { type Dimension, evaluateQuantity, namesIn } from '../../../core/quantity';
import { expectClose, withinEither } from '../../support/close';
import { runs } from '../../support/tier';

const IN = 25.4;
const FT = 304.8;
const read = (text: string, dimension: Dimension = 'length', bare?: string): number =>
  evaluateQuantity(text, dimension, new Map(), bare);
function said(text: string, dimension: Dimension = 'length', bare?: string): string {
  try {
    return `taken as ${read(text, dimension, bare)}`;
  } catch (error) {
    if (!(error instanceof LidwrightError)) throw error;
    return `${error.what}. ${error.advice}`;
  }
}

describe('one customary reading', () => {
  it.each<[string, number, string?]>([
    // a function of quantities, zero among them
    ['max(0 mm, 30 mm)', 30],
    ['min(0 mm, -3 in)', -3 * IN],
    ['hypot(0 mm, 3 mm)', 3],
    ['hypot(0 in, 0 mm)', 0],
    ['hypot(30 mm, 4 cm)', 50],
    ['abs(0 mm)', 0],
    ['sqrt(9 mm^2)', 3],
    ['max(1,5; 2)', 2],
    ['max(1,5; 1) mm', 1.5],
    ['max(3 in, 1 ft 2 in)', 14 * IN],
    // feet and inches bind together, the sign in front of both
    ['1 ft 6', 457.2],
    [`5'3`, 1600.2],
    [`5’3`, 1600.2],
    [`5'-3"`, 1600.2],
    [`5′-3″`, 1600.2],
    ['5ft-3in', 1600.2],
    [`5'-3 1/2"`, 5 * FT + 3.5 * IN],
    [`5'-3-1/2"`, 5 * FT + 3.5 * IN],
    [`5' 3½"`, 5 * FT + 3.5 * IN],
    [`5 ft 0.5 in`, 5 * FT + 0.5 * IN],
    [`5''`, 5 * IN],
    ['-3 ft 2 in', -965.2],
    [`−3'2"`, -965.2],
    ['2 * 5 ft 3 in', 3200.4],
    ['10 ft 6 in / 2', 1600.2],
    ['6 ft - 1 ft 6 in', 4.5 * FT],
    ['1 ft 6 + 3 mm', 457.2 + 3],
    ['3 1/2 ft', 3.5 * FT],
    ['5 ft - 3', 2 * FT],
    ['1 yd - 2 in', 34 * IN],
    ['1 ft - 15 in', -3 * IN],
    // mixed numbers
    ['3-1/2 in', 88.9],
    ['3-1/2"', 88.9],
    ['3-1/2', 88.9, 'in'],
    ['-3-1/2 in', -88.9],
    ['3 1/2', 88.9, 'in'],
    ['15¾ in', 15.75 * IN],
    ['3 - 1/2 mm', 2.5],
    ['30-10/2', 25],
    // decimal commas
    ['0,125', 0.125],
    ['-0,125', -0.125],
    ['0,125 in', 0.125 * IN],
    ['12,5', 12.5],
    ['1234,567', 1234.567],
    ['12,34567', 12.34567],
  ])('%s is %d mm', (text, wanted, bare) =>
    expectClose(read(text, 'length', bare), wanted, withinEither(1e-12, 1e-12, 'mm')),
  );
  it('units of a product are one unit', () => {
    expectClose(read('50 N·m / 2 N·m', 'number'), 25, withinEither(1e-12, 0, '1'));
    expectClose(read('400 N * 250 mm', 'moment'), 100, withinEither(1e-12, 0, 'N m'));
  });
});

describe('two readings are refused with both', () => {
  it.each<[string, RegExp, string?]>([
    ['3 - 1/2 in', /3 1\/2, or 3 less 1\/2/],
    ['3 -1/2 in', /two ways/],
    ['3-1/2', /3 1\/2, or 3 less 1\/2/],
    ['3 - 1/2', /two ways/, 'in'],
    [`5' - 3"`, /5 ft 3 in, or 5 ft less 3/],
    ['5 ft - 3 in', /two ways/],
    [`5'-3`, /two ways/],
    ['1’234', /thousands marked, or as feet/],
    [`1'234`, /thousands marked, or as feet/],
    ['1 ft 1/2', /no inches/],
    ['1 ft 15', /no inches/],
    ['1 ft 6 mm', /no inches/],
    ['10 3/4 1/2', /no mixed number/],
    ['3 9/4 in', /no mixed number/],
    ['sqrt(2,25)', /sqrt of 2\.25, or sqrt of 2 and 25/],
    ['round(2,6)', /two ways/],
    ['max(1,5, 2)', /two ways/],
    ['1,234', /1234, or 1\.234/],
    ['1,234,567', /two ways/],
    ['1.234,5', /two ways/],
    ['310 mm 5', /after a unit/],
    ['sin 30', /after a unit/],
    ['sqrt(1, 2)', /one value/],
  ])('%s', (text, words, bare) => expect(said(text, 'length', bare)).toMatch(words));
});

describe('a unit is always checked', () => {
  it.each<[Dimension, string]>([
    ['length', 'banana'],
    ['length', 'kg'],
    ['length', 'mm mm'],
    ['length', ''],
    ['length', 'constructor'],
    ['mass', 'N'],
    ['force', 'kg'],
    ['moment', 'N'],
    ['angle', 'mm'],
    ['temperature', 'banana'],
    ['temperature', 'mm'],
    ['number', 'banana'],
    ['number', 'mm'],
    ['energy', 'N m m'],
  ])('a %s in "%s"', (dimension, bare) => {
    expect(said('3', dimension, bare)).toMatch(/is no unit for/);
    expect(said('3 + 4', dimension, bare)).toMatch(/is no unit for/);
  });
  it('those that are known stand', () => {
    expect(read('2', 'moment', 'lbf ft')).toBeCloseTo(2.711635896661, 10);
    expect(read('68', 'temperature', 'degF')).toBe(20);
    expect(read('2', 'length', 'ft')).toBe(609.6);
  });
});

describe('names', () => {
  it('are found once each, in any text', () => {
    expect(namesIn('2*reach + hypot(reach, wide) * 3 mm + pi')).toEqual(['reach', 'wide']);
    expect(namesIn('3-1/2 - - (')).toEqual([]);
  });
});

// ——— the same arithmetic, by mathjs itself and by hand ———

const math = create(all!, {});
const length = fc.oneof(
  fc.record({ n: fc.integer({ min: 0, max: 9999 }), unit: fc.constantFrom('mm', 'cm', 'm', 'ft', 'yd') }),
  fc.record({ n: fc.integer({ min: 1, max: 9999 }).map((n) => n / 64), unit: fc.constant('inch') }),
);
interface Text {
  readonly ours: string;
  readonly theirs: string;
}
const join = (op: string, a: Text, b: Text): Text => ({
  ours: `(${a.ours}) ${op} (${b.ours})`,
  theirs: `(${a.theirs}) ${op} (${b.theirs})`,
});
const { sum } = fc.letrec<{ leaf: Text; sum: Text; number: Text }>((tie) => ({
  leaf: length.map(({ n, unit }) => ({ ours: `${n} ${unit}`, theirs: `${n} ${unit}` })),
  number: fc.integer({ min: 1, max: 40 }).map((n) => ({ ours: `${n / 8}`, theirs: `${n / 8}` })),
  sum: fc.oneof(
    { maxDepth: 4, withCrossShrink: true },
    tie('leaf'),
    fc.tuple(fc.constantFrom('+', '-'), tie('sum'), tie('sum')).map(([op, a, b]) => join(op, a, b)),
    fc.tuple(fc.constantFrom('*', '/'), tie('sum'), tie('number')).map(([op, a, b]) => join(op, a, b)),
    fc
      .tuple(fc.constantFrom('max', 'min'), tie('sum'), tie('sum'))
      .map(([f, a, b]) => ({ ours: `${f}(${a.ours}, ${b.ours})`, theirs: `${f}(${a.theirs}, ${b.theirs})` })),
    fc.tuple(tie('sum'), tie('sum')).map(([a, b]) => ({
      ours: `hypot(${a.ours}, ${b.ours})`,
      theirs: `sqrt((${a.theirs})^2 + (${b.theirs})^2)`,
    })),
    tie('sum').map((a) => ({ ours: `-abs(${a.ours})`, theirs: `-abs(${a.theirs})` })),
  ),
}));

it(`${runs(10_000, 500)} sums of lengths come to what mathjs makes of them`, () => {
  fc.assert(
    fc.property(
      sum.filter(({ ours }) => ours.length < 300),
      ({ ours, theirs }) => {
        const wanted = (math.evaluate(theirs) as { toNumber(unit: string): number }).toNumber('mm');
        expectClose(read(ours), wanted, withinEither(1e-9, 1e-7, 'mm'));
      },
    ),
    { numRuns: runs(10_000, 500) },
  );
});

const proper = fc
  .constantFrom(2, 4, 8, 16, 32, 64)
  .chain((d) => fc.integer({ min: 1, max: d - 1 }).map((n) => ({ text: `${n}/${d}`, value: n / d })));
const whole = (max: number): fc.Arbitrary<number> => fc.integer({ min: 1, max });
const inches = fc.oneof(
  whole(11).map((n) => ({ text: `${n}`, value: n })),
  fc.tuple(whole(10), proper).map(([n, f]) => ({ text: `${n} ${f.text}`, value: n + f.value })),
  fc.tuple(whole(10), proper).map(([n, f]) => ({ text: `${n}-${f.text}`, value: n + f.value })),
);
const custom = fc.oneof(
  fc
    .tuple(
      whole(40),
      inches,
      fc.constantFrom([' ft ', ' in'], ["'", '"'], ["'-", '"'], ['′ ', '″'], [' feet ', ' inches']),
    )
    .map(([ft, i, [f, q]]) => ({ text: `${ft}${f}${i.text}${q}`, mm: ft * FT + i.value * IN })),
  fc.tuple(whole(99), proper).map(([n, f]) => ({ text: `${n}-${f.text} in`, mm: (n + f.value) * IN })),
  fc.tuple(whole(40), whole(11)).map(([ft, i]) => ({ text: `${ft} ft ${i}`, mm: ft * FT + i * IN })),
  fc
    .tuple(whole(9999), fc.integer({ min: 0, max: 99 }))
    .map(([n, d]) => ({ text: `${n},${d}`, mm: Number(`${n}.${d}`) })),
  fc.integer({ min: 0, max: 99999 }).map((d) => ({ text: `0,${d}`, mm: Number(`0.${d}`) })),
);

it(`${runs(10_000, 500)} customary texts, signed, doubled and added, come to what they mean`, () => {
  fc.assert(
    fc.property(custom, custom, fc.boolean(), whole(9), (a, b, minus, k) => {
      const sign = minus ? -1 : 1;
      expectClose(read(`${minus ? '-' : ''}${a.text}`), sign * a.mm, withinEither(1e-12, 1e-9, 'mm'));
      expectClose(read(`${k} * ${a.text}`), k * a.mm, withinEither(1e-12, 1e-9, 'mm'));
      const bare = /^[\d,]+$/;
      if (bare.test(a.text) === bare.test(b.text))
        expectClose(read(`${a.text} + ${b.text}`), a.mm + b.mm, withinEither(1e-12, 1e-9, 'mm'));
    }),
    { numRuns: runs(10_000, 500) },
  );
});

it(`${runs(20_000)} random texts give a finite number or words, and quickly`, () => {
  const piece = fc.constantFrom(
    ...[
      '1',
      '3',
      '0,5',
      '1,234',
      '1/2',
      '3/4',
      '.5',
      '12',
      "'",
      '"',
      '’',
      '″',
      ' ',
      ' ',
      '-',
      '+',
      '*',
      '/',
      '^',
      '(',
      ')',
    ],
    ...[
      'ft',
      'in',
      'mm',
      'kg',
      'sqrt(',
      'max(',
      'hypot(',
      ',',
      ';',
      '½',
      '°',
      'reach',
      'pi',
      'Nm',
      '1e3',
      '%',
      '😀',
      '=',
    ],
  );
  fc.assert(
    fc.property(fc.array(piece, { maxLength: 14 }), fc.constantFrom('mm', 'in'), (pieces, bare) => {
      const words = said(pieces.join(''), 'length', bare);
      expect(words).not.toMatch(/NaN|Infinity|undefined/);
      expect(words.length).toBeGreaterThan(8);
    }),
    { numRuns: runs(20_000) },
  );
});
