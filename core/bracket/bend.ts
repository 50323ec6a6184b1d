import { type Rad, rad, tan, toRad } from '../space';

/**
 * Below this r/t the rule for k is outside the range the standard gives it for (about 0.65, from memory): a trial bend is needed.
 */
export const DIN6935_LEAST_RATIO = 0.65;

/**
 * Below this r/t we give no number at all: k falls under 0.35, so the neutral axis would lie within 17 % of the
 * thickness from the inside, nearer than any table puts it. The limit is ours, no source.
 */
export const LEAST_RATIO_WITH_MEANING = 0.25;

/**
 * Neutral-axis factor k: the neutral axis of the bend lies k·t/2 from the inside face.
 * Both lengths mm. Source: DIN 6935, k = 0.65 + 0.5·lg(r/t) up to r/t = 5, then 1.
 * Gives what the formula gives; whether that has a meaning is for `checkBracket` to say.
 * @example din6935Factor(3, 3) // 0.65
 */
export function din6935Factor(insideRadiusMm: number, thicknessMm: number): number {
  const ratio = insideRadiusMm / thicknessMm;
  return ratio > 5 ? 1 : 0.65 + 0.5 * Math.log10(ratio);
}

/**
 * Length of the neutral axis in a bend, mm: angle·(r + depth), depth being the neutral axis' distance from the inside
 * face. The angle is the one bent through, rad.
 * @example bendAllowanceMm(Math.PI, 20, 0) // 62.83185307179586
 */
export const bendAllowanceMm = (bentRad: Rad, insideRadiusMm: number, neutralDepthMm: number): number =>
  bentRad * (insideRadiusMm + neutralDepthMm);

/**
 * Distance along an outside leg from the bend's tangent line to the sharp outer corner, mm: (r + t)·tan(angle/2).
 * @example outsideSetbackMm(0, 3, 3) // 0
 * @internal for tests
 */
export const outsideSetbackMm = (bentRad: Rad, insideRadiusMm: number, thicknessMm: number): number =>
  (insideRadiusMm + thicknessMm) * tan(rad(bentRad / 2));

/**
 * v of DIN 6935, mm: the blank is the sum of the outside legs plus v (v is negative). `openingDeg` is the angle between
 * the legs, 0 < β ≤ 180: up to 90° the legs run to the outermost point of the bend, from there to 165° to the sharp
 * corner, above 165° v is taken as 0.
 * @example din6935CorrectionMm(170, 3, 3) // 0
 * @internal for tests
 */
export function din6935CorrectionMm(openingDeg: number, insideRadiusMm: number, thicknessMm: number): number {
  if (openingDeg > 165) return 0;
  const bentRad = toRad(180 - openingDeg);
  const depthMm = (din6935Factor(insideRadiusMm, thicknessMm) * thicknessMm) / 2;
  const outsideMm = insideRadiusMm + thicknessMm;
  const legsMm = openingDeg <= 90 ? 2 * outsideMm : 2 * outsideMm * tan(rad(bentRad / 2));
  return bendAllowanceMm(bentRad, insideRadiusMm, depthMm) - legsMm;
}
