import type { Relation } from '../job';
import type { EquationBlock } from '../solve';
import { toRad } from '../space';
import {
  AXIS_INDEX,
  type Geometry,
  angleIs,
  asBlock,
  coordinatesAre,
  distanceIs,
  level,
  mirroredAcross,
  mirroredInHinge,
  onCircle,
  onLine,
  onPlane,
  plumb,
  riseIs,
  sameDistance,
  withLidAt,
} from './equations';
import { type Layout, pointAt } from './layout';

/** "Exactly" for a length is judged against a metre, for an angle against a radian. */
const HARD_MM = 1000;
const HARD_RAD = 1;

/** What a relation demands, as geometry. The job must have passed jobIssues. */
function geometriesOf(r: Relation, layout: Layout): Geometry[] {
  const ids = r.points ?? [];
  const [a, b, c, d] = ids as [string, string, string, string];
  const { hinge, travel, struts } = layout.job;
  const at = (id: string) => pointAt(layout.values, layout.indexOf(id));
  switch (r.kind) {
    case 'fixed':
      return [coordinatesAre(a, [0, 1, 2], r.at ?? at(a))];
    case 'distance':
      return [distanceIs(a, b, r.valueMm!, r.view)];
    case 'level-with':
      return [level(a, b, r.view)];
    case 'plumb-with':
      return [plumb(a, b, r.view)];
    case 'in-line':
      return ids.slice(2).map((id) => onLine(id, a, b, [at(a), at(b)], r.view));
    case 'on-line':
      return [onLine(a, b, c, [at(b), at(c)], r.view)];
    case 'on-plane':
      return [r.axis && ids.length === 1 ? coordinatesAre(a, [AXIS_INDEX[r.axis]], [r.valueMm!]) : onPlane(ids)];
    case 'on-circle':
      return [onCircle(a, hinge.a, hinge.b, r.valueMm!, r.alongMm)];
    case 'mirrored':
      return [
        r.axis ? mirroredAcross(a, b, AXIS_INDEX[r.axis], r.valueMm ?? 0) : mirroredInHinge(a, b, hinge.a, hinge.b),
      ];
    case 'equal-distance':
      return [sameDistance(ids, r.view)];
    case 'angle': {
      const angle = toRad(r.valueDeg!);
      if (ids.length === 2) return [riseIs(a, b, angle, r.view)];
      // three points: the angle at the middle one
      return [angleIs(ids.length === 3 ? [b, a, b, c] : [a, b, c, d], angle, r.view)];
    }
    case 'closed-length':
    case 'open-length': {
      const strut = struts.find((s) => s.id === r.strut)!;
      const length = distanceIs(strut.base, strut.lid, r.valueMm!);
      return [r.kind === 'closed-length' ? length : withLidAt(length, layout, travel.openDeg)];
    }
  }
}

/** A relation as hard equations that share its id as their name. */
export function relationBlocks(r: Relation, layout: Layout): EquationBlock[] {
  const sigma = r.kind === 'angle' ? HARD_RAD : HARD_MM;
  return geometriesOf(r, layout).map((g) => asBlock(g, layout, { name: r.id, kind: 'hard', sigma }));
}

const plain = (name: string): string => name.charAt(0).toLowerCase() + name.slice(1);

/** A relation in words: "strut, base end level with port hinge pin". */
export function relationName(r: Relation, layout: Pick<Layout, 'names' | 'indexOf' | 'job'>): string {
  if (r.name) return `"${r.name}"`;
  const names = (r.points ?? []).map((id) => plain(layout.names[layout.indexOf(id)]!));
  const [a, b, c, d] = names;
  const seen = r.view ? ` in the ${r.view} view` : '';
  const mm = `${Number((r.valueMm ?? 0).toFixed(3))} mm`;
  const deg = `${Number((r.valueDeg ?? 0).toFixed(3))}°`;
  const strut = layout.job.struts.find((s) => s.id === r.strut);
  switch (r.kind) {
    case 'fixed':
      return `${a} fixed`;
    case 'distance':
      return `${a} ${mm} from ${b}${seen}`;
    case 'level-with':
      return `${a} level with ${b}${seen}`;
    case 'plumb-with':
      return `${a} plumb with ${b}${seen}`;
    case 'in-line':
      return `${names.slice(0, -1).join(', ')} and ${names.at(-1)} in line${seen}`;
    case 'on-line':
      return `${a} on the line from ${b} to ${c}${seen}`;
    case 'on-plane':
      return names.length === 1 ? `${a} on the plane ${r.axis} = ${mm}` : `${a} on the plane of ${b}, ${c} and ${d}`;
    case 'on-circle':
      return `${a} on the circle of ${mm} about the hinge`;
    case 'mirrored':
      return `${b} mirrored from ${a}`;
    case 'equal-distance':
      return `${a} to ${b} as far as ${c} to ${d}${seen}`;
    case 'angle':
      if (names.length === 2) return `${a} to ${b} at ${deg} to level${seen}`;
      return names.length === 3
        ? `${deg} at ${b} between ${a} and ${c}${seen}`
        : `${deg} between ${a} to ${b} and ${c} to ${d}${seen}`;
    case 'closed-length':
    case 'open-length':
      return `${r.kind === 'closed-length' ? 'closed' : 'open'} length ${mm} of strut "${strut?.name ?? r.strut}"`;
  }
}
