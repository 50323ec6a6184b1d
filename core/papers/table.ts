import { lineMark, type LineRole, type Mark, type Part, type Point } from '../drawing';
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

/** The lines of each cell of a row, and how high they make it, mm. */
function layRow(columns: readonly TableColumn[], row: readonly string[]) {
  const cells = columns.map(({ widthMm, large }, i) => {
    const sizeMm = large ? TEXT_MM : SMALL_MM;
    return { sizeMm, lines: wrapText(row[i] ?? '', sizeMm, widthMm - 2 * PAD_MM) };
  });
  const tall = Math.max(
    TEXT_MM,
    ...cells.map(({ sizeMm, lines }) => sizeMm + Math.max(0, lines.length - 1) * sizeMm * PITCH),
  );
  return { cells, heightMm: tall + 2 * ABOVE_MM };
}

const headLines = (columns: readonly TableColumn[]): string[][] =>
  columns.map(({ heading, widthMm }) => wrapText(heading, SMALL_MM, widthMm - 2 * PAD_MM));

/** Height of a table's heading line, mm: more where a heading takes two lines. */
export const headHeightMm = (columns: readonly TableColumn[]): number =>
  HEAD_MM + (Math.max(1, ...headLines(columns).map((lines) => lines.length)) - 1) * SMALL_MM * PITCH;

/** How high a row of a table is, mm. */
export const rowHeightMm = (columns: readonly TableColumn[], row: readonly string[]): number =>
  layRow(columns, row).heightMm;

/** A row as rows none of which is higher than `mostMm`: a cell with more lines goes on in the next. */
export function splitRow(columns: readonly TableColumn[], row: readonly string[], mostMm: number): string[][] {
  const { cells, heightMm } = layRow(columns, row);
  if (heightMm <= mostMm) return [[...row]];
  const most = Math.max(1, Math.floor((mostMm - 2 * ABOVE_MM - TEXT_MM) / (TEXT_MM * PITCH)) + 1);
  const count = Math.ceil(Math.max(...cells.map(({ lines }) => lines.length)) / most);
  return Array.from({ length: count }, (_, i) =>
    cells.map(({ lines }) => lines.slice(i * most, (i + 1) * most).join(' ')),
  );
}

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
  const line = (role: LineRole, from: Point, to: Point): void => void marks.push(lineMark(role, from, to));
  line('visible', [left, top], [left + width, top]);
  let x = left;
  const headMm = headHeightMm(columns);
  headLines(columns).forEach((lines, i) => {
    lines.forEach((text, k) => {
      const up = (lines.length - 1 - k) * SMALL_MM * PITCH;
      marks.push(textAt([x + PAD_MM, top - headMm + 1.2 + up], text, SMALL_MM));
    });
    x += columns[i]!.widthMm;
  });
  let y = top - headMm;
  line('narrow', [left, y], [left + width, y]);
  for (const row of rows) {
    const { cells, heightMm: height } = layRow(columns, row);
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
