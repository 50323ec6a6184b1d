import type { Bracket } from '../job';

/** A hole of a pattern laid out: from the centre line and from the free end of the fixed leg. Lengths mm, degrees. */
export interface LaidHole {
  readonly id: string;
  readonly acrossMm: number;
  readonly fromEndMm: number;
  readonly diameterMm: number;
  readonly slotMm: number;
  readonly slotDeg: number;
}

/** Most fixings that are reckoned with. */
export const MOST_FIXINGS = 6;

/** What the pattern leaves open: two holes in one row; rows as far apart as holes in a row. */
export const PATTERN_ACROSS = 2;

/**
 * The holes of a bracket's pattern, row by row from the free end, each row from −y to +y; ids `fix1`, `fix2`, …
 * The spacing is that between neighbours.
 */
export function patternHoles(pattern: NonNullable<Bracket['baseHole']>): LaidHole[] {
  const across = pattern.across ?? PATTERN_ACROSS;
  const rows = pattern.rows ?? 1;
  const pitch = pattern.rowSpacingMm ?? pattern.spacingMm;
  const holes: LaidHole[] = [];
  for (let row = 0; row < rows; row++)
    for (let i = 0; i < across; i++)
      holes.push({
        id: `fix${holes.length + 1}`,
        acrossMm: (i - (across - 1) / 2) * pattern.spacingMm,
        fromEndMm: pattern.fromEndMm + row * pitch,
        diameterMm: pattern.diameterMm,
        slotMm: pattern.slotMm ?? 0,
        slotDeg: pattern.slotDeg ?? 0,
      });
  return holes;
}

/** All fixing holes of a bracket: the free ones where given, else its pattern's; none where it is only welded. */
export const fixingHoles = (bracket: Bracket): LaidHole[] =>
  bracket.fixings
    ? bracket.fixings.map((f) => ({ ...f, slotMm: f.slotMm ?? 0, slotDeg: f.slotDeg ?? 0 }))
    : bracket.baseHole
      ? patternHoles(bracket.baseHole)
      : [];
