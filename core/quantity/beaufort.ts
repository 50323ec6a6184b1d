/** Least mean speed of each Beaufort number from 1 up, m/s. Source: WMO-8 (from memory; v = 0.836·B^1.5 lies inside each step). */
const LEAST_MS = [0.3, 1.6, 3.4, 5.5, 8, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7] as const;

/** Beaufort number of a mean wind speed, m/s; gusts are faster. @example beaufort(10) // 5 */
export const beaufort = (ms: number): number => LEAST_MS.filter((least) => ms >= least).length;
