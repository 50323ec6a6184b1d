import { bodyLayout, type BracketSpec, checkBracket, isBent, massKg, requireMakeable } from '../bracket';
import { type Box, formatNumber, type Sheet } from '../drawing';
import { fail } from '../error';
import { compose } from './bracket/compose';
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
  /** Throat of the weld on the mount, mm; without it the symbol leaves it open. */
  readonly mountThroatMm?: number;
}

const TOLERANCE = 'ISO 2768-m';
const CAUTION = "On a vehicle or vessel: local rules and a licensed person's judgement apply.";
/** Scales a shop can work from: no more than 5:1, no less than 1:10. */
const usable = (scale: DrawingScale): boolean => scale.paper <= 5 && scale.real <= 10;
const CLEAR_MM = 5;

/** Three significant figures: more than the density is known to. */
const massText = (kg: number): string =>
  kg < 0.1 ? `${Number((kg * 1000).toPrecision(3))} g` : `${Number(kg.toPrecision(3))} kg`;

const STUD_SIDE = { outside: 'away from the mount', inside: 'towards the mount' } as const;

function noteTexts(spec: BracketSpec, info: DrawingInfo): string[] {
  const flat = bodyLayout(spec);
  const tapered = Math.abs(spec.baseWidthMm - spec.topWidthMm) > 1e-9;
  const even = spec.studHole.acrossMm === 0;
  const bent = isBent(spec)
    ? [
        `Bend allowance by DIN 6935: k = ${formatNumber(flat.k, 3)}, neutral axis ${formatNumber(flat.neutralDepthMm, 2)} mm from the inside face. R at the bend is the inside radius.`,
        'Figures in brackets follow from this allowance and are for marking out: the folded sizes rule.',
        ...(tapered
          ? ['The upright tapers from the end of the bend; its top width is measured between the sharp corners.']
          : []),
      ]
    : [];
  return [
    ...bent,
    ...(spec.kind === 'channel' ? ['Bend in the order of the numbers. Bore both pin holes in line.'] : []),
    ...(spec.kind === 'flat-tab' ? [`The stud stands ${STUD_SIDE[spec.ballSide]}.`] : []),
    ...(spec.wedge
      ? [
          `The top rises by ${formatNumber(spec.wedge.tiltDeg, 2)}° along A–A, which lies ${formatNumber(Math.abs(spec.wedge.directionDeg), 2)}° off the centre line; least thickness ${formatNumber(spec.thicknessMm, 2)} mm at its lowest sharp corner.`,
          'The stud hole is square to the top and placed where its axis meets the underside; other holes are square to the underside. Figures in brackets follow from the others.',
        ]
      : []),
    ...(spec.gusset ? ['Gussets: fillet welds a on both sides, along base and upright.'] : []),
    ...(even ? ['Outline symmetrical about the centre line.'] : []),
    ...checkBracket(spec).flatMap((issue) => issue.shopNote ?? []),
    ...(info.notes ?? []).filter((note) => note.trim() !== ''),
    CAUTION,
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

  const scales = drawingScales.filter(usable);
  for (const [i, scale] of scales.entries()) {
    const views = compose(
      spec,
      scale,
      scales.slice(i + 1),
      options.projection,
      { mountThroatMm: options.mountThroatMm ?? null },
      room,
    );
    if (!views) continue;
    return {
      title: [info.number, info.title].filter((text) => text.trim() !== '').join(' '),
      widthMm: format.widthMm,
      heightMm: format.heightMm,
      parts: [
        sheetFrame(format),
        ...views,
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
