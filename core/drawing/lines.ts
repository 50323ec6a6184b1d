import type { LineRole } from './model';

/** Wide and narrow line, 2 : 1, and the frame. Source: ISO 128-2 (widths), ISO 5457 (frame 0.7, from memory). */
export const WIDE_MM = 0.5;
export const NARROW_MM = 0.25;

/** Width and dash pattern (dash, gap, …) of a line, mm. */
export interface LineStyle {
  readonly widthMm: number;
  readonly dashMm: readonly number[];
}

const d = NARROW_MM;

/** Dashes by ISO 128-2 in line widths: dash 12, long dash 24, dot 0.5, gap 3; bend lines narrow continuous. */
export const lineStyles: Readonly<Record<LineRole, LineStyle>> = {
  visible: { widthMm: WIDE_MM, dashMm: [] },
  narrow: { widthMm: NARROW_MM, dashMm: [] },
  hidden: { widthMm: NARROW_MM, dashMm: [12 * d, 3 * d] },
  centre: { widthMm: NARROW_MM, dashMm: [24 * d, 3 * d, 0.5 * d, 3 * d] },
  phantom: { widthMm: NARROW_MM, dashMm: [24 * d, 3 * d, 0.5 * d, 3 * d, 0.5 * d, 3 * d] },
  bend: { widthMm: NARROW_MM, dashMm: [] },
  frame: { widthMm: 0.7, dashMm: [] },
};
