import { describe, expect, it } from 'vitest';
import { clearanceHolesMm, threadNames, threadOfMediumHole } from '../../core/bracket';

describe('ISO 273 clearance holes', () => {
  // engineeringhardware.com/?p=50; medium again at roymech.co.uk Head_Clearances (BS EN 20273:1992). (Stored copies.)
  // M4, M14, M16: from memory of the same standard.
  const published = {
    M4: [4.3, 4.5, 4.8],
    M5: [5.3, 5.5, 5.8],
    M6: [6.4, 6.6, 7],
    M8: [8.4, 9, 10],
    M10: [10.5, 11, 12],
    M12: [13, 13.5, 14.5],
    M14: [15, 15.5, 16.5],
    M16: [17, 17.5, 18.5],
  } as const;
  it('are those of the table', () => {
    expect([...threadNames]).toEqual(Object.keys(published));
    for (const name of threadNames) {
      const { fine, medium, coarse } = clearanceHolesMm[name];
      expect([fine, medium, coarse]).toEqual(published[name]);
      expect(threadOfMediumHole(medium)).toBe(name);
      expect(threadOfMediumHole(fine)).toBeUndefined();
    }
  });
});
