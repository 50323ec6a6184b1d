import { fail } from '../error';
import type { Box, Part, Sheet } from '../drawing';

/** Name of a trimmed sheet. */
export type PaperName = 'A4' | 'A3';

/** A trimmed sheet and its drawing space, mm. */
export interface PaperFormat {
  readonly name: PaperName;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Inside the frame: 20 mm from the left (filing) edge, 10 mm from the others. */
  readonly space: Box;
}

function format(name: PaperName, widthMm: number, heightMm: number): PaperFormat {
  return { name, widthMm, heightMm, space: { left: 20, bottom: 10, right: widthMm - 10, top: heightMm - 10 } };
}

/** A4 stands, A3 lies. Sizes: ISO 216, ISO 5457; margins of ISO 5457:1999 from memory. */
export const paperFormats: Readonly<Record<PaperName, PaperFormat>> = {
  A4: format('A4', 210, 297),
  A3: format('A3', 420, 297),
};

/** The format of that name; throws a LidwrightError where a file or a command names none that there is. */
export const formatOf = (paper: PaperName): PaperFormat =>
  (paperFormats[paper] as PaperFormat | undefined) ??
  fail(`there is no paper "${String(paper)}".`, ['paper'], 'Choose A4 or A3.');

/** A sheet named by its number and title. */
export const sheetOf = (
  { widthMm, heightMm }: PaperFormat,
  { number, title }: { readonly number: string; readonly title: string },
  parts: readonly Part[],
): Sheet => ({ title: [number, title].filter((t) => t.trim() !== '').join(' '), widthMm, heightMm, parts });
