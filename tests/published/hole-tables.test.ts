import { describe, expect, it } from 'vitest';
import {
  clearanceHolesMm,
  coarseThread,
  hardwareOf,
  tapDrillMm,
  type ThreadName,
  threadNames,
  threadOfMediumHole,
} from '../../core/bracket';

describe('ISO 273 clearance holes', () => {
  // ISO 273:1979 (EN 20273:1992): fine H12, medium H13, coarse H14. Not checked against the standard's text.
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

describe('drills for tapped holes', () => {
  it('are within 0.1 mm of nominal less pitch (ISO 2306, from memory), and over the core of the nut thread (ISO 724)', () => {
    for (const name of threadNames) {
      const { diameterMm, pitchMm, minorDiameterMm } = coarseThread(name);
      expect(Math.abs(tapDrillMm[name] - (diameterMm - pitchMm))).toBeLessThanOrEqual(0.1);
      expect(tapDrillMm[name]).toBeGreaterThan(minorDiameterMm);
    }
  });
});

describe('heads, nuts and washers', () => {
  // ISO 4032:2012, width across flats and largest height. Not checked against the standard's text.
  it.each<[ThreadName, number, number]>([
    ['M4', 7, 3.2],
    ['M5', 8, 4.7],
    ['M6', 10, 5.2],
    ['M8', 13, 6.8],
    ['M10', 16, 8.4],
    ['M12', 18, 10.8],
    ['M14', 21, 12.8],
    ['M16', 24, 14.8],
  ])('nut %s: %d across flats, %d high', (name, flats, height) => {
    expect(hardwareOf(name).acrossFlatsMm).toBe(flats);
    expect(hardwareOf(name).nutHeightMm).toBe(height);
  });

  // ISO 4032, least width across corners: a little under the sharp hexagon we reckon with.
  it.each<[ThreadName, number]>([
    ['M4', 7.66],
    ['M5', 8.79],
    ['M6', 11.05],
    ['M8', 14.38],
    ['M10', 17.77],
    ['M12', 20.03],
    ['M14', 23.35],
    ['M16', 26.75],
  ])('%s is at least %d across corners', (name, least) => {
    const { acrossCornersMm } = hardwareOf(name);
    expect(acrossCornersMm).toBeGreaterThanOrEqual(least);
    expect(acrossCornersMm).toBeLessThan(least * 1.06);
  });
});
