import { STROKE_SLACK_MM } from './gas';

/** Where the parts of a strut lie along its centre line, mm from the end that the tube is on. */
export interface StrutSplit {
  /** The shank between ball and tube. */
  readonly tubeFromMm: number;
  readonly tubeToMm: number;
  /** Rod from the tube's mouth to the end fitting. */
  readonly rodToMm: number;
  /** Bare rod that shows: length less compressed length, never under 0. */
  readonly exposedMm: number;
  /** True where the strut can be: between its compressed and its extended length. */
  readonly fits: boolean;
}

/** Shank of an end fitting, from ball centre to tube or rod, mm: a likeness, no part list. */
export const shankMm = (tubeMm: number, compressedMm: number): number =>
  Math.min(Math.max(1.4 * tubeMm, 24), 0.2 * Math.max(compressedMm, 0));

/**
 * Splits a strut of the given length between ball centres into tube and rod.
 */
export function splitStrut(
  lengthMm: number,
  spec: { readonly extendedMm: number; readonly strokeMm: number; readonly tubeMm: number },
): StrutSplit {
  const compressedMm = spec.extendedMm - spec.strokeMm;
  const shank = shankMm(spec.tubeMm, compressedMm);
  const exposedMm = Math.min(Math.max(lengthMm - compressedMm, 0), Math.max(spec.strokeMm, 0));
  const tubeToMm = Math.max(compressedMm - shank, shank);
  return {
    tubeFromMm: shank,
    tubeToMm,
    rodToMm: tubeToMm + exposedMm,
    exposedMm,
    fits: lengthMm >= compressedMm - STROKE_SLACK_MM && lengthMm <= spec.extendedMm + STROKE_SLACK_MM,
  };
}
