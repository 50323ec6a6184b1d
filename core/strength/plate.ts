/** Poisson's ratio of metals, as the plate formulas use it. */
const NU = 0.3;

/** The radius to reckon with for a load on a small circle, mm: r₀ over t/2, else √(1.6 r₀² + t²) − 0.675 t. Source: Roark's Formulas for Stress and Strain, flat plates. */
export const loadedRadiusMm = (r0Mm: number, tMm: number): number =>
  r0Mm >= tMm / 2 ? r0Mm : Math.sqrt(1.6 * r0Mm ** 2 + tMm ** 2) - 0.675 * tMm;

/** Moment per width (N·mm/mm) at the middle and at the edge of a round plate. */
export interface PlateMoments {
  readonly centreN: number;
  readonly edgeN: number;
}

/**
 * A round plate of radius a, W newtons over a small circle of radius r₀ in the middle. Held at the edge: middle
 * W(1 + ν)·ln(a/r₀)/4π, edge −W/4π. Resting on it: middle W[(1 + ν)·ln(a/r₀) + 1]/4π. Stress = 6M/t².
 * Source: Roark's Formulas for Stress and Strain, table of flat circular plates (uniform load on a small central circle).
 */
export function roundPlate(
  loadN: number,
  aMm: number,
  r0Mm: number,
  tMm: number,
  edge: 'held' | 'resting',
  nu = NU,
): PlateMoments {
  const part = loadN / (4 * Math.PI);
  const log = (1 + nu) * Math.log(aMm / Math.min(loadedRadiusMm(r0Mm, tMm), aMm));
  return edge === 'held' ? { centreN: part * log, edgeN: -part } : { centreN: part * (log + 1), edgeN: 0 };
}

/** Stress at a plate's face from a moment per width: 6M/t², N/mm². @example plateStress(6, 6) // 1 */
export const plateStress = (momentN: number, tMm: number): number => (6 * momentN) / tMm ** 2;

/**
 * Force at which a plate gives way for good round a point load, N: 2π·m_p with m_p = f_y·t²/4, for a plate that rests freely at
 * its edge; held at the edge it would be twice that. It does not depend on how large the plate is.
 * Source: yield-line theory, round plate with a point load (from memory; the circular patterns of EN 1993-1-8 table 6.4 are the
 * held case, 4π·m_p).
 */
export const collapseForceN = (yieldMPa: number, tMm: number): number => (2 * Math.PI * yieldMPa * tMm ** 2) / 4;
