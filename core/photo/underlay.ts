import type { JobPhoto } from '../job';
import { type Rad, cos, sin, toRad } from '../space';

/** A pixel of a photo, x right, y down, from its upper left corner. */
export type Pixel = readonly [number, number];
/** A place in a view: to the right and up on the sheet, mm along the view's axes as shown on paper. */
export type ViewMm = readonly [number, number];

/** How a photo lies under a view; numbers worked out. */
export interface Underlay {
  readonly anchorPx: Pixel;
  readonly anchorMm: ViewMm;
  readonly mmPerPx: number;
  readonly rotationRad: Rad;
}

/** A photo without a scale is shown as if it were this wide, until its scale is set, mm. */
export const UNSCALED_WIDTH_MM = 1500;

/** mm per pixel from two marks and the length between them; null when the marks are on one pixel or the length is no length. */
export function mmPerPixel(from: Pixel, to: Pixel, lengthMm: number): number | null {
  const px = Math.hypot(to[0] - from[0], to[1] - from[1]);
  return px >= 1 && lengthMm > 0 && Number.isFinite(lengthMm) ? lengthMm / px : null;
}

/**
 * The underlay of a photo whose number fields are resolved. `rightSign` is −1 in a view whose axis runs to the left:
 * anchorMm holds the axis' own coordinate, the underlay the place on paper.
 */
export function underlayOf(
  photo: Pick<JobPhoto, 'anchorPx' | 'widthPx'> & {
    readonly anchorMm: ViewMm;
    readonly scale?: { readonly from: Pixel; readonly to: Pixel; readonly lengthMm: number };
    readonly rotationDeg?: number;
  },
  rightSign: 1 | -1 = 1,
): Underlay {
  const scaled = photo.scale ? mmPerPixel(photo.scale.from, photo.scale.to, photo.scale.lengthMm) : null;
  return {
    anchorPx: photo.anchorPx,
    anchorMm: [rightSign * photo.anchorMm[0], photo.anchorMm[1]],
    mmPerPx: scaled ?? UNSCALED_WIDTH_MM / photo.widthPx,
    rotationRad: toRad(photo.rotationDeg ?? 0),
  };
}

/** Pixel → place on the view. A positive rotation turns the photo anticlockwise on paper. */
export function pixelToMm(u: Underlay, px: Pixel): ViewMm {
  const dx = (px[0] - u.anchorPx[0]) * u.mmPerPx;
  const dy = -(px[1] - u.anchorPx[1]) * u.mmPerPx;
  const c = cos(u.rotationRad);
  const s = sin(u.rotationRad);
  return [u.anchorMm[0] + c * dx - s * dy, u.anchorMm[1] + s * dx + c * dy];
}

/** Place on the view → pixel; the inverse of pixelToMm. */
export function mmToPixel(u: Underlay, mm: ViewMm): Pixel {
  const dx = mm[0] - u.anchorMm[0];
  const dy = mm[1] - u.anchorMm[1];
  const c = cos(u.rotationRad);
  const s = sin(u.rotationRad);
  return [u.anchorPx[0] + (c * dx + s * dy) / u.mmPerPx, u.anchorPx[1] - (-s * dx + c * dy) / u.mmPerPx];
}
