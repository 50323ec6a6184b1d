import { textWidthMm, type Point, type TextMark } from '../drawing';
import { fail } from '../error';

/** A level line of lettering from its left end. */
export const textAt = (at: Point, text: string, sizeMm: number, anchor: TextMark['anchor'] = 'start'): TextMark => ({
  kind: 'text',
  at,
  text,
  sizeMm,
  anchor,
  rotationDeg: 0,
});

/** Line breaks and runs of blanks become one blank. */
export const tidy = (text: string): string => text.replace(/\s+/g, ' ').trim();

/** Words broken into lines no wider than `widthMm`; a word that is wider alone is cut. */
export function wrapText(text: string, sizeMm: number, widthMm: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (let word of tidy(text).split(' ')) {
    const joined = line === '' ? word : `${line} ${word}`;
    if (textWidthMm(joined, sizeMm) <= widthMm) {
      line = joined;
      continue;
    }
    if (line !== '') lines.push(line);
    while (textWidthMm(word, sizeMm) > widthMm) {
      const letters = [...word];
      let count = letters.length - 1;
      while (count > 1 && textWidthMm(letters.slice(0, count).join(''), sizeMm) > widthMm) count--;
      lines.push(letters.slice(0, count).join(''));
      word = letters.slice(count).join('');
    }
    line = word;
  }
  if (line !== '') lines.push(line);
  return lines;
}

/** Heights of lettering, largest first (ISO 3098); 2.5 is the least on A4 and A3. */
const SIZES_MM = [7, 5, 3.5, 2.5] as const;

/**
 * The largest lettering, up to `mostMm`, in which a text fits its field; in the smallest it may take two lines where the
 * field is high enough. Throws a LidwrightError that names the field when it does not fit at all.
 */
export function fitText(
  text: string,
  field: string,
  mostMm: number,
  widthMm: number,
  heightMm: number,
): { readonly sizeMm: number; readonly lines: readonly string[] } {
  const clean = tidy(text);
  for (const sizeMm of SIZES_MM)
    if (sizeMm <= mostMm && sizeMm <= heightMm && textWidthMm(clean, sizeMm) <= widthMm)
      return { sizeMm, lines: [clean] };
  const sizeMm = SIZES_MM[SIZES_MM.length - 1]!;
  const lines = wrapText(clean, sizeMm, widthMm);
  const room = Math.max(1, Math.floor(heightMm / sizeMm / 1.5 + 1 / 3 + 1e-9));
  if (lines.length <= room) return { sizeMm, lines };
  return fail(
    `"${clean}" is too long for its field in the title block.`,
    [field],
    `Shorten it to about ${lines.slice(0, room).join(' ').length} characters.`,
  );
}
