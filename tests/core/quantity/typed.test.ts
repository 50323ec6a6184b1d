// What can be typed into a number field, what it comes to, and what is refused in words.
import { describe, expect, it } from 'vitest';
import { LidwrightError } from '../../../core/error';
import {
  type Dimension,
  type Scope,
  type Value,
  evaluateQuantity,
  evaluateValue,
  isFreeName,
  namesIn,
} from '../../../core/quantity';
import { expectClose, withinEither } from '../../support/close';
import { processorSeconds } from '../../support/tier';

const IN = 25.4;
const LBF = 4.4482216152605;

describe('typed values', () => {
  it.each<[string, Dimension, number]>([
    // plain, signs, brackets, powers
    ['310', 'length', 310],
    [' 310 ', 'length', 310],
    ['-4.5', 'length', -4.5],
    ['−4.5', 'length', -4.5],
    ['+7', 'length', 7],
    ['2*(30+5)', 'length', 70],
    ['2*180 + 5 mm', 'length', 365],
    ['5 mm + 2*180', 'length', 365],
    ['3 × 4', 'length', 12],
    ['9 ÷ 4', 'length', 2.25],
    ['2^3 mm', 'length', 8],
    ['1e2 mm', 'length', 100],
    // decimal commas
    ['12,5', 'length', 12.5],
    ['12,5 mm', 'length', 12.5],
    ['0,75 in', 'length', 0.75 * IN],
    ['12,5 + 0,25', 'length', 12.75],
    // inches and feet
    ['15 3/4 in', 'length', 15.75 * IN],
    ['15 ¾ in', 'length', 15.75 * IN],
    ['15¾"', 'length', 15.75 * IN],
    ['3/8 in', 'length', 0.375 * IN],
    ['1/8 inch', 'length', 0.125 * IN],
    ['½ in', 'length', 0.5 * IN],
    ['3 ft 2 in', 'length', 38 * IN],
    ['3 ft 2 1/2 in', 'length', 38.5 * IN],
    [`3' 2"`, 'length', 38 * IN],
    ['3′ 2″', 'length', 38 * IN],
    ['2 feet', 'length', 24 * IN],
    ['-1 1/2 in', 'length', -1.5 * IN],
    ['1 yd - 2 in', 'length', 34 * IN],
    // metric
    ['1.2 m', 'length', 1200],
    ['31 cm', 'length', 310],
    ['1 m + 20 cm + 5 mm', 'length', 1205],
    // masses, forces, moments
    ['2.5 kg', 'mass', 2.5],
    ['750 g', 'mass', 0.75],
    ['10 lb', 'mass', 4.5359237],
    ['3 lbs', 'mass', 3 * 0.45359237],
    ['50 kgf', 'force', 490.3325],
    ['100 lbf', 'force', 100 * LBF],
    ['0.4 kN', 'force', 400],
    ['5 N m', 'moment', 5],
    ['5 N·m', 'moment', 5],
    ['5 Nm', 'moment', 5],
    ['5 N*m', 'moment', 5],
    ['12 lbf ft', 'moment', (12 * LBF * 304.8) / 1000],
    ['12 lbf·in', 'moment', (12 * LBF * 25.4) / 1000],
    ['400 N * 250 mm', 'moment', 100],
    // angles, temperatures, energies, ratios
    ['30', 'angle', 30],
    ['30 deg', 'angle', 30],
    ['30°', 'angle', 30],
    ['pi rad', 'angle', 180],
    ['(pi/6) rad', 'angle', 30],
    ['20', 'temperature', 20],
    ['-20 °C', 'temperature', -20],
    ['−20°C', 'temperature', -20],
    ['68 °F', 'temperature', 20],
    ['68F', 'temperature', 20],
    ['-4 degF', 'temperature', -20],
    ['293.15 K', 'temperature', 20],
    ['12 J', 'energy', 12],
    ['1.35', 'number', 1.35],
    ['450/350', 'number', 450 / 350],
    ['12 in / 1 ft', 'number', 1],
    // functions
    ['sqrt(9)', 'length', 3],
    ['100 sin(30 deg)', 'length', 50],
    ['100*cos(60°) mm', 'length', 50],
    ['max(3 in, 50 mm)', 'length', 76.2],
    ['min(3 in, 50 mm)', 'length', 50],
    ['hypot(3, 4)', 'length', 5],
    ['hypot(30 mm, 4 cm)', 'length', 50],
    ['abs(-3 in)', 'length', 76.2],
    ['round(2.6)', 'length', 3],
  ])('%s as a %s is %d', (text, dimension, wanted) => {
    expectClose(evaluateQuantity(text, dimension), wanted, withinEither(1e-12, 1e-12, 'file unit'));
  });

  it('a number without a unit counts in the unit shown', () => {
    expect(evaluateQuantity('2', 'length', new Map(), 'in')).toBe(50.8);
    expect(evaluateQuantity('2 + 1 in', 'length', new Map(), 'mm')).toBe(76.2);
    expect(evaluateQuantity('10', 'force', new Map(), 'kgf')).toBe(98.0665);
    expect(evaluateQuantity('68', 'temperature', new Map(), 'degF')).toBe(20);
    expect(evaluateQuantity('68 °C', 'temperature', new Map(), 'degF')).toBe(68);
    expect(evaluateQuantity('3 mm', 'length', new Map(), 'in')).toBe(3);
  });
  it('comes out as a person would write it: no tail of rounding', () => {
    expect(evaluateQuantity('15 3/4 in', 'length')).toBe(400.05);
    expect(evaluateQuantity('50 kgf', 'force')).toBe(490.3325);
    expect(evaluateQuantity('1 lb', 'mass')).toBe(0.45359237);
    expect(evaluateQuantity('0.1 m', 'length')).toBe(100);
  });
  it('names of givens are used, with their units', () => {
    const scope: Scope = new Map<string, Value>([
      ['reach', evaluateValue('12 in', new Map())],
      ['count', 3],
    ]);
    expectClose(evaluateQuantity('reach + 20 mm', 'length', scope), 324.8, withinEither(1e-12, 0, 'mm'));
    expectClose(evaluateQuantity('count * reach', 'length', scope), 914.4, withinEither(1e-12, 0, 'mm'));
    expectClose(evaluateQuantity('count', 'number', scope), 3, withinEither(0, 0, '1'));
    expect(namesIn('2*reach + sqrt(count) * 3 mm + pi')).toEqual(['reach', 'count']);
  });
  it.each(['mm', 'in', 'sqrt', 'pi', '1st', '', 'a b', 'ä', 'kgf', 'x'.repeat(41), 'a-b'])(
    '"%s" is no name for a given',
    (name) => expect(isFreeName(name)).toBe(false),
  );
  it.each(['reach', 'lidWidth', '_x', 'a1', 'mmx'])('"%s" is a name for a given', (name) =>
    expect(isFreeName(name)).toBe(true),
  );
});

/** What is said about a text that is refused. */
function refusal(text: string, dimension: Dimension, scope?: Scope): LidwrightError {
  try {
    const value = evaluateQuantity(text, dimension, scope);
    throw new Error(`"${text}" was taken as ${value}`);
  } catch (error) {
    if (!(error instanceof LidwrightError)) throw error;
    return error;
  }
}

describe('what is refused, in words with advice', () => {
  it.each<[string, Dimension, RegExp]>([
    ['', 'length', /nothing is written/],
    ['   ', 'length', /nothing is written/],
    ['1,234', 'length', /two ways/],
    ['1,234.5', 'length', /two ways/],
    ['1.234,567 mm', 'length', /two ways/],
    ['12,345 mm', 'length', /two ways/],
    ['10 kg', 'force', /not a force/],
    ['10 N', 'mass', /not a mass/],
    ['10 kg', 'length', /not a length/],
    ['3 mm^2', 'length', /not a length/],
    ['5 deg', 'length', /not a length/],
    ['5 mm', 'angle', /not an angle/],
    ['5 mm', 'number', /not a plain number/],
    ['5 mm', 'temperature', /not a temperature/],
    ['5 N', 'moment', /not a moment/],
    ['5 mm + 3 kg', 'length', /different kinds/],
    ['5 kg + 3', 'length', /plain number to a quantity|not a length/],
    ['20 %', 'number', /percent/],
    ['1/0', 'length', /finite/],
    ['0/0', 'length', /finite|worked out/],
    ['1/0 mm', 'length', /finite|worked out/],
    ['sqrt(-1)', 'length', /finite/],
    ['(-8)^(1/3)', 'length', /worked out|finite/],
    ['9^9^9^9', 'length', /power/],
    ['2^mm', 'length', /power/],
    ['1e999', 'length', /finite|no number/],
    ['NaN', 'length', /finite|neither/],
    ['Infinity', 'length', /finite|neither/],
    ['10 furlong', 'length', /neither a unit nor a given/],
    ['reach', 'length', /neither a unit nor a given/],
    ['sin(5 mm)', 'number', /can't take/],
    ['sqrt(4 mm)', 'length', /not a length/],
    ['min()', 'length', /nothing to work on/],
    ['310 mm mm', 'length', /not a length/],
    ['(3', 'length', /no number or expression/],
    ['3)', 'length', /no number or expression/],
    ['3 +', 'length', /no number or expression/],
    ['* 3', 'length', /no number or expression/],
    ['3 4', 'length', /no number or expression/],
    ['x'.repeat(301), 'length', /too long/],
  ])('%s as a %s', (text, dimension, said) => {
    const error = refusal(text, dimension);
    expect(error.what).toMatch(said);
    expect(error.advice).not.toBe('');
  });

  it('advice knows mass from force', () => {
    expect(refusal('10 kg', 'force').advice).toMatch(/kgf/);
    expect(refusal('10 N', 'mass').advice).toMatch(/kg or lb/);
  });

  it.each(['310 mm 5', '15 in 3/4', '12 in 3', '2 kgf 5', '5 N 2 mm'])(
    '"%s": a number left standing after a unit is not multiplied in silence',
    (text) => {
      const dimension: Dimension = text.includes('kgf') ? 'force' : text.includes('N') ? 'moment' : 'length';
      expect(refusal(text, dimension).advice).not.toBe('');
    },
  );

  it.each([
    'import("fs")',
    'evaluate("1+1")',
    'parse("1")',
    'f(x)=x',
    'a=5',
    '[1,2,3]',
    '{a:1}',
    '"text"',
    "'text'",
    '1:10',
    'x.constructor',
    'constructor',
    'constructor()',
    '__proto__',
    'toString()',
    'hasOwnProperty("a")',
    'unit("5 mm")',
    'createUnit("mm")',
    'simplify("x")',
    'true',
    'null',
    'undefined',
    'i',
    '3!',
    '3 to in',
    '3 mm to in',
    '5 mm; 3',
    '1 ? 2 : 3',
    'not 3',
    '3 == 3',
    '3 mod 2',
    '3 & 2',
    '3 > 2',
    "a'",
    '5 .* 3',
    'gamma(3)',
    'factorial(170)',
    'zeros(1e9)',
    'range(1,1e9)',
    'cos',
    'sqrt',
    '1;2;3',
    '3 in in',
    '#',
    '@',
    '\\',
    '\u0000',
    '😀',
    '(()=>1)()',
    'process.exit()',
    '3 mm\n4 mm',
  ])('%j runs nothing: it ends in words', (text) => {
    for (const dimension of ['length', 'number', 'temperature'] as const) {
      const error = refusal(text, dimension);
      expect(error.what).not.toBe('');
      expect(error.advice).not.toBe('');
    }
  });

  it.each([
    ['brackets', '('.repeat(149) + '1' + ')'.repeat(149)],
    ['minus signs', '-'.repeat(299) + '1'],
    ['square roots', 'sqrt('.repeat(48) + '2' + ')'.repeat(48)],
    ['powers', Array(150).fill('2').join('^')],
    ['open brackets', '('.repeat(300)],
    ['fractions', '1/'.repeat(149) + '1'],
    ['units', 'mm*'.repeat(99) + 'mm'],
    ['spaces', ' '.repeat(299) + '1'],
    ['decimal commas', '1,1'.repeat(100)],
    ['digits', '9'.repeat(300)],
    ['feet', 'ft '.repeat(100)],
  ])('a nest of %s ends soon, in a finite number or in words', (_, text) => {
    const start = processorSeconds();
    try {
      expect(Number.isFinite(evaluateQuantity(text, 'length'))).toBe(true);
    } catch (error) {
      expect(error).toBeInstanceOf(LidwrightError);
      expect((error as LidwrightError).advice).not.toBe('');
    }
    expect(processorSeconds() - start).toBeLessThan(2);
  });
});
