import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shankMm, splitStrut } from '../../../core/strut';

describe('splitStrut', () => {
  const spec = { extendedMm: 500, strokeMm: 200, tubeMm: 18 };
  it('shows as much bare rod as the strut is longer than compressed', () => {
    expect(splitStrut(300, spec).exposedMm).toBe(0);
    expect(splitStrut(420, spec).exposedMm).toBe(120);
    expect(splitStrut(500, spec).exposedMm).toBe(200);
  });
  it('keeps the tube’s length whatever the stroke, and ends a shank short of the other ball', () => {
    for (const length of [300, 351, 500]) {
      const s = splitStrut(length, spec);
      expect(s.tubeToMm - s.tubeFromMm).toBeCloseTo(300 - 2 * shankMm(18, 300), 9);
      expect(length - s.rodToMm).toBeCloseTo(shankMm(18, 300), 9);
    }
  });
  it('fits only inside its stroke', () => {
    expect([299.9, 300, 500, 500.1].map((l) => splitStrut(l, spec).fits)).toEqual([false, true, true, false]);
  });
  it('never turns its parts inside out, whatever the numbers', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 2000, noNaN: true }),
        fc.double({ min: 1, max: 900, noNaN: true }),
        (l, stroke) => {
          const s = splitStrut(l, { extendedMm: 901, strokeMm: stroke, tubeMm: 22 });
          expect(s.tubeToMm).toBeGreaterThanOrEqual(s.tubeFromMm);
          expect(s.rodToMm).toBeGreaterThanOrEqual(s.tubeToMm);
        },
      ),
    );
  });
});
