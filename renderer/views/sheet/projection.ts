import type { Vec3 } from '../../../core/space';
import { PROJECTIONS, type Plane, type Projection, type SheetView } from '../../state/planes';

export { PROJECTIONS, type Projection };

export interface Size {
  readonly width: number;
  readonly height: number;
}

/** Base-frame point (mm) → view pixels, x right, y down. */
export function toPx(p: Vec3, projection: Projection, sheet: SheetView, size: Size): [number, number] {
  const { right, rightSign, up } = projection;
  return [
    size.width / 2 + rightSign * (p[right] - sheet.centre[right]) * sheet.pxPerMm,
    size.height / 2 - (p[up] - sheet.centre[up]) * sheet.pxPerMm,
  ];
}

/** A direction in a view's own axes: right, up, and the one it looks along. */
export const inView = (v: Vec3, { right, rightSign, up, depth }: Projection): Vec3 => [
  rightSign * v[right],
  v[up],
  v[depth],
];

/** View pixels → base-frame point (mm); the coordinate that the view can't show is kept from `keep`. */
export function fromPx(x: number, y: number, keep: Vec3, projection: Projection, sheet: SheetView, size: Size): Vec3 {
  const { right, rightSign, up } = projection;
  const out: [number, number, number] = [keep[0], keep[1], keep[2]];
  out[right] = sheet.centre[right] + (rightSign * (x - size.width / 2)) / sheet.pxPerMm;
  out[up] = sheet.centre[up] - (y - size.height / 2) / sheet.pxPerMm;
  return out;
}

/** The sheet zoomed by `factor` so that what lies under the pointer stays there. */
export function zoomAt(
  sheet: SheetView,
  factor: number,
  x: number,
  y: number,
  projection: Projection,
  size: Size,
): SheetView {
  const pxPerMm = Math.min(Math.max(sheet.pxPerMm * factor, 0.005), 50);
  const under = fromPx(x, y, sheet.centre, projection, sheet, size);
  const moved = { pxPerMm, centre: sheet.centre };
  const then = fromPx(x, y, sheet.centre, projection, moved, size);
  const centre: [number, number, number] = [sheet.centre[0], sheet.centre[1], sheet.centre[2]];
  for (const axis of [projection.right, projection.up]) centre[axis] += under[axis] - then[axis];
  return { pxPerMm, centre };
}

/** The sheet moved by a pointer travel in pixels. */
export function panBy(sheet: SheetView, dx: number, dy: number, projection: Projection): SheetView {
  const centre: [number, number, number] = [sheet.centre[0], sheet.centre[1], sheet.centre[2]];
  centre[projection.right] -= (projection.rightSign * dx) / sheet.pxPerMm;
  centre[projection.up] += dy / sheet.pxPerMm;
  return { pxPerMm: sheet.pxPerMm, centre };
}

/** The sheet that shows all points in every view of the given sizes, with some air. */
export function fitSheet(points: readonly Vec3[], sizes: Record<Plane, Size>): SheetView {
  const finite = points.filter((p) => p.every(Number.isFinite));
  if (finite.length === 0) return { pxPerMm: 0.3, centre: [0, 0, 0] };
  const low = [0, 1, 2].map((k) => Math.min(...finite.map((p) => p[k]!)));
  const high = [0, 1, 2].map((k) => Math.max(...finite.map((p) => p[k]!)));
  let pxPerMm = 50;
  for (const { plane, right, up } of Object.values(PROJECTIONS)) {
    const { width, height } = sizes[plane];
    if (width < 50 || height < 50) continue;
    // room for stem handles and labels, less of it where the view is small
    const air = Math.min(58, Math.max(26, 0.13 * Math.min(width, height)));
    pxPerMm = Math.min(
      pxPerMm,
      (width - 2 * air) / Math.max(high[right]! - low[right]!, 1),
      (height - 2 * air) / Math.max(high[up]! - low[up]!, 1),
    );
  }
  return {
    pxPerMm: Math.max(pxPerMm, 0.005),
    centre: [(low[0]! + high[0]!) / 2, (low[1]! + high[1]!) / 2, (low[2]! + high[2]!) / 2],
  };
}

/** A scale bar's length, mm, at most `mostPx` long: 1, 2 or 5 times a power of ten of the unit shown, which has `unitMm`. */
export function scaleBarMm(pxPerMm: number, mostPx: number, unitMm = 1): number {
  const most = mostPx / pxPerMm / unitMm;
  const power = 10 ** Math.floor(Math.log10(most));
  for (const step of [5, 2, 1]) if (step * power <= most) return step * power * unitMm;
  return power * unitMm;
}
