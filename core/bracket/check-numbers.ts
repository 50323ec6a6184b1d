import { type BracketIssue, IssueList, type Where } from './issue';
import type { BracketSpec } from './kinds';
import { isBent } from './spec';

/** Lengths over this are taken for a slip of the keyboard, mm. */
const LONGEST_MM = 5000;
const MOST_FIXINGS = 6;
const STEEPEST_DEG = 45;

/** Where a fixing's number stands in the job: in the pattern, or at its own hole. */
export const fixingWhere = (spec: BracketSpec, i: number, key: 'diameterMm' | 'fromEndMm' | 'acrossMm'): Where =>
  spec.patterned ? ['baseHole', key === 'acrossMm' ? 'spacingMm' : key] : ['fixings', i, key];

function lengths(spec: BracketSpec): [Where, string, number][] {
  const { gusset, studHole } = spec;
  const list: [Where, string, number][] = [[['thicknessMm'], 'thickness', spec.thicknessMm]];
  if (isBent(spec)) {
    list.push([['insideRadiusMm'], 'inside bend radius', spec.insideRadiusMm]);
    list.push([['uprightLegMm'], 'upright leg', spec.uprightLegMm]);
    list.push([['studHole', 'heightMm'], 'stud hole height', studHole.heightMm]);
  } else list.push([['studHole', 'fromEndMm'], 'stud hole distance from the end', studHole.fromEndMm]);
  if (spec.kind === 'channel') list.push([['gapMm'], 'gap', spec.gapMm]);
  else list.push([['baseLegMm'], 'base leg', spec.baseLegMm]);
  list.push([['baseWidthMm'], 'base width', spec.baseWidthMm]);
  list.push([['topWidthMm'], 'top width', spec.topWidthMm]);
  list.push([['studHole', 'diameterMm'], 'stud hole diameter', studHole.diameterMm]);
  spec.fixings.forEach((f, i) => {
    list.push([fixingWhere(spec, i, 'diameterMm'), 'fixing hole diameter', f.diameterMm]);
    list.push([fixingWhere(spec, i, 'fromEndMm'), 'fixing hole distance from the end', f.fromEndMm]);
  });
  if (gusset) {
    list.push([['gusset', 'thicknessMm'], 'gusset thickness', gusset.thicknessMm]);
    list.push([['gusset', 'alongMm'], 'gusset leg along the base', gusset.alongMm]);
    list.push([['gusset', 'upMm'], 'gusset leg up the upright', gusset.upMm]);
  }
  return list;
}

/** Numbers that are no sizes at all: nothing else can be checked before they are right. */
export function checkNumbers(spec: BracketSpec): BracketIssue[] {
  const list = new IssueList();
  for (const [where, name, value] of lengths(spec))
    if (!Number.isFinite(value) || value <= 0 || value > LONGEST_MM)
      list.fails('number', where, `The ${name} is ${value} mm.`, `Give a length over 0, up to ${LONGEST_MM} mm.`);
  const atLeast0: [Where, string, number][] = [
    [['baseCornerRadiusMm'], 'corner radius', spec.baseCornerRadiusMm],
    [['topCornerRadiusMm'], 'corner radius', spec.topCornerRadiusMm],
    [['ballOffsetMm'], 'ball’s offset', spec.ballOffsetMm],
    ...spec.fixings.map((f, i): [Where, string, number] => [
      spec.patterned ? ['baseHole', 'slotMm'] : ['fixings', i, 'slotMm'],
      'slot',
      f.slotMm,
    ]),
  ];
  for (const [where, name, value] of atLeast0)
    if (!Number.isFinite(value) || value < 0 || value > LONGEST_MM)
      list.fails('number', where, `The ${name} is ${value} mm.`, 'Give 0 or a length.');
  const angles: [Where, number][] = [
    ...spec.fixings.map((f, i): [Where, number] => [
      spec.patterned ? ['baseHole', 'slotDeg'] : ['fixings', i, 'slotDeg'],
      f.slotDeg,
    ]),
    [['wedge', 'directionDeg'], spec.wedge?.directionDeg ?? 0],
  ];
  for (const [where, value] of angles)
    if (!Number.isFinite(value))
      list.fails('number', where, `The direction is ${value}°.`, 'Give an angle in degrees.');
  const sideways: [Where, number][] = [
    [['studHole', 'acrossMm'], spec.studHole.acrossMm],
    [['gusset', 'acrossMm'], spec.gusset?.acrossMm ?? 0],
    ...spec.fixings.map((f, i): [Where, number] => [fixingWhere(spec, i, 'acrossMm'), f.acrossMm]),
  ];
  for (const [where, value] of sideways)
    if (!Number.isFinite(value) || Math.abs(value) > LONGEST_MM)
      list.fails('number', where, `The distance from the centre line is ${value} mm.`, 'Give a length in mm.');
  const density = spec.material.densityKgM3;
  if (!Number.isFinite(density) || density <= 0 || density > 30000)
    list.fails(
      'number',
      ['material', 'densityKgM3'],
      `The density is ${density} kg/m³.`,
      'Steel is about 7850, aluminium about 2700.',
    );
  const tilt = spec.wedge?.tiltDeg;
  if (tilt !== undefined && (!Number.isFinite(tilt) || tilt < 0 || tilt > STEEPEST_DEG))
    list.fails(
      'wedge-steep',
      ['wedge', 'tiltDeg'],
      `The wedge leans ${tilt}°.`,
      `Up to ${STEEPEST_DEG}°: past that the stud pulls along the mount; bend an angle instead.`,
    );
  if (spec.kind === 'gusset-angle' && !spec.gusset)
    list.fails('number', ['gusset'], 'The gusset has no sizes.', 'Give its thickness and its two legs.');
  if (spec.kind === 'wedge-plate' && !spec.wedge)
    list.fails('number', ['wedge'], 'The wedge has no angle.', 'Give how far its top leans.');
  if (spec.fixings.length > MOST_FIXINGS)
    list.fails(
      'fixings-many',
      spec.patterned ? ['baseHole', 'rows'] : ['fixings'],
      `There are ${spec.fixings.length} fixings; up to ${MOST_FIXINGS} are reckoned with here.`,
      'Take fewer rows or fewer holes in a row.',
    );
  if (spec.fixings.length === 0 && spec.attachedBy !== 'weld')
    list.fails(
      'fixings-none',
      ['baseHole'],
      'The bracket is bolted, but has no holes for its bolts.',
      'Give holes, or weld it.',
    );
  return list.issues;
}
