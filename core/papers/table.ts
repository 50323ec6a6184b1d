import type { Mark, Part, Point } from '../drawing';
import { textAt, wrapText } from './text';

export interface TableColumn {
  readonly heading: string;
  readonly widthMm: number;
  /** Its cells in the larger lettering: what is read first. */
  readonly large?: boolean;
}

const TEXT_MM = 3.5;
const SMALL_MM = 2.5;
const PITCH = 1.5;
const ABOVE_MM = 1.4;
const PAD_MM = 1.6;
const HEAD_MM = 4.8;

/**
 * A ruled table, top down from `topLeft`: a heading line, rows
 * as high as their longest cell. An empty cell stays open to write in. Gives its height too, mm.
 */
export function tablePart(
  name: string,
  columns: readonly TableColumn[],
  rows: readonly (readonly string[])[],
  topLeft: Point,
): { readonly part: Part; readonly heightMm: number } {
  const marks: Mark[] = [];
  const [left, top] = topLeft;
  const width = columns.reduce((sum, c) => sum + c.widthMm, 0);
  const line = (role: 'visible' | 'narrow', from: Point, to: Point): void => {
    marks.push({ kind: 'line', role, from, to });
  };
  line('visible', [left, top], [left + width, top]);
  let x = left;
  for (const { heading, widthMm } of columns) {
    marks.push(textAt([x + PAD_MM, top - HEAD_MM + 1.2], heading, SMALL_MM));
    x += widthMm;
  }
  let y = top - HEAD_MM;
  line('narrow', [left, y], [left + width, y]);
  for (const row of rows) {
    const cells = columns.map(({ widthMm, large }, i) => {
      const sizeMm = large ? TEXT_MM : SMALL_MM;
      return { sizeMm, lines: wrapText(row[i] ?? '', sizeMm, widthMm - 2 * PAD_MM) };
    });
    const tall = Math.max(
      TEXT_MM,
      ...cells.map(({ sizeMm, lines }) => sizeMm + Math.max(0, lines.length - 1) * sizeMm * PITCH),
    );
    const height = tall + 2 * ABOVE_MM;
    x = left;
    cells.forEach(({ sizeMm, lines }, i) => {
      const block = sizeMm + Math.max(0, lines.length - 1) * sizeMm * PITCH;
      lines.forEach((text, k) => {
        marks.push(textAt([x + PAD_MM, y - height / 2 + block / 2 - sizeMm - k * sizeMm * PITCH], text, sizeMm));
      });
      x += columns[i]!.widthMm;
    });
    y -= height;
    line('narrow', [left, y], [left + width, y]);
  }
  line('visible', [left, y], [left + width, y]);
  x = left;
  for (const { widthMm } of columns.slice(0, -1)) {
    x += widthMm;
    line('narrow', [x, top], [x, y]);
  }
  line('visible', [left, top], [left, y]);
  line('visible', [left + width, top], [left + width, y]);
  return { part: { name, marks }, heightMm: top - y };
}
