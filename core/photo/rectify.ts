import { attempt, fail } from '../error';
import { type Mat3 } from '../space';
import {
  type Plane2,
  applyHomography,
  fitHomography,
  homographyEntrySlope,
  homographySlope,
  invertHomography,
} from './homography';
import { carried, inverted } from './linear';
import { focalOfHomography, poseOfHomography } from './plane-view';

/** A mark in the photo and its known place on the plane, mm along the plane's two axes. */
export interface PlaneMark {
  readonly px: Plane2;
  readonly planeMm: Plane2;
}

/** How one mark fits. */
export interface MarkFit extends PlaneMark {
  /** Fitted less marked, px. */
  readonly offPx: Plane2;
  /** Size of that. */
  readonly missPx: number;
  /** Where the mark lands on the plane, less its given place, mm. */
  readonly offMm: Plane2;
}

/** A plane laid flat. */
export interface Rectification {
  readonly toMm: Mat3;
  readonly toPx: Mat3;
  readonly marks: readonly MarkFit[];
  /** σ of a mark along x and y that was stated, px. */
  readonly sigmaPx: number;
  /** The same as the residuals show it, px; null with four marks, where nothing is spare. */
  readonly shownSigmaPx: number | null;
  readonly spare: number;
  /** No mark is off by more than three stated σ; true as well where nothing is spare to show it. */
  readonly agree: boolean;
  /** The mark that is off by most px. */
  readonly worst: number;
  /**
   * The mark without which the others fit best, where the marks do not agree; null otherwise. Five marks can't name one:
   * any four of them fit.
   */
  readonly suspect: number | null;
  /** Covariance of the nine entries of toPx for the stated σ. */
  readonly covariance: readonly (readonly number[])[];
}

/**
 * The plane that four or more marks lie on, laid flat. The px residuals are made least, because it is the marks that
 * scatter. The given places must be true: their own error comes on top.
 * Throws a LidwrightError as fitHomography does.
 */
export function rectify(marks: readonly PlaneMark[], options: { readonly sigmaPx?: number } = {}): Rectification {
  const sigmaPx = options.sigmaPx ?? 1;
  if (!(sigmaPx > 0)) return fail(`the σ of a mark is ${sigmaPx}`, ['photos'], 'Give a number of pixels over 0.');
  const fit = fitHomography(
    marks.map((m) => ({ from: m.planeMm, to: m.px })),
    { where: ['photos'] },
  );
  // marks in front of the camera have a positive third coordinate, whatever the plane's origin has
  const toPx = facing(fit.matrix, marks[0]!.planeMm);
  const toMm = facing(invertHomography(fit.matrix), marks[0]!.px);
  const fits = marks.map((m, i): MarkFit => {
    const [x, y] = applyHomography(toMm, m.px);
    const offPx = fit.residuals[i]!;
    return { ...m, offPx, missPx: Math.hypot(...offPx), offMm: [x - m.planeMm[0], y - m.planeMm[1]] };
  });
  const worst = fits.reduce((most, m, i) => (m.missPx > fits[most]!.missPx ? i : most), 0);
  const agree = fit.spare === 0 || fits[worst]!.missPx <= 3 * sigmaPx;
  return {
    toMm,
    toPx,
    marks: fits,
    sigmaPx,
    shownSigmaPx: fit.sigma,
    spare: fit.spare,
    agree,
    worst,
    suspect: agree ? null : oddOneOut(marks),
    covariance: fit.cofactor.map((row) => row.map((v) => v * sigmaPx * sigmaPx)),
  };
}

/** A mark far out draws the fit its way, so that its own residual stays small: each is left out in turn instead. */
function oddOneOut(marks: readonly PlaneMark[]): number | null {
  if (marks.length < 6) return null;
  let best: number | null = null;
  let least = Infinity;
  marks.forEach((_, i) => {
    const rest = marks.filter((_, k) => k !== i).map((m) => ({ from: m.planeMm, to: m.px }));
    const fit = attempt(() => fitHomography(rest, { where: ['photos'] })).value;
    // null: the others lie too badly to stand without this one
    const left = fit?.residuals.reduce((s, [x, y]) => s + x * x + y * y, 0) ?? Infinity;
    if (left < least) [best, least] = [i, left];
  });
  return best;
}

/** ±h, so that `at` has a positive third coordinate. */
function facing(h: Mat3, at: Plane2): Mat3 {
  const w = h[2][0] * at[0] + h[2][1] * at[1] + h[2][2];
  return w > 0 ? h : (h.map((row) => row.map((v) => -v)) as unknown as Mat3);
}

/** A place on the plane with its covariance, mm². */
export interface PlanePlace {
  readonly atMm: Plane2;
  readonly covariance: readonly [Plane2, Plane2];
}

/**
 * Where a new mark in the photo lies on the plane: its own σ (stated with the rectification unless given) and that of the
 * plane's marks carried through. Holds for things on the plane only: see parallaxMm.
 * @internal for tests
 */
export function placeOnPlane(plane: Rectification, px: Plane2, sigmaPx: number = plane.sigmaPx): PlanePlace {
  const atMm = applyHomography(plane.toMm, px);
  const entries = homographyEntrySlope(plane.toPx, atMm);
  const fromPlane = carried(entries, plane.covariance);
  // a wobble of toPx by δ moves the place by −slope⁻¹·δ
  const inv = inverted(homographySlope(plane.toPx, atMm));
  const total = [
    [fromPlane[0]![0]! + sigmaPx ** 2, fromPlane[0]![1]!],
    [fromPlane[1]![0]!, fromPlane[1]![1]! + sigmaPx ** 2],
  ];
  return { atMm, covariance: carried(inv, total) as unknown as readonly [Plane2, Plane2] };
}

/** Length between two marks on the plane and its σ, mm; the two share the plane's own error. */
export function lengthOnPlane(
  plane: Rectification,
  from: Plane2,
  to: Plane2,
  sigmaPx: number = plane.sigmaPx,
): { readonly lengthMm: number; readonly sigmaMm: number } {
  const a = applyHomography(plane.toMm, from);
  const b = applyHomography(plane.toMm, to);
  const lengthMm = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (!(lengthMm > 0)) return fail('the two marks fall together', ['photos'], 'Mark two different places.');
  const e = [(b[0] - a[0]) / lengthMm, (b[1] - a[1]) / lengthMm];
  const slopes = [a, b].map((p) => {
    const inv = inverted(homographySlope(plane.toPx, p));
    const alongPx = [0, 1].map((c) => e[0]! * inv[0]![c]! + e[1]! * inv[1]![c]!);
    const entry = homographyEntrySlope(plane.toPx, p);
    return { alongPx, byEntry: entry[0].map((v, k) => -(alongPx[0]! * v + alongPx[1]! * entry[1][k]!)) };
  });
  const byEntry = slopes[1]!.byEntry.map((v, k) => v - slopes[0]!.byEntry[k]!);
  const own = slopes.reduce((s, v) => s + (v.alongPx[0]! ** 2 + v.alongPx[1]! ** 2) * sigmaPx ** 2, 0);
  return { lengthMm, sigmaMm: Math.sqrt(own + carried([byEntry], plane.covariance)[0]![0]!) };
}

/** How the camera stands over a rectified plane. */
export interface PlaneCamera {
  readonly focalPx: number;
  /** 'given', or found from the slant of the plane itself. */
  readonly focalFrom: 'given' | 'plane';
  /** The eye's foot on the plane, mm along its axes. */
  readonly footMm: Plane2;
  /** The eye's distance from the plane, mm. */
  readonly distanceMm: number;
}

/**
 * Where the camera stood, taken from the plane and the focal length (given, or found from the slant); null where neither
 * is known: a view square on to the plane does not show the focal length. The principal point is taken in the middle.
 */
export function cameraOverPlane(
  plane: Rectification,
  picture: { readonly widthPx: number; readonly heightPx: number; readonly focalPx?: number },
): PlaneCamera | null {
  const [cx, cy] = [picture.widthPx / 2, picture.heightPx / 2];
  const [u, v, w] = plane.toPx;
  const row = (r: readonly number[], c: number): readonly [number, number, number] => [
    r[0]! - c * w[0],
    r[1]! - c * w[1],
    r[2]! - c * w[2],
  ];
  const h: Mat3 = [row(u, cx), row(v, cy), w];
  const focalPx = picture.focalPx ?? focalOfHomography(h);
  if (focalPx === null || !(focalPx > 0)) return null;
  const pose = poseOfHomography(h, focalPx);
  if (pose === null || !(Math.abs(pose.eyeMm[2]) > 0)) return null;
  return {
    focalPx,
    focalFrom: picture.focalPx === undefined ? 'plane' : 'given',
    footMm: [pose.eyeMm[0], pose.eyeMm[1]],
    distanceMm: Math.abs(pose.eyeMm[2]),
  };
}

/**
 * How far a thing that stands off the plane is shown from its true place, mm along the plane's axes. depthMm > 0: it stands out
 * towards the camera, < 0: it lies behind the plane. `seenMm` is where the rectified picture shows it. Similar triangles:
 * shown − true = (shown − foot)·depth/distance.
 * Throws a LidwrightError for a thing at or behind the camera.
 */
export function parallaxMm(
  camera: Pick<PlaneCamera, 'footMm' | 'distanceMm'>,
  seenMm: Plane2,
  depthMm: number,
): Plane2 {
  if (!(depthMm < camera.distanceMm))
    return fail(
      `${Math.round(depthMm)} mm off the plane is beyond the camera, which stood ${Math.round(camera.distanceMm)} mm away`,
      ['photos'],
      'Give a smaller depth.',
    );
  const k = depthMm / camera.distanceMm;
  return [k * (seenMm[0] - camera.footMm[0]), k * (seenMm[1] - camera.footMm[1])];
}

/**
 * The same for a thing whose true place is known instead of where it is seen, mm along the plane's axes: shown − true =
 * (true − foot)·depth/(distance − depth).
 * Throws a LidwrightError for a thing at or behind the camera.
 */
export function parallaxOfTrueMm(
  camera: Pick<PlaneCamera, 'footMm' | 'distanceMm'>,
  trueMm: Plane2,
  depthMm: number,
): Plane2 {
  const k = camera.distanceMm / (camera.distanceMm - depthMm);
  const seenMm: Plane2 = [
    camera.footMm[0] + k * (trueMm[0] - camera.footMm[0]),
    camera.footMm[1] + k * (trueMm[1] - camera.footMm[1]),
  ];
  return parallaxMm(camera, seenMm, depthMm);
}

/** The note that stands beside a rectified photo: what its lengths are true for, and how wrong it is off the plane. */
export function parallaxNote(camera: PlaneCamera | null, marks: readonly PlaneMark[], depthMm = 50): string {
  if (camera === null)
    return 'True on the marked plane only. How far things off it are shown from their place isn’t known: give the focal length, under “Points from photos”.';
  const off = marks.map((m) => Math.hypot(...parallaxMm(camera, m.planeMm, depthMm)));
  return (
    `True on the marked plane only. Seen from about ${Math.round(camera.distanceMm / 10) * 10} mm, a thing ` +
    `${Math.round(depthMm)} mm off it is shown up to ${Math.max(...off).toFixed(0)} mm from its true place within these marks.`
  );
}
