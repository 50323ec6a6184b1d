import { clearanceHolesMm, coarseThread, type ThreadName } from '../bracket';

/** Friction in thread and under the head, lightly oiled steel; common practice, VDI 2230 part 1 friction class B begins at 0.08. */
export const TIGHTENING_FRICTION = 0.12;
/** Share of yield that assembly may use. Source: VDI 2230-1. */
const YIELD_SHARE = 0.9;

/** Bearing diameter under a hexagon head, mm. Source: ISO 4014/4017, from memory. */
const BEARING_MM: Readonly<Record<ThreadName, number>> = {
  ...{ M4: 5.9, M5: 6.9, M6: 8.9, M8: 11.6 },
  ...{ M10: 14.6, M12: 16.6, M14: 19.6, M16: 22.5 },
};

/**
 * Torque that gives a preload, N·m, hexagon head on an ISO 273 medium hole: M = F·(0.16·P + 0.58·d₂·μ + μ·D/2), D the mean bearing diameter. Preload N.
 * Source: VDI 2230-1 (the formula from memory; its table is held against it in tests/published).
 * @example Math.round(torqueNm('M8', 17200)) // 23
 */
export function torqueNm(thread: ThreadName, preloadN: number, friction = TIGHTENING_FRICTION): number {
  const { pitchMm, pitchDiameterMm } = coarseThread(thread);
  const bearing = (BEARING_MM[thread] + clearanceHolesMm[thread].medium) / 2;
  return (preloadN * (0.16 * pitchMm + 0.58 * pitchDiameterMm * friction + (friction * bearing) / 2)) / 1000;
}

/**
 * Preload at which a bolt of this yield (N/mm²) is used to 90 % by tension and torsion together, N.
 * Source: VDI 2230-1, from memory.
 * @example Math.round(assemblyPreloadN('M8', 640) / 100) // 186
 */
export function assemblyPreloadN(thread: ThreadName, yieldMPa: number, friction = TIGHTENING_FRICTION): number {
  const { pitchMm: p, pitchDiameterMm: d2, rootDiameterMm: d3, stressAreaMm2 } = coarseThread(thread);
  const twist = 1.5 * (d2 / ((d2 + d3) / 2)) * (p / (Math.PI * d2) + 1.155 * friction);
  return (YIELD_SHARE * yieldMPa * stressAreaMm2) / Math.sqrt(1 + 3 * twist * twist);
}

/** Lengths that bolts are sold in, mm. Source: ISO 888, from memory. */
const LENGTHS_MM = [
  ...[8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80],
  ...[90, 100, 110, 120, 130, 140, 150, 160, 180, 200],
];

/** The shortest bolt that is sold and at least this long, mm; undefined over 200. @example boltLengthMm(31) // 35 */
export const boltLengthMm = (leastMm: number): number | undefined => LENGTHS_MM.find((l) => l >= leastMm - 1e-9);
/** The longest that is sold and no longer than this, mm; undefined under 8. @example boltLengthUpToMm(31) // 30 */
export const boltLengthUpToMm = (mostMm: number): number | undefined =>
  LENGTHS_MM.filter((l) => l <= mostMm + 1e-9).at(-1);
