// The rule of DIN 6935 (not checked against its text), its numbers worked out apart from this code.
import { describe, expect, it } from 'vitest';
import { bodyLayout, din6935CorrectionMm, din6935Factor } from '../../../core/bracket';
import { guardBracket } from '../../../core/bracket/examples';

describe('DIN 6935', () => {
  it.each([
    [0.65, 0.5565],
    [1, 0.65],
    [1.5, 0.738],
    [2.5, 0.849],
    [4, 0.951],
    [5, 0.9995],
    [5.1, 1],
    [12, 1],
  ])('k at r/t = %d is %d', (ratio, k) => expect(Math.abs(din6935Factor(ratio * 3, 3) - k)).toBeLessThan(5e-5));

  // v for other opening angles.
  it.each([
    [1, 1, -1.225, -0.922, -0.616, -0.378],
    [2.5, 2, -2.301, -1.847, -1.216, -0.737],
    [4, 3, -3.384, -2.775, -1.818, -1.097],
    [3, 3, -3.675, -2.766, -1.849, -1.134],
  ])('r %d, t %d at 60°, 120°, 135°, 150°', (r, t, ...v) => {
    [60, 120, 135, 150].forEach((beta, i) =>
      expect(Math.abs(din6935CorrectionMm(beta, r, t) - v[i]!)).toBeLessThan(6e-4),
    );
  });

  it('legs 50 and 40, r = t = 3: 84.2439 mm; a U of 40/60/40: 128.4878 mm', () => {
    const v = din6935CorrectionMm(90, 3, 3);
    expect(Math.abs(50 + 40 + v - 84.2439)).toBeLessThan(5e-5);
    expect(Math.abs(40 + 60 + 40 + 2 * v - 128.4878)).toBeLessThan(5e-5);
    const flat = bodyLayout({ ...guardBracket, thicknessMm: 3, insideRadiusMm: 3, baseLegMm: 50, uprightLegMm: 40 });
    expect(Math.abs(flat.lengthMm - 84.2439)).toBeLessThan(5e-5);
  });

  it('gives a channel of 40/60/40, r = t = 3, the same 128.4878 mm', () => {
    const sizes = { thicknessMm: 3, insideRadiusMm: 3, gapMm: 54, baseLegMm: 60, uprightLegMm: 40 };
    const flat = bodyLayout({ ...guardBracket, ...sizes, kind: 'channel' });
    expect(Math.abs(flat.lengthMm - 128.4878)).toBeLessThan(5e-5);
  });

  // 100.41 mm, which is about, takes r for r + t.
  it('does not repeat a known wrong figure', () => {
    expect(Math.abs(50 + 50 + din6935CorrectionMm(90, 3, 3) - 94.244)).toBeLessThan(5e-4);
  });
});
