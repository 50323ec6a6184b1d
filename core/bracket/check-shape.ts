import { DIN6935_LEAST_RATIO, LEAST_RATIO_WITH_MEANING } from './bend';
import { leastInsideRadiusMm, leastLegMm, vDieMm } from './bend-tables';
import { cornerTangentMm, selfCrossing } from './contour';
import { type BracketIssue, IssueList, mm } from './issue';
import type { BracketSpec } from './kinds';
import { baseTurnRad, bendTakesMm, bodyLayout, bodyOutline, taperRiseMm, topTurnRad } from './layout';
import { isBent } from './spec';

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
  const channel = spec.kind === 'channel';
  const legs: [string, string, number][] = [['uprightLegMm', 'upright', spec.uprightLegMm]];
  if (!channel) legs.unshift(['baseLegMm', 'base', spec.baseLegMm]);
  for (const [key, name, long] of legs)
    if (!(long > takes))
      list.fails(
        'leg-in-bend',
        [key],
        `The ${name} leg (${mm(long)}) ends inside the bend, which takes ${mm(takes)} of it.`,
        'Make it longer than thickness plus inside radius, or the radius smaller.',
      );
    else if (long < leastLegMm(spec.thicknessMm))
      list.watch(
        'leg-short',
        [key],
        `The ${name} leg (${mm(long)}) is too short for the usual die of eight thicknesses: 0.707 × ${mm(vDieMm(spec.thicknessMm))} = ${mm(leastLegMm(spec.thicknessMm))} (common practice).`,
        'Make it longer, ask for a narrower die, or bend it longer and cut it back.',
        `Short ${name} leg: needs a die narrower than ${mm(vDieMm(spec.thicknessMm))}, or bend longer and cut back.`,
      );
  if (!channel) return;
  if (!(spec.gapMm > 2 * spec.insideRadiusMm))
    list.fails(
      'gap-in-bend',
      ['gapMm'],
      `The two bends meet: a gap of ${mm(spec.gapMm)} is no more than twice the inside radius.`,
      `Make it over ${mm(2 * spec.insideRadiusMm)}, or the radius smaller.`,
    );
  else if (spec.uprightLegMm > spec.baseLegMm)
    list.watch(
      'channel-deep',
      ['uprightLegMm'],
      `The uprights (${mm(spec.uprightLegMm)}) are taller than the base is wide (${mm(spec.baseLegMm)}): at the second bend the first upright can meet the press.`,
      'Ask the shop whether it has a cranked punch or a bar of the gap’s width; a wider gap or lower uprights also help.',
      'Deep channel: second bend with a cranked punch or over a bar.',
    );
}

function checkCorners(spec: BracketSpec, list: IssueList): void {
  const bent = isBent(spec);
  const side = Math.hypot(taperRiseMm(spec), (spec.baseWidthMm - spec.topWidthMm) / 2);
  const topTurn = topTurnRad(spec);
  const topMost = Math.min(spec.topWidthMm / 2, side) / cornerTangentMm(1, topTurn);
  if (spec.kind !== 'channel') {
    const baseTurn = baseTurnRad(spec);
    const edge = bent ? spec.baseLegMm - bendTakesMm(spec) : side;
    const baseMost = Math.min(spec.baseWidthMm / 2, edge) / cornerTangentMm(1, baseTurn);
    if (spec.baseCornerRadiusMm > baseMost + 1e-9)
      list.fails(
        'base-corner',
        ['baseCornerRadiusMm'],
        `A corner radius of ${mm(spec.baseCornerRadiusMm)} does not fit on the base leg.`,
        `At most ${mm(Math.floor(baseMost * 100 + 1e-6) / 100)} here${bent ? ': half the width, and no further than the bend' : ''}.`,
      );
  }
  if (spec.topCornerRadiusMm > topMost + 1e-9)
    list.fails(
      'top-corner',
      ['topCornerRadiusMm'],
      `A corner radius of ${mm(spec.topCornerRadiusMm)} does not fit on the ${bent ? 'top of the upright' : 'stud’s end'}.`,
      `At most ${mm(Math.floor(topMost * 100) / 100)} here.`,
    );
  else if (!bent) {
    const taken =
      spec.baseCornerRadiusMm * cornerTangentMm(1, baseTurnRad(spec)) +
      spec.topCornerRadiusMm * cornerTangentMm(1, topTurn);
    if (taken > side + 1e-9)
      list.fails(
        'top-corner',
        ['topCornerRadiusMm'],
        `The two corner radii of one side need ${mm(taken)} of its ${mm(side)}.`,
        'Make one of them smaller.',
      );
  }
}

/** Bends, legs, corners: whether there is a blank at all. */
export function checkShape(spec: BracketSpec): BracketIssue[] {
  const list = new IssueList();
  if (isBent(spec)) {
    checkRadius(spec, list);
    checkLegs(spec, list);
  }
  if (list.issues.some((issue) => issue.severity === 'fails')) return list.issues;
  checkCorners(spec, list);
  if (list.issues.some((issue) => issue.severity === 'fails')) return list.issues;
  const crossing = selfCrossing(bodyOutline(spec, bodyLayout(spec)));
  if (crossing)
    list.fails(
      'blank-crosses',
      ['topWidthMm'],
      `The edge of the blank crosses itself near ${mm(crossing[0])}, ${mm(crossing[1])}.`,
      'Bring the two widths and the corner radii nearer to one another.',
    );
  return list.issues;
}
