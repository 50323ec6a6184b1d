/** What a photo on a view tells of places in the base frame, lid as the photo shows it. */
import { type Job, type Photo, type Point, setPhoto } from '../job';
import type { Vec3 } from '../space';
import { type PhotoPlace, photoPlace } from './photo-place';
import { type PlaneCamera, cameraOverPlane, lengthOnPlane, parallaxMm, parallaxOfTrueMm } from './rectify';
import { shiftMarks } from './set-square';
import type { Pixel, ViewMm } from './underlay';
import { VIEW_AXES } from './view-axes';

/** How a photo lies on its own view. */
export const placeOnView = (photo: Photo): PhotoPlace => photoPlace(photo, VIEW_AXES[photo.view].rightSign);

/** Where the camera of a flat photo stood over its plane; null as far as that is not known. */
export const cameraOfPhoto = (photo: Photo, place = placeOnView(photo)): PlaneCamera | null =>
  place.plane &&
  cameraOverPlane(place.plane, {
    widthPx: photo.widthPx,
    heightPx: photo.heightPx,
    ...(photo.focal ? { focalPx: photo.focal.px } : {}),
  });

/**
 * Where a pixel lies along the view's axes, mm, for a thing `offMm` off a flat photo's plane towards the camera. Null where
 * the camera's distance would have to be known and is not.
 */
export function viewPlaceOf(photo: Photo, px: Pixel, offMm = 0): ViewMm | null {
  const place = placeOnView(photo);
  let [x, y] = place.toMm(px);
  if (offMm !== 0 && place.plane) {
    const camera = cameraOfPhoto(photo, place);
    if (!camera) return null;
    const [dx, dy] = parallaxMm(camera, [x, y], offMm);
    [x, y] = [x - dx, y - dy];
  }
  return [VIEW_AXES[photo.view].rightSign * x, y];
}

/** A place as a photo shows it: what the view can't tell stays, but where the photo's plane lies at a known depth. Null as above. */
export function seenPlace(photo: Photo, was: Vec3, px: Pixel, offMm: number): Vec3 | null {
  const at = viewPlaceOf(photo, px, offMm);
  if (!at) return null;
  const { right, up, depth, towards } = VIEW_AXES[photo.view];
  const next: [number, number, number] = [...was];
  next[right] = at[0];
  next[up] = at[1];
  const planeMm = placeOnView(photo).plane ? photo.rectify?.depthMm : undefined;
  if (planeMm !== undefined) next[depth] = planeMm + towards * offMm;
  return next;
}

/** The photo laid so that a pixel of it lies at a place: a flat one by all its marks, another by its anchor. `photo`: its numbers worked out. */
export function lineUp(job: Job, { photo, px, at }: { photo: Photo; px: Pixel; at: Vec3 }): Job {
  const { right, up } = VIEW_AXES[photo.view];
  const to: ViewMm = [at[right], at[up]];
  const rectify = job.photos?.find((p) => p.id === photo.id)?.rectify;
  const from = rectify && placeOnView(photo).plane ? viewPlaceOf(photo, px) : null;
  const patch = from
    ? { rectify: shiftMarks(rectify!, [to[0] - from[0], to[1] - from[1]]) }
    : { anchorPx: [px[0], px[1]] as [number, number], anchorMm: [...to] as [number, number] };
  return setPhoto(job, { id: photo.id, patch });
}

/** Length between two pixels, mm, with its σ where the photo is laid flat. Throws a LidwrightError as lengthOnPlane does. */
export function lengthOnPhoto(photo: Photo, from: Pixel, to: Pixel): { lengthMm: number; sigmaMm: number | null } {
  const place = placeOnView(photo);
  if (place.plane) return lengthOnPlane(place.plane, from, to);
  const [a, b] = [place.toMm(from), place.toMm(to)];
  return { lengthMm: Math.hypot(b[0] - a[0], b[1] - a[1]), sigmaMm: null };
}

/** A point off a flat photo's plane, mm towards the camera, and how far from its true place it is shown, mm. */
export interface OffPlane {
  readonly point: Point;
  readonly offMm: number;
  readonly shownMm: number;
}

/** The point that a flat photo shows farthest from its true place; null where the plane's depth or the camera is not known. */
export function worstOffPlane(photo: Photo, points: readonly Point[]): OffPlane | null {
  const planeMm = photo.rectify?.depthMm;
  const place = placeOnView(photo);
  const camera = cameraOfPhoto(photo, place);
  if (planeMm === undefined || !camera) return null;
  const { depth, right, up, rightSign, towards } = VIEW_AXES[photo.view];
  const shown = points.flatMap((point): OffPlane[] => {
    const offMm = towards * (point.at[depth] - planeMm);
    const at = [rightSign * point.at[right], point.at[up]] as const;
    if (offMm >= camera.distanceMm || !place.toPx(at)) return [];
    return [{ point, offMm, shownMm: Math.hypot(...parallaxOfTrueMm(camera, at, offMm)) }];
  });
  return shown.reduce<OffPlane | null>((worst, p) => (worst && worst.shownMm >= p.shownMm ? worst : p), null);
}
