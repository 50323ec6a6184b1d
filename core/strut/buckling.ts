import { rad, tan } from '../space';

/** Elastic modulus of steel, N/mm². Source: EN 1993-1-1 (from memory). */
export const STEEL_MPA = 210_000;

/** How a column's ends are held, and its effective-length factor K. Source: Euler's four cases, any strength text. */
export const END_CONDITIONS = {
  'pinned-pinned': 1,
  'fixed-pinned': 0.699_156,
  'fixed-fixed': 0.5,
  'fixed-free': 2,
} as const;
export type EndCondition = keyof typeof END_CONDITIONS;

/** Second moment of area of a solid round, mm⁴: π·d⁴/64. */
export const roundInertiaMm4 = (diameterMm: number): number => (Math.PI * diameterMm ** 4) / 64;

/** Second moment of area of a tube, mm⁴. */
export const tubeInertiaMm4 = (outsideMm: number, insideMm: number): number =>
  (Math.PI * (outsideMm ** 4 - insideMm ** 4)) / 64;

/**
 * Euler's critical load of a straight column, N: π²·E·I/(K·L)². Inertia in mm⁴, modulus in N/mm², length in mm. It holds
 * for slender columns; a short thick one yields first.
 */
export function eulerN(
  inertiaMm4: number,
  lengthMm: number,
  ends: EndCondition = 'pinned-pinned',
  elasticMPa: number = STEEL_MPA,
): number {
  const effective = END_CONDITIONS[ends] * lengthMm;
  return (Math.PI ** 2 * elasticMPa * inertiaMm4) / (effective * effective);
}

/**
 * Critical load, N, of a pinned–pinned column of two stiffnesses end to end (rod and tube): the least P with
 * k₁·cot(k₁·L₁) + k₂·cot(k₂·L₂) = 0, kᵢ = √(P/EIᵢ). Stiffnesses in N·mm², lengths in mm.
 * Source: the beam–column equation with continuous slope and deflection at the step.
 */
export function steppedColumnN(stiffness1: number, length1Mm: number, stiffness2: number, length2Mm: number): number {
  if (!(length1Mm > 0)) return (Math.PI ** 2 * stiffness2) / (length2Mm * length2Mm);
  if (!(length2Mm > 0)) return (Math.PI ** 2 * stiffness1) / (length1Mm * length1Mm);
  // falls strictly while kᵢ·Lᵢ < π, from above 0 to −∞: one root, and the first mode has no node before it
  const f = (load: number): number => {
    const k1 = Math.sqrt(load / stiffness1);
    const k2 = Math.sqrt(load / stiffness2);
    return k1 / tan(rad(k1 * length1Mm)) + k2 / tan(rad(k2 * length2Mm));
  };
  let low = 0;
  let high = Math.PI ** 2 * Math.min(stiffness1 / (length1Mm * length1Mm), stiffness2 / (length2Mm * length2Mm));
  for (let i = 0; i < 60 && high - low > 1e-12 * high; i++) {
    const middle = (low + high) / 2;
    if (f(middle) > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Least reserve against buckling that holds without a second look (common practice, no source). */
export const BUCKLING_FACTOR = 2;

/** What a strut can bear lengthwise, N: by the plain rule and as a stepped column. */
export interface StrutBuckling {
  /** Rod inertia over the whole extended length, pinned at both centres: under what it really bears. */
  readonly plainN: number;
  /** Fully extended: rod over the stroke, tube over the rest, guided without play; pinned at both centres. */
  readonly steppedN: number;
}

/** The plain rule alone; see StrutBuckling. */
export const plainBucklingN = (extendedMm: number, rodMm: number): number => eulerN(roundInertiaMm4(rodMm), extendedMm);

/** See StrutBuckling. `wallMm` is the tube's wall. */
export function strutBuckling(
  extendedMm: number,
  strokeMm: number,
  rodMm: number,
  tubeMm: number,
  wallMm: number,
): StrutBuckling {
  const rod = STEEL_MPA * roundInertiaMm4(rodMm);
  const tube = STEEL_MPA * Math.max(tubeInertiaMm4(tubeMm, Math.max(0, tubeMm - 2 * wallMm)), roundInertiaMm4(rodMm));
  return {
    plainN: plainBucklingN(extendedMm, rodMm),
    steppedN: steppedColumnN(rod, strokeMm, tube, extendedMm - strokeMm),
  };
}
