import type { Box, Point } from '../drawing';
import type { PaperFormat } from './formats';
import type { LayoutScene } from './layout-scene';
import { END, SIDE, TOP, type ViewAxes, type ViewPlace } from './layout-view';
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

/** A view as it lies on the sheet, and along which of its sides its coordinates are given. */
export interface PlacedView {
  readonly place: ViewPlace;
  readonly box: Box;
  /** Coordinates along its upward and its level axis. */
  readonly up: boolean;
  readonly along: boolean;
  /** Another view stands over or under it. */
  readonly under: boolean;
  readonly over: boolean;
}

/** Views as they lie on one sheet. */
export interface Placed {
  readonly scale: DrawingScale;
  readonly views: readonly PlacedView[];
}

/** Views by row and column; every axis gets its coordinates once. */
interface Grid {
  readonly rows: readonly (readonly (ViewAxes | null)[])[];
  readonly up: readonly ViewAxes[];
  readonly along: readonly ViewAxes[];
}

/** All three views where the projection puts them: side and top on one X, side and end on one Z. */
export const threeViews = (projection: 'first' | 'third'): Grid =>
  projection === 'first'
    ? {
        rows: [
          [SIDE, END],
          [TOP, null],
        ],
        up: [SIDE, TOP],
        along: [TOP],
      }
    : {
        rows: [
          [null, TOP],
          [END, SIDE],
        ],
        up: [END, TOP],
        along: [SIDE],
      };

/** One view with all its coordinates. */
export const oneView = (axes: ViewAxes): Grid => ({ rows: [[axes]], up: [axes], along: [axes] });

/** The views of a grid at the largest scale that leaves room for their dimensions; null where none does. */
export function placeViews(extent: Extent, room: Box, { rows, up, along }: Grid): Placed | null {
  const span = (k: 0 | 1 | 2): number => extent.high[k] - extent.low[k];
  const columns = rows[0]!.map((_, c) => rows.map((row) => row[c] ?? null).filter((v) => v !== null));
  const leftMm = columns.map((views) => (views.some((v) => up.includes(v)) ? ROW_MM : BETWEEN_MM));
  const foot = along.some((v) => rows.at(-1)!.includes(v)) ? ROW_MM : 0;
  for (const scale of drawingScales.filter((s) => s.paper === 1)) {
    const k = scale.paper / scale.real;
    const widths = columns.map((views) => Math.max(...views.map((v) => span(v.right) * k)));
    const heights = rows.map((row) => Math.max(...row.map((v) => (v ? span(v.up) * k : 0))));
    const sum = (values: readonly number[]): number => values.reduce((p, q) => p + q, 0);
    const spareX = room.right - room.left - RIGHT_MM - sum(leftMm) - sum(widths);
    const spareY = room.top - room.bottom - TOP_MM - foot - BETWEEN_MM * (rows.length - 1) - sum(heights);
    if (spareX < 0 || spareY < 0) continue;
    const gapX = spareX / (columns.length + 1);
    const gapY = spareY / (rows.length + 1);
    const views: PlacedView[] = [];
    let top = room.top - TOP_MM - gapY;
    rows.forEach((row, r) => {
      let left = room.left;
      row.forEach((axes, c) => {
        left += leftMm[c]! + gapX;
        if (axes) {
          const box: Box = { left, right: left + span(axes.right) * k, top, bottom: top - span(axes.up) * k };
          const first = axes.way > 0 ? extent.low[axes.right] : -extent.high[axes.right];
          views.push({
            place: { axes, zero: [left - first * k, box.bottom - extent.low[axes.up] * k], scale: k },
            ...{ box, up: up.includes(axes), along: along.includes(axes) },
            under: rows.slice(0, r).some((other) => other[c]),
            over: rows.slice(r + 1).some((other) => other[c]),
          });
        }
        left += widths[c]!;
      });
      top -= heights[r]! + BETWEEN_MM + gapY;
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
