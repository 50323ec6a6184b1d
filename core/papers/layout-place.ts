import type { Box, Point } from '../drawing';
import type { PaperFormat } from './formats';
import type { LayoutScene } from './layout-scene';
import { SIDE, TOP, type ViewAxes, type ViewPlace } from './layout-view';
import { notesPart } from './notes';
import { type DrawingScale, drawingScales } from './scales';
import { TITLE_BLOCK_WIDTH_MM, titleBlockHeightMm } from './title-block';

/** Room for running dimensions left of the views and under them: to the dimension line, the slanted run, the figure. */
export const LINE_OFF_MM = 9;
export const JOG_MM = 8;
const FIGURE_ROOM_MM = 18;
const ROW_MM = LINE_OFF_MM + JOG_MM + FIGURE_ROOM_MM;
const RIGHT_MM = 14;
export const BETWEEN_MM = 16;
const TOP_MM = 12;
/** A datum farther off the views than this share of their size is left out of the picture. */
const NEAR_DATUM = 0.35;

/** Lowest and highest of X, Y, Z, mm. */
export interface Extent {
  readonly low: readonly [number, number, number];
  readonly high: readonly [number, number, number];
}

/** How far the layout reaches along X, Y and Z, mm; the datum counts where it lies near. */
export function extentOf(scene: LayoutScene): Extent {
  const all = [
    ...scene.lidClosed,
    ...scene.lidOpen,
    ...scene.hinge,
    ...scene.pivots.flatMap((p) => (p.open ? [p.closed, p.open] : [p.closed])),
    ...scene.struts.flatMap((s) => [
      s.base,
      ...[0, 0.25, 0.5, 0.75, 1].map((t) => scene.pose(s.lidClosed, scene.openDeg * t)),
    ]),
  ];
  const axis = (k: 0 | 1 | 2): readonly [number, number] => {
    const values = all.map((p) => p[k]);
    const [low, high] = [Math.min(...values), Math.max(...values)];
    const size = Math.max(high - low, 1);
    if (0 < low && low < NEAR_DATUM * size) return [0, high];
    if (0 > high && -high < NEAR_DATUM * size) return [low, 0];
    return [low, high];
  };
  const [x, y, z] = [axis(0), axis(1), axis(2)];
  return { low: [x[0], y[0], z[0]], high: [x[1], y[1], z[1]] };
}

/** The two views as they lie on the sheet. */
export interface Placed {
  readonly scale: DrawingScale;
  readonly views: readonly { readonly place: ViewPlace; readonly box: Box; readonly lower: boolean }[];
}

/** The two views over one another on one X, at the largest scale that leaves room for their dimensions. */
export function placeViews(extent: Extent, room: Box, projection: 'first' | 'third'): Placed | null {
  const order: readonly ViewAxes[] = projection === 'first' ? [SIDE, TOP] : [TOP, SIDE];
  for (const scale of drawingScales.filter((s) => s.paper === 1)) {
    const k = scale.paper / scale.real;
    const width = (extent.high[0] - extent.low[0]) * k;
    const heights = order.map((v) => (extent.high[v.up] - extent.low[v.up]) * k);
    const spareX = room.right - room.left - ROW_MM - RIGHT_MM - width;
    const spareY = room.top - room.bottom - TOP_MM - BETWEEN_MM - ROW_MM - heights[0]! - heights[1]!;
    if (spareX < 0 || spareY < 0) continue;
    const left = room.left + ROW_MM + spareX / 2;
    let top = room.top - TOP_MM - spareY / 3;
    const views = order.map((axes, i) => {
      const height = heights[i]!;
      const box: Box = { left, right: left + width, top, bottom: top - height };
      const zero: Point = [left - extent.low[0] * k, top - height - extent.low[axes.up] * k];
      top -= height + BETWEEN_MM + spareY / 3;
      return { place: { axes, zero, scale: k }, box, lower: i === 1 };
    });
    return { scale, views };
  }
  return null;
}

/** Where views and notes go: above the title block, or on a wide sheet beside it with the notes over the block. */
export interface Area {
  readonly room: Box;
  readonly notesAt: Point;
  readonly notesWidthMm: number;
}

/** The areas that a sheet offers, its notes laid out for each. */
export function areas(format: PaperFormat, notes: readonly string[]): Area[] {
  const { space } = format;
  const blockTop = space.bottom + titleBlockHeightMm(format);
  const onA4 = format.name === 'A4';
  const blockLeft = space.right - TITLE_BLOCK_WIDTH_MM;
  const all = { left: space.left + 6, right: space.right - 6, top: space.top - 6 };
  const over = (width: number): number => notesPart(notes, [0, 0], width).heightMm;
  const wide = onA4 ? space.right - space.left - 6 : blockLeft - space.left - 8;
  const top = (onA4 ? blockTop : space.bottom) + 3 + over(wide);
  const above: Area = {
    room: { ...all, bottom: Math.max(blockTop, top) + 3 },
    notesAt: [space.left + 3, top],
    notesWidthMm: wide,
  };
  if (onA4) return [above];
  const beside: Area = {
    room: { ...all, right: blockLeft - 6, bottom: space.bottom + 8 },
    notesAt: [blockLeft + 3, blockTop + 3 + over(TITLE_BLOCK_WIDTH_MM - 6)],
    notesWidthMm: TITLE_BLOCK_WIDTH_MM - 6,
  };
  return [above, beside];
}
