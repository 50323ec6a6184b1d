import { bodyLayout, type BracketSpec, checkBracket, massKg, requireMakeable } from '../bracket';
import { type Box, boundsOf, formatNumber, movePart, type Part, type Sheet } from '../drawing';
import { fail } from '../error';
import { flatView, frontView, pairOf, sideView } from './bracket-views';
import { type PaperFormat, type PaperName, paperFormats } from './formats';
import { sheetFrame } from './frame';
import { CHECKING_BAR_HEIGHT_MM, checkingBar, notesPart } from './notes';
import type { Projection } from './projection-symbol';
import { type DrawingScale, drawingScales, scaleText } from './scales';
import { type DrawingInfo, TITLE_BLOCK_WIDTH_MM, titleBlock, titleBlockHeightMm } from './title-block';

export interface BracketDrawingOptions {
  readonly paper: PaperName;
  readonly projection: Projection;
  /** Drawings are in millimetres (ISO 129-1). */
  readonly units?: 'mm';
}

const TOLERANCE = 'ISO 2768-m';
const CAUTION = "On a vehicle or vessel: local rules and a licensed person's judgement apply.";
/** Scales a shop can work from: no more than 5:1, no less than 1:10. */
const usable = (scale: DrawingScale): boolean => scale.paper <= 5 && scale.real <= 10;
const CLEAR_MM = 5;
const BETWEEN_MM = 8;
const MOST_BETWEEN_MM = 40;

/** Three significant figures: more than the density is known to. */
const massText = (kg: number): string =>
  kg < 0.1 ? `${Number((kg * 1000).toPrecision(3))} g` : `${Number(kg.toPrecision(3))} kg`;

function noteTexts(spec: BracketSpec, info: DrawingInfo): string[] {
  const flat = bodyLayout(spec);
  const tapered = Math.abs(spec.baseWidthMm - spec.topWidthMm) > 1e-9;
  return [
    `Bend allowance by DIN 6935: k = ${formatNumber(flat.k, 3)}, neutral axis ${formatNumber(flat.neutralDepthMm, 2)} mm from the inside face. R at the bend is the inside radius.`,
    'Figures in brackets follow from this allowance and are for marking out: the folded sizes rule.',
    ...(tapered
      ? ['The upright tapers from the end of the bend; its top width is measured between the sharp corners.']
      : []),
    'Symmetrical about the centre line.',
    ...checkBracket(spec).flatMap((issue) => issue.shopNote ?? []),
    ...(info.notes ?? []).filter((note) => note.trim() !== ''),
    CAUTION,
  ];
}

/** Where one view goes: its left lower origin on the sheet. */
interface Placed {
  readonly part: Part;
  readonly dx: number;
  readonly dy: number;
}

/** Even gaps for things of these widths over a room, no wider than is good to read; undefined when they do not fit. */
function spread(widths: readonly number[], low: number, high: number): number[] | undefined {
  const free = high - low - widths.reduce((sum, w) => sum + w, 0);
  if (free < BETWEEN_MM * (widths.length - 1)) return undefined;
  const gap = Math.min(MOST_BETWEEN_MM, Math.max(BETWEEN_MM, free / (widths.length + 1)));
  let at = low + (free - gap * (widths.length - 1)) / 2;
  return widths.map((w) => {
    const start = at;
    at += w + gap;
    return start;
  });
}

/** The two views of the fold side by side on one base line, and the blank beside or below them. */
function arrange(
  views: { front: Part; side: Part; flat: Part },
  projection: Projection,
  room: Box,
): Placed[] | undefined {
  // The side view is seen from the right: third angle puts it right of the front view, first angle left of it.
  const pair = projection === 'third' ? [views.front, views.side] : [views.side, views.front];
  const pairBoxes = pair.map((part) => boundsOf(part.marks));
  const flatBox = boundsOf(views.flat.marks);
  const low = Math.min(...pairBoxes.map((b) => b.bottom));
  const pairHeight = Math.max(...pairBoxes.map((b) => b.top)) - low;
  const width = (b: Box): number => b.right - b.left;
  const height = (b: Box): number => b.top - b.bottom;

  const row = spread([...pairBoxes, flatBox].map(width), room.left, room.right);
  if (row && Math.max(pairHeight, height(flatBox)) <= room.top - room.bottom) {
    const middle = (room.top + room.bottom) / 2;
    return [
      ...pair.map((part, i) => ({ part, dx: row[i]! - pairBoxes[i]!.left, dy: middle - pairHeight / 2 - low })),
      { part: views.flat, dx: row[2]! - flatBox.left, dy: middle - height(flatBox) / 2 - flatBox.bottom },
    ];
  }
  const beside = spread(pairBoxes.map(width), room.left, room.right);
  const under = spread([width(flatBox)], room.left, room.right);
  const stack = spread([height(flatBox), pairHeight], room.bottom, room.top);
  if (!beside || !under || !stack) return undefined;
  return [
    ...pair.map((part, i) => ({ part, dx: beside[i]! - pairBoxes[i]!.left, dy: stack[1]! - low })),
    { part: views.flat, dx: under[0]! - flatBox.left, dy: stack[0]! - flatBox.bottom },
  ];
}

function noRoom(format: PaperFormat): never {
  const larger = format.name === 'A4' ? 'Use A3.' : 'Shorten the notes or make the bracket smaller.';
  return fail(`the bracket does not fit on ${format.name} at any scale down to 1:10.`, ['paper'], larger);
}

/**
 * The workshop drawing of a bracket: front and side view of the fold in first or third angle, the blank, title block,
 * notes and a checking bar, at the largest ISO 5455 scale (5:1 to 1:10) that fits. Throws a LidwrightError when the
 * bracket cannot be made, nothing fits, or a text is too long for its field.
 */
export function bracketDrawing(spec: BracketSpec, info: DrawingInfo, options: BracketDrawingOptions): Sheet {
  const format = paperFormats[options.paper];
  if (!format) return fail(`there is no paper "${String(options.paper)}".`, ['paper'], 'Choose A4 or A3.');
  requireMakeable(spec);
  if (!pairOf(spec))
    fail(
      `a ${spec.kind} with these holes is not drawn here.`,
      ['kind'],
      'Only a bent angle with one pair of round holes and its stud on the centre line is.',
    );
  const { space } = format;
  const blockTop = space.bottom + titleBlockHeightMm(format);
  const onA4 = format.name === 'A4';
  const notesWidth = onA4 ? space.right - space.left - 6 : space.right - TITLE_BLOCK_WIDTH_MM - space.left - 8;
  const notesLeft = space.left + 3;
  const notes = noteTexts(spec, info);
  const { heightMm: notesHeight } = notesPart(notes, [0, 0], notesWidth);
  const stripBottom = (onA4 ? blockTop : space.bottom) + 3;
  const notesTop = stripBottom + CHECKING_BAR_HEIGHT_MM + 1 + notesHeight;
  const room: Box = {
    left: space.left + CLEAR_MM,
    right: space.right - CLEAR_MM,
    bottom: Math.max(blockTop, notesTop) + 4,
    top: space.top - CLEAR_MM,
  };

  for (const scale of drawingScales.filter(usable)) {
    const k = scale.paper / scale.real;
    const views = { front: frontView(spec, k), side: sideView(spec, k), flat: flatView(spec, k) };
    const placed = arrange(views, options.projection, room);
    if (!placed) continue;
    return {
      title: [info.number, info.title].filter((text) => text.trim() !== '').join(' '),
      widthMm: format.widthMm,
      heightMm: format.heightMm,
      parts: [
        sheetFrame(format),
        ...placed.map(({ part, dx, dy }) => movePart(part, dx, dy)),
        notesPart(notes, [notesLeft, notesTop], notesWidth).part,
        checkingBar([notesLeft, stripBottom]),
        titleBlock(
          info,
          {
            documentType: 'Bracket drawing',
            material: spec.material.name,
            mass: massText(massKg(spec)),
            scale: scaleText(scale),
            tolerance: TOLERANCE,
            projection: options.projection,
          },
          format,
        ),
      ],
    };
  }
  return noRoom(format);
}
