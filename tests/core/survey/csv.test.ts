import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Job, type JobObservation, setGivens } from '../../../core/job';
import { formatReadings, parseReadings, addObservations } from '../../../core/survey';
import { readTable } from '../../../core/table';
import { example } from '../examples/example';

const job = (): Job => ({ ...example('workboat-hatch'), observations: [], relations: [] });
const taken = (text: string, of: Job = job()) => {
  const found = parseReadings(readTable(text), of);
  expect(found.problems).toEqual([]);
  expect(found.rest).toBe('');
  return found.readings;
};
const TAPE = { kind: 'tape', points: ['hingeA', 's1-lid'], valueMm: 823.5 };

describe('a pasted table', () => {
  it.each([
    ['tabs and a decimal comma', 'kind\tfrom\tto\tvalue\ntape\tPort hinge pin\tStrut, lid end\t823,5\n'],
    ['semicolons and a decimal comma', 'kind;from;to;value\r\ntape;port hinge pin;"Strut, lid end";823,5\r\n'],
    ['commas and quotation marks', 'kind,from,to,value\ntape,Port hinge pin,"Strut, lid end",823.5'],
    ['commas, the value in quotation marks', 'kind,from,to,value\ntape,Port hinge pin,"Strut, lid end","823,5"'],
    ['columns in another order, ids for names', 'Length\tTo\tFrom\n823.5\ts1-lid\thingeA'],
    ['a unit in the heading', 'from\tto\tlength (cm)\nhingeA\ts1-lid\t82.35'],
    ['a unit in a column of its own', 'from;to;value;unit\nhingeA;s1-lid;0,8235;m'],
    ['a unit in the cell', 'from;to;value\nhingeA;s1-lid;82.35 cm'],
    ['no heading', 'tape;hingeA;s1-lid;823.5'],
    ['no heading and no kind', 'hingeA\ts1-lid\t823.5'],
    ['a byte order mark and empty lines', '\uFEFF\n\nfrom;to;value\n\nhingeA;s1-lid;823,5\n;;\n'],
  ])('with %s', (_what, text) => expect(taken(text)).toEqual([TAPE]));

  it('takes every kind without a heading', () => {
    expect(
      taken(
        [
          'coordinate;x;grip;-905;2',
          'coordinate;grip;z;431',
          'height over;hingeA;grip;-30;1;12',
          'on a line;c1;c2;c3',
          'on a plane;c1;c2;c3;c4;2',
          'angle to level;hingeA;grip;-1,5',
          'angle between lines;hingeA;grip;hingeA;c1;12',
          'mirror twin;c1;c4',
          'known length;s1-base;s1-lid;620',
        ].join('\n'),
      ),
    ).toEqual([
      { kind: 'coordinate', axis: 'x', points: ['grip'], valueMm: -905, sigmaMm: 2 },
      { kind: 'coordinate', axis: 'z', points: ['grip'], valueMm: 431 },
      { kind: 'height-difference', points: ['hingeA', 'grip'], valueMm: -30, sigmaMm: 1, atDeg: 12 },
      { kind: 'on-line', points: ['c1', 'c2', 'c3'] },
      { kind: 'on-plane', points: ['c1', 'c2', 'c3', 'c4'], sigmaMm: 2 },
      { kind: 'angle-level', points: ['hingeA', 'grip'], valueDeg: -1.5 },
      { kind: 'angle-between', points: ['hingeA', 'grip', 'hingeA', 'c1'], valueDeg: 12 },
      { kind: 'mirror-twin', points: ['c1', 'c4'] },
      { kind: 'known-length', points: ['s1-base', 's1-lid'], valueMm: 620 },
    ]);
  });

  it('knows the points of a kind by that kind’s own words', () =>
    expect(taken('kind;line from;line to;point;sigma\non a line;c2;c3;c1;0.5')).toEqual([
      { kind: 'on-line', points: ['c1', 'c2', 'c3'], sigmaMm: 0.5 },
    ]));

  it('keeps what uses a given as an expression', () => {
    const withReach = setGivens(job(), { givens: [{ name: 'reach', expression: '800 mm' }] });
    expect(taken('from;to;value\nhingeA;grip;reach + 20\nhingeA;c1;reach', withReach)).toEqual([
      { kind: 'tape', points: ['hingeA', 'grip'], valueMm: { expression: 'reach + 20', unit: 'mm' } },
      { kind: 'tape', points: ['hingeA', 'c1'], valueMm: { given: 'reach' } },
    ]);
  });

  it('takes a comma as one table’s other numbers show it', () => {
    expect(taken('from\tto\tvalue\nhingeA\tgrip\t1,125\nhingeA\tc1\t800,5').map((r) => r.valueMm)).toEqual([
      1.125, 800.5,
    ]);
    expect(taken('from\tto\tvalue\nhingeA\tgrip\t1,125\nhingeA\tc1\t800.5').map((r) => r.valueMm)).toEqual([
      1125, 800.5,
    ]);
    expect(taken('from;to;value\nhingeA;grip;1.125,5').map((r) => r.valueMm)).toEqual([1125.5]);
    const { problems } = parseReadings(readTable('from\tto\tvalue\nhingeA\tgrip\t1,125'), job());
    expect(problems[0]!.what).toContain('two ways');
  });

  it('takes good lines and names every other with what is wrong', () => {
    const text = [
      'kind;point 1;point 2;value;sigma;use;colour',
      'tape;Port hinge pin;Lift handle;905;1;yes;red',
      'tape;Port hinge pin;Lift handel;905;;;',
      'tape;Port hinge pin;Lift handle;;;;',
      'tape;Port hinge pin;Lift handle;905 kg;;;',
      'tape;Port hinge pin;Lift handle;-4;;;',
      'tape;Port hinge pin;Port hinge pin;40;;;',
      'laser;Port hinge pin;Lift handle;905;;;',
      'tape;Port hinge pin;Lift handle;905;0;;',
      'tape;Port hinge pin;Lift handle;905;;perhaps;',
      'mirror twin;c1;c4;12;;;',
      'coordinate;grip;;12;;;',
      'angle to level;hingeA;grip;400;;;',
      'tape;Port hinge pin;Lift handle;905;;;;more',
    ].join('\n');
    const found = parseReadings(readTable(text), job());
    expect(found.readings).toHaveLength(1);
    expect(found.ignored).toEqual(['colour']);
    const why = [
      'called "Lift handel"', 'no value', 'kg', '-4 mm', 'twice', '"laser"', '0', 'perhaps', 'takes no value', 'which coordinate', '400', 'cells',
    ]; // prettier-ignore
    expect(found.problems.map((p) => p.line)).toEqual(why.map((_, i) => i + 3));
    found.problems.forEach((p, i) => {
      expect(p.what).toContain(why[i]);
      expect(p.advice).not.toBe('');
    });
    // what was not taken stays, under its heading, to be put right
    expect(found.rest.split('\n').slice(0, -1)).toHaveLength(1 + why.length);
    const again = parseReadings(readTable(found.rest.replace('handel', 'handle')), job());
    expect(again.readings).toEqual([{ kind: 'tape', points: ['hingeA', 'grip'], valueMm: 905 }]);
    expect(again.problems).toHaveLength(why.length - 1);
  });

  it('loses nothing where a quotation mark never closes', () => {
    const text = 'from;to;value\nhingeA;"grip;800\nhingeA;c1;700\n';
    const found = parseReadings(readTable(text), job());
    expect(found.readings).toEqual([]);
    expect(found.rest).toBe(text);
    expect(found.problems).toMatchObject([{ line: 2 }]);
  });

  it('tells two points of one name apart by their ids', () => {
    const twins: Job = {
      ...job(),
      points: job().points.map((p) => (p.id === 'c1' || p.id === 'c2' ? { ...p, name: 'Corner' } : p)),
    };
    expect(parseReadings(readTable('Corner;hingeA;800'), twins).problems).toHaveLength(1);
    expect(taken('from;to;value\nCorner (c2);hingeA;800', twins)).toEqual([
      { kind: 'tape', points: ['c2', 'hingeA'], valueMm: 800 },
    ]);
  });
});

const ids = job().points.map((p) => p.id);
/** To a thousandth, as no tape reads finer. */
const amount = fc.integer({ min: 1, max: 9e7 }).map((n) => n / 1000);
const reading: fc.Arbitrary<Omit<JobObservation, 'id'>> = fc
  .record({
    four: fc.shuffledSubarray(ids, { minLength: 4, maxLength: 4 }),
    kind: fc.constantFrom('tape', 'coordinate', 'height-difference', 'on-line', 'on-plane', 'angle-level', 'angle-between', 'mirror-twin', 'known-length'), // prettier-ignore
    value: amount,
    turn: fc.integer({ min: 0, max: 18_000 }).map((n) => n / 100),
    axis: fc.constantFrom('x' as const, 'y' as const, 'z' as const),
    datum: fc.option(amount),
    sigma: fc.option(fc.oneof(amount, fc.constant({ given: 'reach' }))),
    at: fc.option(fc.integer({ min: 0, max: 3000 }).map((n) => n / 10)),
    name: fc.option(fc.string({ minLength: 1, maxLength: 20 }).filter((s) => s.trim() === s && s !== '')),
    expression: fc.constantFrom(null, { given: 'reach' }, { expression: 'reach + 2', unit: 'in' }, { expression: 'reach / 2', unit: 'mm' }), // prettier-ignore
    off: fc.boolean(),
  })
  .map((r) => {
    const { kind } = r;
    const count = { coordinate: 1, 'on-line': 3, 'on-plane': 4, 'angle-between': 4 }[kind as string] ?? 2;
    const angle = kind.startsWith('angle');
    const valued = !['on-line', 'on-plane', 'mirror-twin'].includes(kind);
    return {
      kind: kind as JobObservation['kind'],
      points: r.four.slice(0, count),
      ...(r.name === null ? {} : { name: r.name }),
      ...(kind === 'coordinate' ? { axis: r.axis } : {}),
      ...(kind === 'coordinate' && r.datum !== null ? { datumMm: r.datum } : {}),
      ...(valued ? (angle ? { valueDeg: r.turn } : { valueMm: r.expression ?? r.value }) : {}),
      ...(r.at === null ? {} : { atDeg: r.at }),
      ...(r.sigma === null || angle ? {} : { sigmaMm: r.sigma }),
      ...(r.off ? { use: false } : {}),
    };
  });

/** Numbers to 12 digits: a unit beside a number costs it its last one. */
const rounded = (readings: readonly object[]): unknown =>
  JSON.parse(JSON.stringify(readings, (_, v: unknown) => (typeof v === 'number' ? Number(v.toPrecision(12)) : v)));

describe('the written table', () => {
  const withReach = setGivens(job(), { givens: [{ name: 'reach', expression: '300 mm' }] });

  it('read back, gives the very same readings', () => {
    fc.assert(
      fc.property(fc.array(reading, { minLength: 1, maxLength: 12 }), (readings) => {
        const text = formatReadings(addObservations(withReach, { observations: readings }));
        const back = parseReadings(readTable(text), withReach);
        expect(back.problems).toEqual([]);
        expect(rounded(back.readings)).toEqual(rounded(readings));
      }),
    );
  });

  it('never throws, and keeps every line that it does not take', () => {
    const cell = fc.oneof(
      fc.constantFrom('tape', 'hingeA', 'grip', '800', 'x', '1,5', '', '"', 'on a plane'),
      fc.string({ maxLength: 8 }),
    );
    fc.assert(
      fc.property(fc.array(fc.array(cell, { minLength: 1, maxLength: 6 }), { maxLength: 6 }), (rows) => {
        const text = rows.map((r) => r.join(';')).join('\n');
        const found = parseReadings(readTable(text), withReach);
        expect(found.problems.length > 0).toBe(found.rest !== '');
      }),
    );
  });
});
