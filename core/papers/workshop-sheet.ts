import type { Box, Part, Sheet } from '../drawing';
import { fail } from '../error';
import { type PaperName, formatOf, sheetOf } from './formats';
import { sheetFrame } from './frame';
import { CHECKING_BAR_HEIGHT_MM, checkingBar, DO_NOT_SCALE, notesPart } from './notes';
import type { Projection } from './projection-symbol';
import { type DrawingScale, drawingScales, scaleText } from './scales';
import { type DrawingInfo, TITLE_BLOCK_WIDTH_MM, titleBlock, titleBlockHeightMm } from './title-block';

export const CAUTION = `${DO_NOT_SCALE} On a vehicle or vessel: local rules and a licensed person's judgement apply.`;
const TOLERANCE = 'ISO 2768-m';
const CLEAR_MM = 5;
/** Scales a shop can work from: no more than 5:1, no less than 1:10. */
const SHOP_SCALES = drawingScales.filter((scale) => scale.paper <= 5 && scale.real <= 10);

/** Three significant figures: more than the density is known to. */
const massText = (kg: number): string =>
  kg < 0.1 ? `${Number((kg * 1000).toPrecision(3))} g` : `${Number(kg.toPrecision(3))} kg`;

/** A part to be made, as its drawing's shell takes it. */
export interface WorkshopPart {
  readonly documentType: string;
  readonly material: string;
  readonly massKg: number;
  readonly quantity: number;
  /** Coating or treatment, where one is asked for. */
  readonly finish?: string | undefined;
  /** Numbered, over the checking bar. */
  readonly notes: readonly string[];
}

/**
 * A workshop drawing: frame, notes, checking bar and title block round the views that `views` gives for the largest ISO 5455 scale
 * (5:1 to 1:10) at which it finds room; it is also told the smaller ones. Null when there is no such scale. Throws a
 * LidwrightError for an unknown paper or a text too long for its field.
 */
export function workshopSheet(
  part: WorkshopPart,
  info: DrawingInfo,
  { paper, projection }: { readonly paper: PaperName; readonly projection: Projection },
  views: (scale: DrawingScale, room: Box, smaller: readonly DrawingScale[]) => readonly Part[] | null,
): Sheet | null {
  const format = formatOf(paper);
  const { space } = format;
  const onA4 = format.name === 'A4';
  const blockTop = space.bottom + titleBlockHeightMm(format);
  const notesWidth = onA4 ? space.right - space.left - 6 : space.right - TITLE_BLOCK_WIDTH_MM - space.left - 8;
  const notesLeft = space.left + 3;
  const { heightMm } = notesPart(part.notes, [0, 0], notesWidth);
  const stripBottom = (onA4 ? blockTop : space.bottom) + 3;
  const notesTop = stripBottom + CHECKING_BAR_HEIGHT_MM + 1 + heightMm;
  const room: Box = {
    left: space.left + CLEAR_MM,
    right: space.right - CLEAR_MM,
    bottom: Math.max(blockTop, notesTop) + 4,
    top: space.top - CLEAR_MM,
  };
  for (const [i, scale] of SHOP_SCALES.entries()) {
    const found = views(scale, room, SHOP_SCALES.slice(i + 1));
    if (!found) continue;
    const { documentType, material, finish, quantity } = part;
    const made = { material, mass: massText(part.massKg), scale: scaleText(scale), tolerance: TOLERANCE };
    const more = { quantity: `${quantity} off`, ...(finish === undefined ? {} : { finish }) };
    const sheet = sheetOf(format, info, [
      sheetFrame(format),
      ...found,
      notesPart(part.notes, [notesLeft, notesTop], notesWidth).part,
      checkingBar([notesLeft, stripBottom]),
      titleBlock(info, { documentType, ...made, ...more, projection }, format),
    ]);
    return { ...sheet, realPerPaper: scale.real / scale.paper };
  }
  return null;
}

/** Refuses a part that found no room; `name` as in "the bracket". */
export function noRoomOn(paper: PaperName, name: string): never {
  return fail(
    `the ${name} does not fit on ${paper} at any scale down to 1:10.`,
    ['paper'],
    paper === 'A4' ? 'Use A3.' : `Shorten the notes or make the ${name} smaller.`,
  );
}
