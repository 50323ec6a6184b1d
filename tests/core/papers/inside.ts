import { type Box, type Sheet, textBox } from '../../../core/drawing';
import { paperFormats } from '../../../core/papers';
import { plainMarks, strokes } from './overlap';

/** The drawing space of a sheet, by its size. */
const spaceOf = (sheet: Sheet): Box => (sheet.widthMm > 300 ? paperFormats.A3 : paperFormats.A4).space;

/** What lies outside the frame of a sheet (frame and its border letters left out), in words; empty where nothing does. */
export function outside(sheet: Sheet): string[] {
  const { left, right, bottom, top } = spaceOf(sheet);
  const out = ([x, y]: readonly [number, number]): boolean =>
    x < left - 1e-6 || x > right + 1e-6 || y < bottom - 1e-6 || y > top + 1e-6;
  return plainMarks(sheet)
    .filter(({ part }) => part !== 'frame')
    .flatMap(({ part, mark }) => {
      const points = mark.kind === 'text' ? textBox(mark) : strokes(mark).flat();
      return points.some(out) ? [`${part}: ${mark.kind === 'text' ? `"${mark.text}"` : mark.kind}`] : [];
    });
}
