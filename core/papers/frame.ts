import { boxMark, grow, lineMark, type Mark, type Part, type TextMark } from '../drawing';
import type { PaperFormat } from './formats';
import { textAt } from './text';

const MARK_MM = 5;
const BORDER_MM = 5;
const FIELD_MM = 50;
const LETTER_MM = 2.5;

/** Fields of 50 mm counted from the middle of the side, so that the two end fields take what is left. */
function fieldEdges(low: number, high: number, middle: number): number[] {
  const edges: number[] = [low];
  const first = middle - Math.floor((middle - low - 1) / FIELD_MM) * FIELD_MM;
  for (let at = first; at < high - 1; at += FIELD_MM) if (at > low + 1) edges.push(at);
  edges.push(high);
  return edges;
}

/**
 * Frame, centring marks and the grid reference border of a sheet: numerals along the top, letters (no I, no O) down the
 * right side; on A3 also along the bottom and the left. `topMark` false: the upper centring mark ends at the frame. Source: ISO 5457 (details from memory, see the design notes).
 */
export function sheetFrame(format: PaperFormat, { topMark = true }: { readonly topMark?: boolean } = {}): Part {
  const { space, widthMm: w, heightMm: h } = format;
  const { left, bottom, right, top } = space;
  const [cx, cy] = [w / 2, h / 2];
  const marks: Mark[] = [
    boxMark('frame', space),
    boxMark('narrow', grow(space, BORDER_MM)),
    lineMark('frame', [left - BORDER_MM, cy], [left + MARK_MM, cy]),
    lineMark('frame', [right + BORDER_MM, cy], [right - MARK_MM, cy]),
    // The lower mark ends at the frame: title block and notes lie behind it; so does the upper one over a header.
    lineMark('frame', [cx, top + BORDER_MM], [cx, topMark ? top - MARK_MM : top]),
    lineMark('frame', [cx, bottom - BORDER_MM], [cx, bottom]),
  ];
  const everySide = format.name !== 'A4';
  const letter = (x: number, y: number, text: string): TextMark =>
    textAt([x, y - LETTER_MM / 2], text, LETTER_MM, 'middle');
  const columns = fieldEdges(left, right, cx);
  for (let i = 0; i + 1 < columns.length; i++) {
    const middle = (columns[i]! + columns[i + 1]!) / 2;
    // Beside a centring mark the field's own middle is clear of it: the mark lies on a field edge.
    marks.push(letter(middle, top + BORDER_MM / 2, String(i + 1)));
    if (everySide) marks.push(letter(middle, bottom - BORDER_MM / 2, String(i + 1)));
    if (i > 0 && Math.abs(columns[i]! - cx) > 1e-9) {
      marks.push(lineMark('narrow', [columns[i]!, top], [columns[i]!, top + BORDER_MM]));
      if (everySide) marks.push(lineMark('narrow', [columns[i]!, bottom], [columns[i]!, bottom - BORDER_MM]));
    }
  }
  const rows = fieldEdges(bottom, top, cy).reverse();
  for (let i = 0; i + 1 < rows.length; i++) {
    const middle = (rows[i]! + rows[i + 1]!) / 2;
    const name = 'ABCDEFGHJKLMNPQRSTUVWXYZ'[i]!;
    marks.push(letter(right + BORDER_MM / 2, middle, name));
    if (everySide) marks.push(letter(left - BORDER_MM / 2, middle, name));
    if (i > 0 && Math.abs(rows[i]! - cy) > 1e-9) {
      marks.push(lineMark('narrow', [right, rows[i]!], [right + BORDER_MM, rows[i]!]));
      if (everySide) marks.push(lineMark('narrow', [left, rows[i]!], [left - BORDER_MM, rows[i]!]));
    }
  }
  return { name: 'frame', marks };
}
