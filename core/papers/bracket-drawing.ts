import {
  type BlankHole,
  blanks,
  bodyLayout,
  type BracketSpec,
  type Fixing,
  checkBracket,
  isBent,
  isPinned,
  massKg,
  requireMakeable,
  stockMm,
} from '../bracket';
import { formatNumber, type Sheet } from '../drawing';
import type { SeenEdge } from '../solid';
import { compose } from './bracket/compose';
import { isometricEdges } from './bracket/isometric';
import type { MountWeld } from './bracket/weld-symbol';
import { type Fastening, NO_FASTENING } from './fastening';
import type { PaperName } from './formats';
import type { Projection } from './projection-symbol';
import type { DrawingInfo } from './title-block';
import { CAUTION, noRoomOn, workshopSheet } from './workshop-sheet';

export interface BracketDrawingOptions {
  readonly paper: PaperName;
  readonly projection: Projection;
  /** Drawings are in millimetres (ISO 129-1). */
  readonly units?: 'mm';
  /** The weld on the mount, where it is welded; all round and its throat left open where not given. */
  readonly mountWeld?: MountWeld;
  /** What goes through its holes; nothing is said of threads where not given. */
  readonly fastening?: Fastening;
  /** How many are to be made, and what stands beside it of which hand; 1 without it. */
  readonly quantity?: number;
  readonly hand?: string;
  readonly finish?: string | undefined;
}

/** Where the joint sits decides how far it leans: the general tolerance is too wide for it. Common practice, no source. */
const placeOf = (holes: string): string =>
  `${holes}: position tolerance ⌀0.4 (ISO 1101) to the centre line and the edge or fold that it is sized from.`;
const OPEN_WELD: MountWeld = { throatMm: null, edges: 'all' };
const WELD_WORDS = {
  all: 'Weld the foot to its mount all round',
  sides: 'Weld the foot to its mount along both sides, not at its ends',
  ends: 'Weld the foot to its mount at both ends, not along its sides',
} as const;

/** Which face the ball goes on, and how far its centre stands off it. */
function ballWords(spec: BracketSpec): string {
  const off = formatNumber(spec.ballOffsetMm, 2);
  if (isPinned(spec))
    return `The joint sits in the middle of the gap, ${off} mm from the inner face of either upright, on a pin through both.`;
  const face = isBent(spec)
    ? spec.ballSide === 'outside'
      ? 'upright’s outer face, away from the base leg'
      : 'upright’s inner face, over the base leg'
    : spec.wedge
      ? 'leaning top, square to it'
      : spec.ballSide === 'outside'
        ? 'top, away from the mount'
        : 'underside, towards the mount';
  return `Ball stud on the ${face}; centre of its ball ${off} mm from that face.`;
}

/** Whether a slot runs neither along nor across the bracket. */
const aslant = (f: Fixing): boolean => f.slotMm > 0 && Math.abs(f.slotDeg / 90 - Math.round(f.slotDeg / 90)) > 1e-9;

function afterBendingWords(spec: BracketSpec): string[] {
  const { holes, afterBending } = blanks(spec)[0]!;
  const later = (role: BlankHole['role']): boolean => holes.some((h) => h.role === role && afterBending.includes(h.id));
  const names = [
    ...(later('pin') ? ['both pin holes, in line'] : []),
    ...(later('stud') ? ['the stud hole'] : []),
    ...(later('fixing') ? ['the fixing holes drawn thin'] : []),
  ];
  return names.length === 0
    ? []
    : [`Drill after bending: ${names.join(' and ')} (thin in the flat pattern, only marked in the cutting file).`];
}

function weldWords({ throatMm, edges, assumed }: MountWeld): string {
  const how =
    throatMm === null
      ? '; throat not stated: settle it before welding.'
      : `, fillet weld, throat a = ${formatNumber(throatMm, 2)} mm${assumed === true ? ', which the job does not state: the least that the strength check counts on' : ''}.`;
  return `${WELD_WORDS[edges]}${how}`;
}

function noteTexts(spec: BracketSpec, info: DrawingInfo, options: BracketDrawingOptions): string[] {
  const weld = options.mountWeld ?? OPEN_WELD;
  const flat = bodyLayout(spec);
  const tapered = Math.abs(spec.baseWidthMm - spec.topWidthMm) > 1e-9;
  const bent = isBent(spec)
    ? [
        `Bend allowance by DIN 6935: k = ${formatNumber(flat.k, 3)}, neutral axis ${formatNumber(flat.neutralDepthMm, 2)} mm from the inside face. Figures in brackets follow from it: the folded sizes rule. R at the bend is inside.`,
        ...(tapered
          ? ['The upright tapers from the end of the bend; its top width is between the sharp corners.']
          : []),
      ]
    : [];
  return [
    ...(options.hand === undefined || options.hand === '' ? [] : [options.hand]),
    ...bent,
    ...(isPinned(spec) ? ['Bend in the order of the numbers.'] : []),
    ...afterBendingWords(spec),
    ballWords(spec),
    ...(options.fastening && options.fastening.words.length > 0 ? [options.fastening.words.join(' ')] : []),
    ...(spec.wedge
      ? [
          `The top rises by ${formatNumber(spec.wedge.tiltDeg, 2)}° along A–A, ${leanWords(spec.wedge.directionDeg)}; least thickness ${formatNumber(spec.thicknessMm, 2)} mm at its lowest sharp corner. Make it from plate of ${stockMm(blanks(spec)[0]!)} mm or more, or from a sawn block.`,
          'The stud hole is square to the top and placed where its axis meets the underside: drill it after the top is machined. Other holes are square to the underside. Figures in brackets follow from the others.',
        ]
      : []),
    ...(spec.bought ? [] : [placeOf(isPinned(spec) ? 'Pin holes' : 'Stud hole')]),
    ...(spec.gusset ? ['Gussets: fillet welds a on both sides, along base and upright.'] : []),
    ...(spec.attachedBy === 'bolts' ? [] : [weldWords(weld)]),
    ...(spec.fixings.some(aslant)
      ? ['A slot’s angle is from the centre line: its upper end, as seen, leans to the hand that is named.']
      : []),
    ['Outline symmetrical about the centre line.', ...checkBracket(spec).flatMap((issue) => issue.shopNote ?? [])].join(
      ' ',
    ),
    ...(info.notes ?? []).filter((note) => note.trim() !== ''),
    CAUTION,
  ];
}

/** Which way a leaning top rises, seen from above with the free end at the top of the sheet. */
function leanWords(directionDeg: number): string {
  const deg = ((((directionDeg + 180) % 360) + 360) % 360) - 180;
  const off = formatNumber(Math.abs(deg), 2);
  if (Math.abs(deg) < 1e-6) return 'which is the centre line, towards the stud’s end';
  if (Math.abs(Math.abs(deg) - 180) < 1e-6) return 'which is the centre line, towards the free end';
  return `${off}° off the centre line, turned from the stud’s end to the ${deg > 0 ? 'right' : 'left'} as the view from above shows it`;
}

/**
 * The workshop drawing of a bracket: its views in first or third angle, the blank, isometric, title block, notes and a checking bar, at
 * the largest ISO 5455 scale (5:1 to 1:10) that fits; null when none does. Throws a LidwrightError when the bracket
 * cannot be made, the paper is unknown, or a text is too long for its field.
 */
export function fitBracketDrawing(spec: BracketSpec, info: DrawingInfo, options: BracketDrawingOptions): Sheet | null {
  requireMakeable(spec);
  const weld = options.mountWeld ?? OPEN_WELD;
  const fastening = options.fastening ?? NO_FASTENING;
  const part = {
    documentType: 'Bracket drawing',
    material: spec.material.name,
    massKg: massKg(spec),
    quantity: options.quantity ?? 1,
    finish: options.finish,
    notes: noteTexts(spec, info, options),
  };
  const { projection } = options;
  // the same at every scale that is tried
  let edges: readonly SeenEdge[] | undefined;
  const isometric = (): readonly SeenEdge[] => (edges ??= isometricEdges(spec));
  return workshopSheet(part, info, options, (scale, room, smaller) =>
    compose(spec, scale, smaller, projection, { mountWeld: weld, fastening }, room, isometric),
  );
}

/** As `fitBracketDrawing`; throws a LidwrightError too when nothing fits. */
export const bracketDrawing = (spec: BracketSpec, info: DrawingInfo, options: BracketDrawingOptions): Sheet =>
  fitBracketDrawing(spec, info, options) ?? noRoomOn(options.paper, 'bracket');
