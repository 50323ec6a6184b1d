/** Thicknesses up to which each column of the table holds, mm. */
const UP_TO_MM = [1.5, 2.5, 3, 4, 5, 6, 7, 8] as const;

/**
 * Least inside radius for cold flanging of EN 10025-2 plate, mm, by thickness as above: bend line across the rolling direction, and along it.
 * Source: table of the standard, from memory.
 */
const EN10025_LEAST_RADIUS: Readonly<Record<string, { across: readonly number[]; along: readonly number[] }>> = {
  S235: { across: [1.6, 2.5, 3, 5, 6, 8, 10, 12], along: [1.6, 2.5, 3, 6, 8, 10, 12, 16] },
  S275: { across: [2, 3, 4, 5, 8, 10, 12, 16], along: [2, 3, 4, 6, 10, 12, 16, 20] },
  S355: { across: [2.5, 4, 5, 6, 8, 10, 12, 16], along: [2.5, 4, 5, 8, 10, 12, 16, 20] },
};

/** Least inside radius of a steel by its name and thickness, mm; undefined for materials and thicknesses the table does not have. */
export function leastInsideRadiusMm(
  materialName: string,
  thicknessMm: number,
): { readonly grade: string; readonly acrossMm: number; readonly alongMm: number } | undefined {
  const grade = /\bS(235|275|355)/i.exec(materialName)?.[0].toUpperCase();
  const row = grade === undefined ? undefined : EN10025_LEAST_RADIUS[grade];
  const column = UP_TO_MM.findIndex((most) => thicknessMm <= most);
  if (!row || !grade || column < 0) return undefined;
  return { grade, acrossMm: row.across[column]!, alongMm: row.along[column]! };
}

/** Opening of the V-die for a thickness, mm: eight thicknesses, common practice, no source. */
export const vDieMm = (thicknessMm: number): number => 8 * thicknessMm;

/**
 * Least outside length of a leg bent 90° in a V-die, mm: bent square, the leg lies at 45° and still has to reach the die's edge, half an opening
 * away: (V/2)/cos 45° = 0.707·V, with V as above. Geometry on common practice, no source.
 */
export const leastLegMm = (thicknessMm: number): number => vDieMm(thicknessMm) * Math.SQRT1_2;
