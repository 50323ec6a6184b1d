import { mm } from '../check/issue';
import { fixingHoles } from '../pattern';
import { becomeBent, halfUp, plainOr, socketMm, washerMm } from './become';
import type { Before, Change, Kind } from './kind';

/** The joint stands in the middle of the gap; the base follows from it. */
export const channel: Kind = {
  name: 'Channel',
  use: 'Two uprights hold a pin at both its ends.',
  legs: ['upright', 'base', 'upright'],
  holds: 'pin',
  bothSides: false,
  sizes: [[['gapMm'], 'gap']],
  edges: ['gap', 'upright-top', 'side', 'stud-side'],
  settle: ({ gapMm = 0, thicknessMm }) => ({
    ...{ gapMm, baseLegMm: gapMm + 2 * thicknessMm },
    ...{ ballOffsetMm: gapMm / 2, ballSide: 'inside' },
  }),
  checkShape({ gapMm, insideRadiusMm, uprightLegMm, baseLegMm }, list) {
    if (!(gapMm > 2 * insideRadiusMm))
      list.fails(
        'gap-in-bend',
        ['gapMm'],
        `The two bends meet: a gap of ${mm(gapMm)} is no more than twice the inside radius.`,
        `Make it over ${mm(2 * insideRadiusMm)}, or the radius smaller.`,
      );
    else if (uprightLegMm > baseLegMm)
      list.watch(
        'channel-deep',
        ['uprightLegMm'],
        `The uprights (${mm(uprightLegMm)}) are taller than the base is wide (${mm(baseLegMm)}): at the second bend the first upright can meet the press.`,
        'Ask the shop whether it has a cranked punch or a bar of the gap’s width; a wider gap or lower uprights also help.',
        'Deep channel: second bend with a cranked punch or over a bar.',
      );
  },
  checkRoom({ gapMm, studThread }, { stud, ball }, list) {
    if (stud && ball && gapMm < 2 * ball.radiusMm)
      list.watch(
        'joint-gap',
        ['gapMm'],
        `A joint for ${studThread} is about ${mm(stud.jointHeadDiameterMm)} across: the gap is ${mm(gapMm)}.`,
        'Measure your joint and set the gap to its width with washers and a little play.',
      );
  },
  become(before) {
    const bent = becomeBent(before);
    return { ...bent, ...between(before, bent) };
  },
  sample: {
    id: 'b6',
    name: 'Rod-end channel',
    kind: 'channel',
    thicknessMm: 4,
    insideRadiusMm: 4.5,
    baseLegMm: 38,
    gapMm: 30,
    uprightLegMm: 54,
    baseWidthMm: 104,
    topWidthMm: 36,
    baseCornerRadiusMm: 0,
    topCornerRadiusMm: 13,
    baseHole: { diameterMm: 9, spacingMm: 74, fromEndMm: 19 },
    studHole: { diameterMm: 10.2, heightMm: 38 },
    ballOffsetMm: 15,
    material: { name: 'Stainless steel 1.4301', densityKgM3: 7900 },
  },
};

/** A gap for the joint; holes of a longer leg come in between the uprights. */
function between({ raw, plain }: Before, bent: Change): Change {
  const t = plain.thicknessMm;
  const r = plainOr(bent.insideRadiusMm, plain.insideRadiusMm ?? t);
  const widest = Math.max(0, ...fixingHoles(plain).map((f) => f.diameterMm));
  const gap = plain.gapMm ?? halfUp(Math.max(2 * socketMm(plain.studHole.diameterMm), 2 * (r + washerMm(widest))));
  const middle = gap / 2 + t;
  const change: Change = raw.gapMm === undefined ? { gapMm: gap } : {};
  if (raw.fixings)
    change.fixings = raw.fixings.map((f, i) => {
      const { fromEndMm, diameterMm } = plain.fixings![i]!;
      const out = Math.abs(fromEndMm - middle) > gap / 2 - r - diameterMm / 2;
      return out && typeof f.fromEndMm === 'number' ? { ...f, fromEndMm: middle } : f;
    });
  else if (raw.baseHole) {
    const { rows: _rows, rowSpacingMm: _pitch, ...row } = raw.baseHole;
    change.baseHole = typeof row.fromEndMm === 'number' ? { ...row, fromEndMm: middle } : row;
  }
  return change;
}
