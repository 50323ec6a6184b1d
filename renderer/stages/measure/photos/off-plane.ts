import type { Photo, Point } from '../../../../core/job';
import { type PhotoPlace, type PlaneCamera, parallaxOfTrueMm } from '../../../../core/photo';
import { type ShownUnits, formatQuantity } from '../../../../core/quantity';
import { PROJECTIONS } from '../../../state/planes';
import { TOWARDS } from '../../../photo/tool';

/**
 * The job's point that a flat photo shows furthest from its true place, in words, where the plane's depth is known; null
 * where it isn't, or where every point lies in the plane.
 */
export function worstOffPlane(
  photo: Photo,
  place: PhotoPlace,
  camera: PlaneCamera,
  points: readonly Point[],
  units: ShownUnits,
): string | null {
  const planeMm = photo.rectify?.depthMm;
  if (planeMm === undefined) return null;
  const { depth, right, up, rightSign } = PROJECTIONS[photo.view];
  let worst = { offMm: 0, shownMm: 0, name: '' };
  for (const p of points) {
    const offMm = TOWARDS[photo.view] * (p.at[depth] - planeMm);
    if (offMm >= camera.distanceMm) continue;
    const at = [rightSign * p.at[right], p.at[up]] as const;
    const shownMm = Math.hypot(...parallaxOfTrueMm(camera, at, offMm));
    if (place.toPx(at) && shownMm > worst.shownMm) worst = { offMm, shownMm, name: p.name ?? p.id };
  }
  if (worst.shownMm < 0.5) return null;
  const length = (mm: number): string => formatQuantity(Math.abs(mm), 'length', units);
  return `${worst.name} lies ${length(worst.offMm)} ${worst.offMm > 0 ? 'before' : 'behind'} the plane and is shown ${length(worst.shownMm)} from its true place, the most of all points.`;
}
