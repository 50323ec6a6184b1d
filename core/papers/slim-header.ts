import { lineMark, type Mark, type Part, textWidthMm } from '../drawing';
import type { PaperFormat } from './formats';
import { sheetFrame } from './frame';
import { textAt, tidy, wrapText } from './text';

/** What a slim header says: sheets that are read, not built from, need no full title block. */
export interface SlimHead {
  readonly title: string;
  readonly documentType: string;
  readonly number: string;
  /** YYYY-MM-DD. */
  readonly date: string;
  readonly creator: string;
}

/** Height of the slim header, mm. */
export const SLIM_HEAD_MM = 13;
const LABEL_MM = 2.5;
const VALUE_MM = 3.5;
const PAD_MM = 1.6;

/** A text cut to a width, with "…" where something is left out. */
export function shorten(text: string, sizeMm: number, widthMm: number): string {
  const clean = tidy(text);
  if (textWidthMm(clean, sizeMm) <= widthMm) return clean;
  const letters = [...clean];
  while (letters.length > 1 && textWidthMm(`${letters.join('').trimEnd()}…`, sizeMm) > widthMm) letters.pop();
  return `${letters.join('').trimEnd()}…`;
}

/** Frame and header of page `page` of `pages`. */
export function slimSheet(format: PaperFormat, head: SlimHead, page: number, pages: number): Part[] {
  const { left, right, top } = format.space;
  const y = top - SLIM_HEAD_MM;
  const fields: readonly (readonly [string, string, number])[] = [
    ['Title', head.title, 0],
    ['Document type', head.documentType, 34],
    ['Number', head.number, 30],
    ['Date', head.date, 24],
    ['Page', `${page}/${pages}`, 20],
  ];
  const fixed = fields.reduce((sum, [, , width]) => sum + width, 0);
  const marks: Mark[] = [];
  let x = left;
  for (const [label, value, width] of fields) {
    const wide = width === 0 ? right - left - fixed : width;
    if (x > left) marks.push(lineMark('narrow', [x, y], [x, top]));
    marks.push(textAt([x + PAD_MM, top - 1.2 - LABEL_MM], label, LABEL_MM));
    const room = wide - 2 * PAD_MM;
    const clean = tidy(value);
    const size = textWidthMm(clean, VALUE_MM) <= room ? VALUE_MM : LABEL_MM;
    const [first = '', ...rest] = wrapText(clean, size, room);
    const lines = rest.length > 0 ? [first, shorten(rest.join(' '), size, room)] : [first];
    lines.forEach((text, i) => {
      if (text !== '') marks.push(textAt([x + PAD_MM, y + 1.5 + (lines.length - 1 - i) * 3.6], text, size));
    });
    x += wide;
  }
  marks.push(lineMark('narrow', [left, y], [right, y]));
  return [sheetFrame(format, { topMark: false }), { name: 'header', marks }];
}
