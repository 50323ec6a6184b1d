import { lineMark, type Mark, type Part, type Point, WIDE_MM } from '../drawing';
import { textAt, wrapText } from './text';

/** Stands under every drawing to a scale. */
export const DO_NOT_SCALE = 'Do not scale this drawing: only its figures count.';

const NOTE_MM = 2.5;
const PITCH_MM = 4.2;
const INDENT_MM = 5;
const BAR_MM = 100;

/** Numbered notes, top down from `topLeft`, no wider than `widthMm`; gives their height too. */
export function notesPart(
  notes: readonly string[],
  topLeft: Point,
  widthMm: number,
): { readonly part: Part; readonly heightMm: number } {
  const marks: Mark[] = [];
  let line = 0;
  notes.forEach((note, i) => {
    wrapText(note, NOTE_MM, widthMm - INDENT_MM).forEach((text, row) => {
      const y = topLeft[1] - NOTE_MM - line * PITCH_MM;
      if (row === 0) marks.push(textAt([topLeft[0], y], `${i + 1}`, NOTE_MM));
      marks.push(textAt([topLeft[0] + INDENT_MM, y], text, NOTE_MM));
      line++;
    });
  });
  return { part: { name: 'notes', marks }, heightMm: line * PITCH_MM };
}

/** Room the checking bar takes, mm. */
export const CHECKING_BAR_HEIGHT_MM = 6;

/** A bar of exactly 100 mm on paper with a tick each 10 mm, its left end at `start`: shows a printer that shrank the sheet. */
export function checkingBar(start: Point, words = '100 mm: measure before you cut'): Part {
  const [x, y] = start;
  const marks: Mark[] = [lineMark('visible', [x, y], [x + BAR_MM, y])];
  for (let at = 0; at <= BAR_MM; at += 10) {
    const end = at === 0 || at === BAR_MM;
    // The end ticks stand inside, so that it is 100 mm from outer edge to outer edge.
    const inset = at === 0 ? WIDE_MM / 2 : at === BAR_MM ? -WIDE_MM / 2 : 0;
    const up = end ? 4 : at === BAR_MM / 2 ? 3 : 2;
    const foot = x + at + inset;
    marks.push(lineMark(end ? 'visible' : 'narrow', [foot, y], [foot, y + up]));
  }
  marks.push(textAt([x + BAR_MM + 3, y + 0.8], words, NOTE_MM));
  return { name: 'checking-bar', marks };
}
