import { describe, expect, it } from 'vitest';
import { leastInsideRadiusMm, leastLegMm, vDieMm } from '../../../core/bracket';

describe('least inside radius, cold flanging', () => {
  // The table's own rows (EN 10025-2, not checked against its text), held against slips of a column.
  it.each([
    ['Steel S235JR', 1.5, 1.6, 1.6],
    ['S235', 4, 5, 6],
    ['S235', 4.01, 6, 8],
    ['Steel S275', 5, 8, 10],
    ['S355J2', 8, 16, 20],
  ])('%s, %d mm: %d across, %d along the rolling direction', (name, t, across, along) => {
    const least = leastInsideRadiusMm(name, t)!;
    expect([least.acrossMm, least.alongMm]).toEqual([across, along]);
  });

  // Common practice, no source: r ≥ t for steel. The table is never under it by more than its own steps.
  it('is near or over the thickness for every grade', () => {
    for (const grade of ['S235', 'S275', 'S355'])
      for (const t of [1.5, 2.5, 3, 4, 5, 6, 7, 8])
        expect(leastInsideRadiusMm(grade, t)!.acrossMm).toBeGreaterThanOrEqual(t);
  });

  it('says nothing of what it does not know', () => {
    expect(leastInsideRadiusMm('Aluminium EN AW-5754', 4)).toBeUndefined();
    expect(leastInsideRadiusMm('S235', 9)).toBeUndefined();
  });
});

describe('least leg in a V-die', () => {
  // Common practice, no source: die of eight thicknesses; the leg at 45° must reach the die's edge.
  it('is 0.707 of the opening', () => {
    expect(vDieMm(3)).toBe(24);
    expect(leastLegMm(3)).toBeCloseTo(16.97, 2);
  });
});
