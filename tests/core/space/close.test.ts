// The yardstick of all other tests is tested itself: what must fail, fails.
import { describe, expect, it } from 'vitest';
import { type Values, difference, expectClose, within, withinEither } from '../../support/close';

const agrees = (actual: unknown, expected: Values, abs: number): boolean =>
  difference(actual, expected, within(abs, 'mm')) === null;

describe('the tolerance helper', () => {
  it('lets through what lies inside, the bound included', () => {
    expect(agrees(10.5, 10, 0.5)).toBe(true);
    expect(agrees(-3, -3, 0)).toBe(true);
    expect(agrees([1, [2, 3]], [1.001, [2.002, 2.999]], 0.0021)).toBe(true);
    expect(agrees(new Float64Array([1, 2]), [1, 2], 0)).toBe(true);
  });
  it.each([
    ['a near miss', 10.501, 10, 0.5],
    ['a near miss below', 9.499, 10, 0.5],
    ['the other sign', -10, 10, 0.5],
    ['a small number for 0', 1e-9, 0, 1e-10],
    ['0 for a small number', 0, 1e-9, 1e-10],
    ['a deep near miss', [1, [2, 3.1]], [1, [2, 3]], 0.05],
  ])('refuses %s', (_, actual, expected, abs) => {
    expect(agrees(actual, expected as Values, abs)).toBe(false);
  });
  it.each([
    ['NaN', NaN, 1],
    ['NaN even when NaN is expected', NaN, NaN],
    ['NaN expected', 1, NaN],
    ['Infinity', Infinity, Infinity],
    ['nothing at all', undefined, 1],
    ['a text', '1', 1],
    ['null for a number', null, 0],
    ['a number for null', 0, null],
    ['undefined for null', undefined, null],
    ['a list for a number', [1], 1],
    ['a number for a list', 1, [1]],
    ['too short a list', [1, 2], [1, 2, 3]],
    ['too long a list', [1, 2, 3], [1, 2]],
    ['an empty list for one value', [], [0]],
    ['a null inside a list', [1, null], [1, 0]],
  ])('refuses %s whatever the tolerance', (_, actual, expected) => {
    expect(agrees(actual, expected as Values, 1e300)).toBe(false);
  });
  it('takes null against null', () => expect(agrees([null, 1], [null, 1], 0)).toBe(true));
  it('measures the relative bound on the expected value, and either bound is enough', () => {
    expect(difference(1_000_009, 1_000_000, withinEither(0, 1e-5, 'N'))).toBeNull();
    expect(difference(1_000_011, 1_000_000, withinEither(0, 1e-5, 'N'))).not.toBeNull();
    expect(difference(0.04, 0, withinEither(0.05, 1e-5, 'N'))).toBeNull();
    expect(difference(1e-12, 0, withinEither(0, 0.5, 'N'))).not.toBeNull();
  });
  it('has no tolerance of its own: one that says nothing is refused', () => {
    for (const abs of [NaN, -1, Infinity, undefined as unknown as number])
      expect(() => difference(1, 1, within(abs, 'mm'))).toThrow(TypeError);
    expect(() => difference(1, 1, within(1, ''))).toThrow(TypeError);
    expect(() => difference(1, 1, within(1, undefined as unknown as string))).toThrow(TypeError);
  });
  it('says where and how far', () => {
    expect(() => expectClose([[0, 5]], [[0, 7]], within(1, 'N'), 'hinge A')).toThrow(
      /hinge A: \[0\]\[1\]: 5 N.*7 N.*off by 2/,
    );
  });
});
