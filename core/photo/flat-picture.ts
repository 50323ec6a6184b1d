import { fail } from '../error';
import type { Mat3 } from '../space';
import { type Plane2, applyHomography, homographySlope } from './homography';
import type { Rectification } from './rectify';

/** A part of a flat picture: its upper left corner on the plane (x right, y up), mm, and its grid. */
export interface FlatRegion {
  readonly leftMm: number;
  readonly topMm: number;
  readonly mmPerPx: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** The whole rectified picture, and what had to be left out. */
export interface FlatPicture {
  /** Corners of the photo's part that is shown, on the plane, mm, in order. */
  readonly outlineMm: readonly Plane2[];
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
  /** mm to one pixel of the photo where it is sharpest around the marks: nothing is gained by a finer picture. */
  readonly finestMmPerPx: number;
  /** Part of the photo towards the plane's horizon is left out: it would be stretched over LARGEST_STRETCH. */
  readonly cut: boolean;
}

/** The photo is shown as far as its pixels are stretched at most this much more than in the middle of the marks. */
export const LARGEST_STRETCH = 4;
/** Largest picture that is warped in one go, pixels. */
export const LARGEST_FLAT_PX = 16e6;

/** Stretch of the photo at a place on the plane: mm to one px, [least, most] over directions. */
export function mmPerPxAt(toPx: Mat3, atMm: Plane2): readonly [number, number] {
  const [[a, b], [c, d]] = homographySlope(toPx, atMm);
  const half = (a * a + b * b + c * c + d * d) / 2;
  const off = Math.sqrt(Math.max(0, half * half - (a * d - b * c) ** 2));
  // singular values of px per mm
  const most = Math.sqrt(half + off);
  return [1 / most, most / Math.abs(a * d - b * c)];
}

/** How a rectified photo lies on its plane: extent, resolution, and what is cut off towards the horizon. */
export function flatPicture(
  plane: Rectification,
  photo: { readonly widthPx: number; readonly heightPx: number },
): FlatPicture {
  const n = plane.marks.length;
  const middlePx: Plane2 = [
    plane.marks.reduce((s, m) => s + m.px[0], 0) / n,
    plane.marks.reduce((s, m) => s + m.px[1], 0) / n,
  ];
  const [a, b, c] = plane.toMm[2];
  const w = (p: Plane2): number => a * p[0] + b * p[1] + c;
  const middle = w(middlePx);
  // areas grow with 1/w³ and lengths along the line of steepest slant with 1/w²
  const least = 1 / Math.sqrt(LARGEST_STRETCH);
  const corners: Plane2[] = [
    [0, 0],
    [photo.widthPx, 0],
    [photo.widthPx, photo.heightPx],
    [0, photo.heightPx],
  ];
  const height = (p: Plane2): number => w(p) / middle - least;
  const kept = clip(corners, height);
  if (kept.length < 3)
    return fail('nothing of the photo lies on this plane', ['photos'], 'Check the marks: they must lie on the photo.');
  const outlineMm = kept.map((p) => applyHomography(plane.toMm, p));
  const xs = outlineMm.map((p) => p[0]);
  const ys = outlineMm.map((p) => p[1]);
  const finest = Math.min(...plane.marks.map((m) => mmPerPxAt(plane.toPx, applyHomography(plane.toMm, m.px))[0]));
  return {
    outlineMm,
    leftMm: Math.min(...xs),
    topMm: Math.max(...ys),
    widthMm: Math.max(...xs) - Math.min(...xs),
    heightMm: Math.max(...ys) - Math.min(...ys),
    finestMmPerPx: finest,
    cut: corners.some((p) => height(p) < 0),
  };
}

/** The part of a convex polygon where `height` is 0 or more (Sutherland–Hodgman, one edge). */
function clip(polygon: readonly Plane2[], height: (p: Plane2) => number): Plane2[] {
  const out: Plane2[] = [];
  polygon.forEach((p, i) => {
    const q = polygon[(i + 1) % polygon.length]!;
    const [hp, hq] = [height(p), height(q)];
    if (hp >= 0) out.push(p);
    if (hp >= 0 !== hq >= 0) {
      const t = hp / (hp - hq);
      out.push([p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])]);
    }
  });
  return out;
}

/**
 * The region to warp for what a view shows now: as sharp as the screen, never finer than the photo, in steps of 2 so that a
 * small zoom needs no new one, and never over LARGEST_FLAT_PX. Null when the view shows none of the picture.
 */
export function regionFor(
  picture: FlatPicture,
  view: {
    readonly leftMm: number;
    readonly topMm: number;
    readonly widthMm: number;
    readonly heightMm: number;
    readonly mmPerScreenPx: number;
  },
): FlatRegion | null {
  const left = Math.max(view.leftMm, picture.leftMm);
  const right = Math.min(view.leftMm + view.widthMm, picture.leftMm + picture.widthMm);
  const top = Math.min(view.topMm, picture.topMm);
  const bottom = Math.max(view.topMm - view.heightMm, picture.topMm - picture.heightMm);
  if (!(right > left && top > bottom && view.mmPerScreenPx > 0)) return null;
  const steps = Math.max(0, Math.floor(Math.log2(view.mmPerScreenPx / picture.finestMmPerPx)));
  let mmPerPx = picture.finestMmPerPx * 2 ** steps;
  while (((right - left) / mmPerPx) * ((top - bottom) / mmPerPx) > LARGEST_FLAT_PX) mmPerPx *= 2;
  // snapped to the grid of this resolution, so that neighbouring regions fit together
  const column = Math.floor((left - picture.leftMm) / mmPerPx);
  const row = Math.floor((picture.topMm - top) / mmPerPx);
  return {
    leftMm: picture.leftMm + column * mmPerPx,
    topMm: picture.topMm - row * mmPerPx,
    mmPerPx,
    widthPx: Math.max(1, Math.ceil((right - picture.leftMm) / mmPerPx) - column),
    heightPx: Math.max(1, Math.ceil((picture.topMm - bottom) / mmPerPx) - row),
  };
}
