import { fail } from '../error';
import type { Observation } from '../job';
import type { EquationBlock } from '../solve';
import { toRad } from '../space';
import {
  AXIS_INDEX,
  type Geometry,
  angleIs,
  asBlock,
  coordinateStep,
  coordinatesAre,
  distanceIs,
  flatRectangle,
  mirroredAcross,
  mirroredInHinge,
  onLine,
  onPlane,
  riseIs,
  squareCorner,
  withLidAt,
} from './equations';
import { sigmaOf } from './instruments';
import { type Layout, pointAt } from './layout';

/** What a reading says, as geometry with the lid closed. The job must have passed jobIssues. */
function geometryOf(o: Observation, layout: Layout): Geometry {
  const [a, b, c] = o.points as [string, string, string];
  const { hinge } = layout.job;
  switch (o.kind) {
    case 'tape':
    case 'known-length':
      return distanceIs(a, b, o.valueMm!);
    case 'coordinate':
      return coordinatesAre(a, [AXIS_INDEX[o.axis!]], [(o.datumMm ?? 0) + o.valueMm!]);
    case 'height-difference':
      return coordinateStep(a, b, 2, o.valueMm!);
    case 'on-line': {
      const start = [pointAt(layout.values, layout.indexOf(b)), pointAt(layout.values, layout.indexOf(c))] as const;
      return onLine(a, b, c, start);
    }
    case 'on-plane':
      return onPlane(o.points);
    case 'angle-level':
      return riseIs(a, b, toRad(o.valueDeg!));
    case 'angle-between':
      return angleIs(o.points, toRad(o.valueDeg!));
    case 'mirror-twin':
      return o.axis
        ? mirroredAcross(a, b, AXIS_INDEX[o.axis], o.datumMm ?? 0)
        : mirroredInHinge(a, b, hinge.a, hinge.b);
    case 'square-corner':
      return squareCorner(o.points);
    case 'rectangle':
      return flatRectangle(o.points);
    case 'photo-mark':
      return fail(`the mark "${o.id}" belongs to a camera`, ['observations'], 'Give it to markBlock.');
  }
}

/** A reading as a soft equation named by its id. */
export function readingBlock(o: Observation, layout: Layout): EquationBlock {
  const { value, unit } = sigmaOf(o);
  const sigma = unit === 'deg' ? toRad(value) : value;
  return asBlock(withLidAt(geometryOf(o, layout), layout, o.atDeg ?? 0), layout, { name: o.id, kind: 'soft', sigma });
}

const plain = (name: string): string => name.charAt(0).toLowerCase() + name.slice(1);

/** A reading in words: "the tape from port hinge to lower pivot". */
export function readingName(
  o: Observation,
  layout: Pick<Layout, 'names' | 'indexOf'> & { readonly job?: Pick<Layout['job'], 'photos'> },
): string {
  if (o.name) return `"${o.name}"`;
  const [a, b, c, d] = o.points.map((id) => plain(layout.names[layout.indexOf(id)]!));
  const opened = o.atDeg ? `, lid at ${o.atDeg}°,` : '';
  switch (o.kind) {
    case 'tape':
      return `the tape from ${a} to ${b}${opened}`;
    case 'known-length':
      return `the known length from ${a} to ${b}${opened}`;
    case 'coordinate':
      return `the ${o.axis} of ${a}${opened}`;
    case 'height-difference':
      return `the height of ${b} over ${a}${opened}`;
    case 'on-line':
      return `${a} on the line from ${b} to ${c}${opened}`;
    case 'on-plane':
      return `${a} on the plane of ${b}, ${c} and ${d}${opened}`;
    case 'angle-level':
      return `the angle to level of ${a} to ${b}${opened}`;
    case 'angle-between':
      return `the angle between ${a} to ${b} and ${c} to ${d}${opened}`;
    case 'mirror-twin':
      return `${b} as the mirror twin of ${a}${opened}`;
    case 'square-corner':
      return `the square corner at ${a}${opened}`;
    case 'rectangle':
      return `the flat rectangle of ${a}, ${b}, ${c} and ${d}${opened}`;
    case 'photo-mark': {
      const photo = layout.job?.photos.find((p) => p.id === o.photo);
      return `the mark of ${a} on photo ${photo?.name ?? o.photo}`;
    }
  }
}

/** The first letter of a sentence made large. */
export const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
