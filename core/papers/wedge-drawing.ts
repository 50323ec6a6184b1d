import { type Box, boundsOf, formatNumber, movePart, type Part, type Sheet } from '../drawing';
import { fail } from '../error';
import { type WedgeSpec, checkWedge, holeOnFace, requireWedge, thicknessAt, wedgeMassKg } from '../joint';
import { toRad } from '../space';
import { type PaperName, paperFormats } from './formats';
import { sheetFrame } from './frame';
import { CHECKING_BAR_HEIGHT_MM, checkingBar, notesPart } from './notes';
import type { Projection } from './projection-symbol';
import { drawingScales, scaleText } from './scales';
import { type DrawingInfo, TITLE_BLOCK_WIDTH_MM, titleBlock, titleBlockHeightMm } from './title-block';
import { wedgePlan, wedgeProfile } from './wedge-views';

export interface WedgeDrawingOptions {
  readonly paper: PaperName;
  readonly projection: Projection;
}

const TOLERANCE = 'ISO 2768-m';
const CAUTION = "On a vehicle or vessel: local rules and a licensed person's judgement apply.";
const CLEAR_MM = 5;
const BETWEEN_MM = 14;

const massText = (kg: number): string =>
  kg < 0.1 ? `${Number((kg * 1000).toPrecision(3))} g` : `${Number(kg.toPrecision(3))} kg`;

function notesOf(spec: WedgeSpec, info: DrawingInfo): string[] {
  const mm = (x: number): string => formatNumber(x, 1);
  const longest = Math.max(
    ...spec.holes.map(
      (h) => thicknessAt(spec, h.xMm) * (spec.squareTo === 'face' ? Math.cos(toRad(spec.angleDeg)) : 1),
    ),
  );
  const holes: string[] =
    spec.holes.length === 0
      ? []
      : [
          spec.squareTo === 'face'
            ? `Holes are square to the sloping face and placed on it, measured along the underside. Below they come out ${mm(spec.holes[0]!.xMm - holeOnFace(spec, spec.holes[0]!))} mm nearer the thick end.`
            : 'Holes are square to the underside.',
          spec.squareTo === 'face'
            ? 'A nut on the far side of the mount needs a second wedge of this angle, turned round, or a spherical washer pair.'
            : 'Screw heads on the sloping face need a seat cut level with the underside, or a spherical washer pair.',
          `The wedge takes up to ${mm(longest)} mm of the screws' length.`,
        ];
  return [
    'The figure in brackets follows from length, thin end and angle.',
    ...holes,
    ...checkWedge(spec).map((issue) => `${issue.what} ${issue.advice}`),
    ...(info.notes ?? []).filter((note) => note.trim() !== ''),
    CAUTION,
  ];
}

/** Profile and plan over one another on one middle line; undefined when they do not fit. */
function arrange(profile: Part, plan: Part, projection: Projection, room: Box): Part[] | undefined {
  // seen from above: under the profile in first angle, over it in third
  const [upper, lower] = projection === 'first' ? [profile, plan] : [plan, profile];
  const [a, b] = [boundsOf(upper.marks), boundsOf(lower.marks)];
  const height = a.top - a.bottom + b.top - b.bottom + BETWEEN_MM;
  const [left, right] = [Math.min(a.left, b.left), Math.max(a.right, b.right)];
  if (height > room.top - room.bottom || right - left > room.right - room.left) return undefined;
  const dx = (room.left + room.right - left - right) / 2;
  const spare = (room.top - room.bottom - height) / 2;
  return [movePart(upper, dx, room.top - spare - a.top), movePart(lower, dx, room.bottom + spare - b.bottom)];
}

/**
 * The workshop drawing of a wedge: profile with its angle, plan with its holes, title block, notes and a checking bar, at the
 * largest ISO 5455 scale (5:1 to 1:10) that fits. Throws a LidwrightError when the wedge cannot be made, nothing fits, or a
 * text is too long for its field.
 */
export function wedgeDrawing(spec: WedgeSpec, info: DrawingInfo, options: WedgeDrawingOptions): Sheet {
  requireWedge(spec);
  const format = paperFormats[options.paper];
  if (!format) return fail(`there is no paper "${String(options.paper)}".`, ['paper'], 'Choose A4 or A3.');
  const { space } = format;
  const onA4 = format.name === 'A4';
  const blockTop = space.bottom + titleBlockHeightMm(format);
  const notesWidth = onA4 ? space.right - space.left - 6 : space.right - TITLE_BLOCK_WIDTH_MM - space.left - 8;
  const notesLeft = space.left + 3;
  const notes = notesOf(spec, info);
  const { heightMm } = notesPart(notes, [0, 0], notesWidth);
  const stripBottom = (onA4 ? blockTop : space.bottom) + 3;
  const notesTop = stripBottom + CHECKING_BAR_HEIGHT_MM + 1 + heightMm;
  const room: Box = {
    left: space.left + CLEAR_MM,
    right: space.right - CLEAR_MM,
    bottom: Math.max(blockTop, notesTop) + 4,
    top: space.top - CLEAR_MM,
  };
  for (const scale of drawingScales.filter((s) => s.paper <= 5 && s.real <= 10)) {
    const k = scale.paper / scale.real;
    const views = arrange(wedgeProfile(spec, k), wedgePlan(spec, k), options.projection, room);
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
            documentType: 'Wedge drawing',
            material: spec.material.name,
            mass: massText(wedgeMassKg(spec)),
            scale: scaleText(scale),
            tolerance: TOLERANCE,
            projection: options.projection,
          },
          format,
        ),
      ],
    };
  }
  return fail(
    `the wedge does not fit on ${format.name} at any scale down to 1:10.`,
    ['paper'],
    onA4 ? 'Use A3.' : 'Shorten the notes or make the wedge smaller.',
  );
}
