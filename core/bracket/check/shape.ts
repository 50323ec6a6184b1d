import { rad } from '../../space';
import { baseIndex, bendTakesMm, bodyLayout, bodyOutline, isBent, legsOf, turnsRad } from '../body';
import { DIN6935_LEAST_RATIO, LEAST_RATIO_WITH_MEANING } from '../bend';
import { leastInsideRadiusMm, leastLegMm, vDieMm } from '../bend-tables';
import { cornerTangentMm, selfCrossing } from '../contour';
import { KINDS } from '../kinds';
import type { BracketSpec } from '../types';
import { type IssueList, mm } from './issue';

function checkRadius(spec: BracketSpec, list: IssueList): void {
  const { thicknessMm: t, insideRadiusMm: r } = spec;
  const where = ['insideRadiusMm'];
  const ratio = r / t;
  const shown = `r/t = ${Number(ratio.toFixed(2))}`;
  if (ratio < LEAST_RATIO_WITH_MEANING) {
    list.fails(
      'bend-ratio',
      where,
      `The bend is so tight (${shown}) that the DIN 6935 allowance has no meaning: there is no blank length to give.`,
      `Make the inside radius at least ${mm(LEAST_RATIO_WITH_MEANING * t)}, better ${mm(t)} or more.`,
    );
    return;
  }
  if (ratio < DIN6935_LEAST_RATIO)
    list.watch(
      'bend-ratio',
      where,
      `${shown} is tighter than DIN 6935 gives its allowance for (about ${DIN6935_LEAST_RATIO} and up).`,
      'Bend a trial piece and correct the blank, or use a larger inside radius.',
      `Tight bend (${shown}): bend a trial piece first and correct the blank length.`,
    );
  const least = leastInsideRadiusMm(spec.material.name, t);
  if (least && r < least.acrossMm - 1e-9)
    list.watch(
      'bend-crack',
      where,
      `${least.grade} of ${mm(t)} wants an inside radius of ${mm(least.acrossMm)} (EN 10025-2, not checked against its text); this has ${mm(r)}: the outside of the bend may crack.`,
      `Use ${mm(least.acrossMm)} or more, or bend a trial piece and look at the outside of the bend.`,
    );
  else if (least && r < least.alongMm - 1e-9)
    list.watch(
      'bend-rolling',
      where,
      `${least.grade} of ${mm(t)} bends to ${mm(r)} only across its rolling direction; along it ${mm(least.alongMm)} is needed (EN 10025-2, not checked against its text).`,
      'Lay the blank so that the bend line runs across the rolling direction, or use the larger radius.',
      'Lay the bend line across the rolling direction.',
    );
  else if (!least && ratio < 1)
    list.watch(
      'bend-crack',
      where,
      // Common practice for cold bending; tables per grade and rolling direction exist.
      `The inside radius (${mm(r)}) is under the thickness (${mm(t)}): the outside of the bend may crack.`,
      `Use ${mm(t)} or more, or bend across the rolling direction and look at the outside of the bend.`,
    );
}

function checkLegs(spec: BracketSpec, list: IssueList): void {
  const takes = bendTakesMm(spec);
  const { thicknessMm, baseLegMm, uprightLegMm } = spec;
  // a base between two uprights has no free end to be too short
  const base = baseIndex(spec) === 0 ? ([['baseLegMm', 'base', baseLegMm]] as const) : [];
  for (const [key, name, long] of [...base, ['uprightLegMm', 'upright', uprightLegMm] as const])
    if (!(long > takes))
      list.fails(
        'leg-in-bend',
        [key],
        `The ${name} leg (${mm(long)}) ends inside the bend, which takes ${mm(takes)} of it.`,
        'Make it longer than thickness plus inside radius, or the radius smaller.',
      );
    else if (long < leastLegMm(thicknessMm))
      list.watch(
        'leg-short',
        [key],
        `The ${name} leg (${mm(long)}) is too short for the usual die of eight thicknesses: 0.707 × ${mm(vDieMm(thicknessMm))} = ${mm(leastLegMm(thicknessMm))} (common practice).`,
        'Make it longer, ask for a narrower die, or bend it longer and cut it back.',
        `Short ${name} leg: needs a die narrower than ${mm(vDieMm(thicknessMm))}, or bend longer and cut back.`,
      );
}

function checkCorners(spec: BracketSpec, list: IssueList): void {
  const bent = isBent(spec);
  const legs = legsOf(spec);
  const [base, stud] = [legs[baseIndex(spec)]!, legs.at(-1)!];
  const { baseCornerRadiusMm, topCornerRadiusMm } = spec;
  const side = Math.hypot(stud.flatMm, stud.lower.halfMm - stud.upper.halfMm);
  // how much of an edge a rounding of 1 mm takes
  const [baseTakes, topTakes] = [
    cornerTangentMm(1, rad(turnsRad(base).lower)),
    cornerTangentMm(1, rad(turnsRad(stud).upper)),
  ];
  if (baseIndex(spec) === 0) {
    const most = Math.min(base.lower.halfMm, bent ? base.flatMm : side) / baseTakes;
    if (baseCornerRadiusMm > most + 1e-9)
      list.fails(
        'base-corner',
        ['baseCornerRadiusMm'],
        `A corner radius of ${mm(baseCornerRadiusMm)} does not fit on the base leg.`,
        `At most ${mm(Math.floor(most * 100 + 1e-6) / 100)} here${bent ? ': half the width, and no further than the bend' : ''}.`,
      );
  }
  const most = Math.min(stud.upper.halfMm, side) / topTakes;
  const taken = baseCornerRadiusMm * baseTakes + topCornerRadiusMm * topTakes;
  if (topCornerRadiusMm > most + 1e-9)
    list.fails(
      'top-corner',
      ['topCornerRadiusMm'],
      `A corner radius of ${mm(topCornerRadiusMm)} does not fit on the ${bent ? 'top of the upright' : 'stud’s end'}.`,
      `At most ${mm(Math.floor(most * 100) / 100)} here.`,
    );
  else if (!bent && taken > side + 1e-9)
    list.fails(
      'top-corner',
      ['topCornerRadiusMm'],
      `The two corner radii of one side need ${mm(taken)} of its ${mm(side)}.`,
      'Make one of them smaller.',
    );
}

/** Bends, legs, corners: whether there is a blank at all. */
export function checkShape(spec: BracketSpec, list: IssueList): void {
  if (isBent(spec)) {
    checkRadius(spec, list);
    checkLegs(spec, list);
  }
  KINDS[spec.kind].checkShape?.(spec, list);
  if (!list.failed) checkCorners(spec, list);
  if (list.failed) return;
  const crossing = selfCrossing(bodyOutline(spec, bodyLayout(spec)));
  if (crossing)
    list.fails(
      'blank-crosses',
      ['topWidthMm'],
      `The edge of the blank crosses itself near ${mm(crossing[0])}, ${mm(crossing[1])}.`,
      'Bring the two widths and the corner radii nearer to one another.',
    );
}
