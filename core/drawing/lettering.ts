import { cos, sin, toRad } from '../space';
import { advances, UNITS_PER_EM } from './advances';
import type { Point, TextMark } from './model';

/** The drawing's typeface. Sizes below are its own; whoever writes a sheet passes in this font's file. */
export const drawingFont = {
  family: 'DejaVu Sans Condensed',
  postscriptName: 'DejaVuSansCondensed',
  /** Within the package dejavu-fonts-ttf. */
  file: 'ttf/DejaVuSansCondensed.ttf',
} as const;

/** Height of the capitals over the font size; how far tails and brackets reach under the base line, over the capitals. */
const CAPITALS = 1493 / UNITS_PER_EM;
const TAIL = 511 / UNITS_PER_EM / CAPITALS;
const BRACKET = 270 / UNITS_PER_EM / CAPITALS;
/** Letters that stand on the base line; the same and brackets or commas. What is not listed may have a tail. */
const NO_TAIL = /^[0-9A-IK-PR-Za-fhik-or-xz .:+°⌀×±=-]*$/;
const ONLY_BRACKETS = /^[0-9A-IK-PR-Za-fhik-or-xz .:+°⌀×±=()[\],;-]*$/;
const FALLBACK_EM = 1;

/** Font size (em) for capitals of this height, mm. ISO 3098 names lettering by its capitals. */
export const fontSizeMm = (capitalsMm: number): number => capitalsMm / CAPITALS;

const table = new Map<number, number>();
for (const [first, widths] of advances) widths.forEach((width, i) => width > 0 && table.set(first + i, width));

/** Letters in the text that are outside the table of the drawing font, each once. @internal for tests */
export const unknownLetters = (text: string): string[] => [
  ...new Set([...text].filter((letter) => !table.has(letter.codePointAt(0)!))),
];

/** Width of a line of lettering whose capitals are `capitalsMm` high, mm; without kerning, the same everywhere. */
export function textWidthMm(text: string, capitalsMm: number): number {
  let units = 0;
  for (const letter of text) units += table.get(letter.codePointAt(0)!) ?? FALLBACK_EM * UNITS_PER_EM;
  return (units / UNITS_PER_EM) * fontSizeMm(capitalsMm);
}

/** The four corners of a text from descenders to capitals, counter-clockwise from its lower left as it is read. */
export function textBox(text: TextMark): readonly [Point, Point, Point, Point] {
  const width = textWidthMm(text.text, text.sizeMm);
  const left = text.anchor === 'start' ? 0 : text.anchor === 'middle' ? -width / 2 : -width;
  const reach = NO_TAIL.test(text.text) ? 0 : ONLY_BRACKETS.test(text.text) ? BRACKET : TAIL;
  const low = -reach * text.sizeMm;
  const turn = toRad(text.rotationDeg);
  const [c, s] = [cos(turn), sin(turn)];
  const put = (x: number, y: number): Point => [text.at[0] + c * x - s * y, text.at[1] + s * x + c * y];
  return [put(left, low), put(left + width, low), put(left + width, text.sizeMm), put(left, text.sizeMm)];
}
