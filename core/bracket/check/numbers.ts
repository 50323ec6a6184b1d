import { KINDS } from '../kinds';
import { MOST_FIXINGS } from '../pattern';
import type { BracketSpec } from '../types';
import { fixingWhere, type IssueList, LONGEST_MM, type Where } from './issue';

type Sized = readonly [where: Where, name: string, value: number];

const BENT_SIZES = [
  [['insideRadiusMm'], 'inside bend radius'],
  [['uprightLegMm'], 'upright leg'],
  [['studHole', 'heightMm'], 'stud hole height'],
] as const;
const FLAT_SIZES = [[['studHole', 'fromEndMm'], 'stud hole distance from the end']] as const;
const WIDTHS = [
  [['baseWidthMm'], 'base width'],
  [['topWidthMm'], 'top width'],
  [['studHole', 'diameterMm'], 'stud hole diameter'],
] as const;

/** Lengths over 0 that the bracket must have; a part that is missing as a whole is said by its kind. */
function lengths(spec: BracketSpec): Sized[] {
  const { legs, sizes } = KINDS[spec.kind];
  const own = [
    [['thicknessMm'], 'thickness'],
    ...(legs.length > 1 ? BENT_SIZES : FLAT_SIZES),
    ...sizes,
    ...WIDTHS,
  ] as const;
  const valueAt = (path: readonly string[]): unknown =>
    path.reduce<unknown>((node, key) => (node as Record<string, unknown> | null)?.[key], spec);
  return [
    ...own.flatMap(([path, name]): Sized[] => {
      const value = valueAt(path) as number | undefined;
      return value === undefined ? [] : [[path, name, value]];
    }),
    ...spec.fixings.flatMap((f, i): Sized[] => [
      [fixingWhere(spec, i, 'diameterMm'), 'fixing hole diameter', f.diameterMm],
      [fixingWhere(spec, i, 'fromEndMm'), 'fixing hole distance from the end', f.fromEndMm],
    ]),
  ];
}

/** Numbers that are no sizes at all: nothing else can be checked before they are right. */
export function checkNumbers(spec: BracketSpec, list: IssueList): void {
  const { fixings } = spec;
  for (const [where, name, value] of lengths(spec))
    if (!Number.isFinite(value) || value <= 0 || value > LONGEST_MM)
      list.fails('number', where, `The ${name} is ${value} mm.`, `Give a length over 0, up to ${LONGEST_MM} mm.`);
  const atLeast0: Sized[] = [
    [['baseCornerRadiusMm'], 'corner radius', spec.baseCornerRadiusMm],
    [['topCornerRadiusMm'], 'corner radius', spec.topCornerRadiusMm],
    [['ballOffsetMm'], 'ball’s offset', spec.ballOffsetMm],
    ...fixings.map((f, i): Sized => [fixingWhere(spec, i, 'slotMm'), 'slot', f.slotMm]),
  ];
  for (const [where, name, value] of atLeast0)
    if (!Number.isFinite(value) || value < 0 || value > LONGEST_MM)
      list.fails('number', where, `The ${name} is ${value} mm.`, 'Give 0 or a length.');
  fixings.forEach((f, i) => {
    if (!Number.isFinite(f.slotDeg))
      list.fails(
        'number',
        fixingWhere(spec, i, 'slotDeg'),
        `The direction is ${f.slotDeg}°.`,
        'Give an angle in degrees.',
      );
  });
  list.across(['studHole', 'acrossMm'], spec.studHole.acrossMm);
  fixings.forEach((f, i) => list.across(fixingWhere(spec, i, 'acrossMm'), f.acrossMm));
  const density = spec.material.densityKgM3;
  if (!Number.isFinite(density) || density <= 0 || density > 30000)
    list.fails(
      'number',
      ['material', 'densityKgM3'],
      `The density is ${density} kg/m³.`,
      'Steel is about 7850, aluminium about 2700.',
    );
  KINDS[spec.kind].checkNumbers?.(spec, list);
  if (fixings.length > MOST_FIXINGS)
    list.fails(
      'fixings-many',
      spec.patterned ? ['baseHole', 'rows'] : ['fixings'],
      `There are ${fixings.length} fixings; up to ${MOST_FIXINGS} are reckoned with here.`,
      'Take fewer rows or fewer holes in a row.',
    );
  if (fixings.length === 0 && spec.attachedBy !== 'weld')
    list.fails(
      'fixings-none',
      ['baseHole'],
      'The bracket is bolted, but has no holes for its bolts.',
      'Give holes, or weld it.',
    );
}
