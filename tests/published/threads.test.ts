import { describe, expect, it } from 'vitest';
import { coarseThread, type ThreadName } from '../../core/bracket';

describe('coarse threads', () => {
  // d2, D1: ISO 724; d3: ISO 68-1 (d − 17H/12); stress areas to three figures: ISO 898-1 (identical: IS 1367-3). Further digits worked
  // out from those definitions. None checked against the standards' text.
  it.each<[ThreadName, number, number, number, number, number, number, number]>([
    ['M5', 0.8, 4.48, 4.019, 4.134, 14.183, 14.2, 12.683],
    ['M6', 1, 5.35, 4.773, 4.917, 20.123, 20.1, 17.894],
    ['M8', 1.25, 7.188, 6.466, 6.647, 36.609, 36.6, 32.841],
    ['M10', 1.5, 9.026, 8.16, 8.376, 57.99, 58.0, 52.292],
    ['M12', 1.75, 10.863, 9.853, 10.106, 84.267, 84.3, 76.247],
  ])('%s', (name, pitch, d2, d3, d1, area, tableArea, rootArea) => {
    const thread = coarseThread(name);
    expect(thread.pitchMm).toBe(pitch);
    expect(Math.abs(thread.pitchDiameterMm - d2)).toBeLessThan(0.001);
    expect(Math.abs(thread.rootDiameterMm - d3)).toBeLessThan(0.001);
    expect(Math.abs(thread.minorDiameterMm - d1)).toBeLessThan(0.001);
    expect(Math.abs(thread.stressAreaMm2 - area)).toBeLessThan(0.001);
    expect(Math.abs(thread.stressAreaMm2 - tableArea)).toBeLessThan(0.05);
    expect(Math.abs((Math.PI * thread.rootDiameterMm ** 2) / 4 - rootArea)).toBeLessThan(0.001);
  });

  // ISO 898-1, from memory: three figures.
  it.each<[ThreadName, number, number]>([
    ['M4', 0.7, 8.78],
    ['M14', 2, 115],
    ['M16', 2, 157],
  ])('%s has pitch %d and a stress area of %d mm²', (name, pitch, area) => {
    expect(coarseThread(name).pitchMm).toBe(pitch);
    expect(Number(coarseThread(name).stressAreaMm2.toPrecision(3))).toBe(area);
  });
});
