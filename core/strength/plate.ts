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

/** A place on a leg, mm from its middle, and how far a load spreads from there to the section looked at. */
export interface Spread {
  readonly atMm: number;
  readonly lengthMm: number;
}

/**
 * Width of a leg that bends for what fixings put on it, mm: each load spreads at 45° from its washer's edge, as far as the
 * leg's edges; where two strips overlap they count once. One fixing in the middle: min(d_w + 2L, leg).
 * Source: 45° spread, as for the width tributary to a bolt beside its hinge line (R. L. Brockenbrough, F. S. Merritt,
 * Structural Steel Designer's Handbook, prying of hangers; the angle from memory).
 * @example effectiveWidthMm([{ atMm: 0, lengthMm: 12 }], 13, 20) // 37
 */
export function effectiveWidthMm(places: readonly Spread[], washerMm: number, halfLegMm: number): number {
  let width = 0;
  let from = -halfLegMm;
  for (const { atMm, half } of places
    .map(({ atMm, lengthMm }) => ({ atMm, half: washerMm / 2 + lengthMm }))
    .sort((a, b) => a.atMm - a.half - (b.atMm - b.half))) {
    const to = Math.min(atMm + half, halfLegMm);
    width += Math.max(0, to - Math.max(from, atMm - half));
    from = Math.max(from, to);
  }
  return width;
}

/**
 * Stress of a plate round a stiff round hub that a couple tilts, N/mm²: the radial moment at its edge is M/(2π·b) in a plate that
 * goes on all round, so σ = 3M/(π·b·t²); an edge nearby makes it no larger when it is held.
 * Source: bending of plates under a central couple (Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, 63; Roark, trunnion-
 * loaded plate), both from memory; derived and checked in tests/published.
 */
export const hubStress = (coupleNmm: number, hubRadiusMm: number, tMm: number): number =>
  (3 * coupleNmm) / (Math.PI * hubRadiusMm * tMm ** 2);

/** π²/(12(1 − ν²)), for σ_cr = k_σ·0.904·E·(t/b)². */
const PLATE = Math.PI ** 2 / (12 * (1 - NU ** 2));

/** Slenderness λ̄_p of a plate with one edge free under even compression, k_σ 0.43: √(f_y/σ_cr). Source: EN 1993-1-5 4.4, table 4.2. */
export const outstandSlenderness = (widthMm: number, tMm: number, yieldMPa: number, modulusMPa: number): number =>
  (widthMm / tMm) * Math.sqrt(yieldMPa / (0.43 * PLATE * modulusMPa));

/** Share ρ of its yield that a plate with one edge free bears in compression. Source: EN 1993-1-5 (4.3). @example outstandShare(0.7) // 1 */
export const outstandShare = (slenderness: number): number =>
  slenderness <= 0.748 ? 1 : (slenderness - 0.188) / slenderness ** 2;
