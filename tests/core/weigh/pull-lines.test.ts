import { describe, expect, it } from 'vitest';
import { isList, linesFromPulls, pullsFromLines } from '../../../core/weigh';
import { expectClose, within } from '../../support/close';
import { refusal } from '../../support/refusal';

const kg = 9.80665;

describe('a pasted list of pulls', () => {
  it.each([
    ['tabs', '5\t24.3\n20\t23.9'],
    ['semicolons and decimal commas', '5;24,3\n20;23,9'],
    ['commas, with headings', 'angle,scale\n5,24.3\n20,23.9\n'],
    ['units of its own', '5°\t24.3 kg\n20 deg\t23900 g'],
  ])('%s', (_, text) => {
    const pulls = pullsFromLines(text, 'kg', 'square');
    expect(pulls.map((p) => p.angleDeg)).toEqual([5, 20]);
    expectClose(
      pulls.map((p) => p.forceN as number),
      [24.3 * kg, 23.9 * kg],
      within(1e-9, 'N'),
    );
  });
  it('a third column says how the scale pulled; without it as usual', () => {
    expect(pullsFromLines('5;10;up\n6;10;square\n7;10', 'N', 'upright').map((p) => p.pull)).toEqual([
      'upright',
      undefined,
      'upright',
    ]);
  });
  it('copied out and pasted in again it is the same', () => {
    const pulls = [
      { angleDeg: 5, forceN: 240 },
      { angleDeg: 40.5, forceN: 198.5, pull: 'upright' as const },
    ];
    for (const scale of ['kg', 'N', 'lb'] as const) {
      const back = pullsFromLines(linesFromPulls(pulls, scale), scale, 'square');
      expect(back.map((p) => [p.angleDeg, p.pull])).toEqual([
        [5, undefined],
        [40.5, 'upright'],
      ]);
      expectClose(
        back.map((p) => p.forceN as number),
        [240, 198.5],
        within(1e-3, 'N'),
      );
    }
  });
  it.each([
    ['5;24\n20', 'line 2 has no force'],
    ['5;24\n20;abc', 'line 2'],
    ['5;24\n20;12 mm', 'line 2'],
    ['5;24;sideways\n6;2', 'line 1 ends in "sideways"'],
    ['angle;scale', 'no reading'],
  ])('%j is refused whole: %s', (text, words) => {
    expect(refusal(() => pullsFromLines(text, 'kg', 'square')).what).toContain(words);
  });
  it('one number with a decimal comma is no list', () => {
    expect(isList('12,4')).toBe(false);
    expect(isList(' 12.4\n')).toBe(false);
    expect(isList('5\t12.4')).toBe(true);
    expect(isList('5,12.4\n6,12')).toBe(true);
  });
});
