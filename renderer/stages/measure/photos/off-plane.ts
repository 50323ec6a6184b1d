import type { Photo, Point } from '../../../../core/job';
import { worstOffPlane } from '../../../../core/photo';
import { type ShownUnits, formatQuantity } from '../../../../core/quantity';

/** Shown no farther from its true place than this, a point lies in the plane for all that matters, mm. */
const IN_PLANE_MM = 0.5;

/** The point that a flat photo shows farthest from its true place, in words; null where none is, or nobody can tell. */
export function offPlaneWords(photo: Photo, points: readonly Point[], units: ShownUnits): string | null {
  const worst = worstOffPlane(photo, points);
  if (!worst || worst.shownMm < IN_PLANE_MM) return null;
  const length = (mm: number): string => formatQuantity(Math.abs(mm), 'length', units);
  return `${worst.point.name ?? worst.point.id} lies ${length(worst.offMm)} ${worst.offMm > 0 ? 'before' : 'behind'} the plane and is shown ${length(worst.shownMm)} from its true place, the most of all points.`;
}
