import { describe, expect, it } from 'vitest';
import { bendAllowanceMm, din6935CorrectionMm, outsideSetbackMm } from '../../core/bracket';
import { toRad } from '../../core/space';

describe('bend allowance against worked examples of textbooks', () => {
  // P. C. Sharma, Textbook of Production Engineering, 11th ed., Ex. 2.10 p. 138.
  it('Sharma 2.10: legs 76 and 115 outside, t 2.3, r 0.90, neutral axis at t/3: flat 187.22 mm', () => {
    const [t, r] = [2.3, 0.9];
    const allowance = bendAllowanceMm(toRad(90), r, t / 3);
    expect(Math.abs(allowance - 2.617994)).toBeLessThan(1e-6);
    expect(Math.abs(76 + 115 - 2 * outsideSetbackMm(toRad(90), r, t) + allowance - 187.22)).toBeLessThan(0.01);
  });

  // Same book, Ex. 2.17 p. 143: two 90° bends with r 20, a half circle with r 140, t 10, K 0.33, straights 270, 140, 70.
  it('Sharma 2.17: total 1003.39 mm', () => {
    const small = bendAllowanceMm(toRad(90), 20, 3.3);
    const large = bendAllowanceMm(toRad(180), 140, 3.3);
    expect(Math.abs(small - 36.599554)).toBeLessThan(1e-6);
    expect(Math.abs(large - 450.190227)).toBeLessThan(1e-6);
    expect(Math.abs(270 + 140 + 70 + 2 * small + large - 1003.39)).toBeLessThan(0.01);
  });

  // Groover, Fundamentals of Modern Manufacturing, sheet-bending example (numbers from memory, the arithmetic checked).
  it('Groover: r 4.75, t 3.2, 60°, K 0.33: 6.080 mm', () => {
    expect(Math.abs(bendAllowanceMm(toRad(60), 4.75, 0.33 * 3.2) - 6.08)).toBeLessThan(0.005);
  });
});

describe('DIN 6935', () => {
  // What a leg loses at 90°: the table of DIN 6935's supplement as handbooks of metalworking print it; from memory, beside the
  // worked examples above.
  it.each([
    [1, 1, 1.9],
    [1.6, 1, 2.1],
    [1.6, 1.5, 2.9],
    [2.5, 1, 2.4],
    [2.5, 1.5, 3.2],
    [2.5, 2, 4.0],
    [2.5, 2.5, 4.8],
    [4, 2, 4.5],
    [4, 3, 6.0],
  ])('r %d, t %d: the table takes %d mm off for 90°', (r, t, v) =>
    expect(Math.abs(-din6935CorrectionMm(90, r, t) - v)).toBeLessThan(0.05),
  );
});
