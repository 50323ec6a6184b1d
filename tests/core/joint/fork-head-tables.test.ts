import { describe, expect, it } from 'vitest';
import { fittingOf } from '../../../core/joint';
import { FORK_SIZES } from '../../../core/joint/fitting-tables';
import { expectClose, within } from '../../support/close';

// The rows of DIN 71752 from a dealer's table, held against slips of a column; not checked against the standard's text. The table
// names pin, slot, thread and widths a and b; what the other columns mean is our reading of it. mm.
const LISTED: [number, [number, number], string, number, number, number, [number, number], [number, number], number][] =
  [
    [4, [8, 16], 'M4', 8, 4, 8, [16, 24], [21, 29], 6],
    [5, [10, 20], 'M5', 10, 5, 9, [20, 30], [26, 36], 7.5],
    [6, [12, 24], 'M6', 12, 6, 10, [24, 36], [31, 43], 9],
    [8, [16, 32], 'M8', 16, 8, 14, [32, 48], [42, 58], 12],
    [10, [20, 40], 'M10', 20, 10, 18, [40, 60], [52, 72], 15],
    [12, [24, 48], 'M12', 24, 12, 20, [48, 72], [62, 86], 18],
  ];

describe('fork heads, DIN 71752', () => {
  it.each(LISTED)('pin %d, slots %j, %s', (pin, slot, thread, width, gap, shank, holeToEnd, overall, depth) => {
    const size = FORK_SIZES.find((s) => s.pinMm === pin)!;
    expect(size).toMatchObject({
      slotMm: slot,
      widthMm: width,
      gapMm: gap,
      shankMm: shank,
      holeToEndMm: holeToEnd,
      overallMm: overall,
      depthMm: depth,
    });
    expect(size.thread.name).toBe(thread);
    slot.forEach((length, i) => {
      const f = fittingOf(`fork-${pin}-${length}`)!;
      expect([f.kind, f.nominalDeg, f.ballMm]).toEqual(['fork', 90, pin]);
      expect(f.offsetMm!.value).toBe(holeToEnd[i]);
      expect(f.offsetMm!.provenance).toBe('from a dealer’s table without headings');
      // two ranges: a few degrees out of its plane (common practice, no source), freely within it
      expect(f.rangeDeg.value).toBeLessThanOrEqual(5);
      expect(f.rangeDeg.provenance).toBe('common practice, no source');
      expect(f.inPlaneDeg!).toBeGreaterThan(f.rangeDeg.value);
      expectClose(f.headRadiusMm!.value, Math.hypot(width / 2, overall[i]! - holeToEnd[i]!), within(1e-12, 'mm'));
    });
  });
  it('the columns hang together as they are read: overall − (hole to end) is the same for both slots', () => {
    for (const s of FORK_SIZES) expect(s.overallMm[0] - s.holeToEndMm[0]).toBe(s.overallMm[1] - s.holeToEndMm[1]);
    for (const s of FORK_SIZES) expect([s.widthMm, s.gapMm]).toEqual([2 * s.pinMm, s.pinMm]);
  });
});
