import { fail } from '../error';
import type { Bracket } from '../job';
import type { BentAngle } from './spec';

/** A job's bracket as a plain bent angle. Throws a LidwrightError for other kinds and where the numbers are missing. */
export function bentAngleOf(bracket: Bracket): BentAngle {
  const { baseHole, studHole } = bracket;
  if (bracket.kind !== 'bent-angle' || !baseHole || studHole.heightMm === undefined)
    fail(
      `a ${bracket.kind} is no plain bent angle.`,
      ['kind'],
      'Choose the kind bent angle, with a pair of base holes.',
    );
  return {
    ...bracket,
    kind: 'bent-angle',
    name: bracket.name ?? bracket.id,
    insideRadiusMm: bracket.insideRadiusMm ?? 0,
    uprightLegMm: bracket.uprightLegMm ?? 0,
    topWidthMm: bracket.topWidthMm ?? bracket.baseWidthMm,
    topCornerRadiusMm: bracket.topCornerRadiusMm ?? 0,
    baseHole,
    studHole: { diameterMm: studHole.diameterMm, heightMm: studHole.heightMm },
  };
}
