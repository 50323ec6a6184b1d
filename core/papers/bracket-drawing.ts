import {
  bodyLayout,
  type BracketSpec,
  type Fixing,
  checkBracket,
  isBent,
  massKg,
  requireMakeable,
  isPinned,
} from '../bracket';
import { formatNumber, type Sheet } from '../drawing';
import type { SeenEdge } from '../solid';
import { compose } from './bracket/compose';
import { isometricEdges } from './bracket/isometric';
import type { MountWeld } from './bracket/weld-symbol';
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
}

const OPEN_WELD: MountWeld = { throatMm: null, edges: 'all' };
const WELD_WORDS = {
  all: 'Weld the foot to its mount all round.',
  sides: 'Weld the foot to its mount along both sides, not at its ends.',
  ends: 'Weld the foot to its mount at both ends, not along its sides.',
} as const;
const STUD_SIDE = { outside: 'away from the mount', inside: 'towards the mount' } as const;

/** Whether a slot runs neither along nor across the bracket. */
const aslant = (f: Fixing): boolean => f.slotMm > 0 && Math.abs(f.slotDeg / 90 - Math.round(f.slotDeg / 90)) > 1e-9;

function noteTexts(spec: BracketSpec, info: DrawingInfo, weld: MountWeld): string[] {
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
    ...(isPinned(spec) ? ['Bend in the order of the numbers. Bore both pin holes in line.'] : []),
    ...(!isBent(spec) && !spec.wedge ? [`The stud stands ${STUD_SIDE[spec.ballSide]}.`] : []),
    ...(spec.wedge
      ? [
          `The top rises by ${formatNumber(spec.wedge.tiltDeg, 2)}° along A–A, which lies ${formatNumber(Math.abs(spec.wedge.directionDeg), 2)}° off the centre line; least thickness ${formatNumber(spec.thicknessMm, 2)} mm at its lowest sharp corner.`,
          'The stud hole is square to the top and placed where its axis meets the underside; other holes are square to the underside. Figures in brackets follow from the others.',
        ]
      : []),
    ...(spec.gusset ? ['Gussets: fillet welds a on both sides, along base and upright.'] : []),
    ...(spec.attachedBy === 'bolts' ? [] : [WELD_WORDS[weld.edges]]),
    ...(spec.fixings.some(aslant) ? ['Angles of slots are from the centre line.'] : []),
    ...(even ? ['Outline symmetrical about the centre line.'] : []),
    ...checkBracket(spec).flatMap((issue) => issue.shopNote ?? []),
    ...(info.notes ?? []).filter((note) => note.trim() !== ''),
    CAUTION,
  ];
}

/**
 * The workshop drawing of a bracket: its views in first or third angle, the blank, isometric, title block, notes and a checking bar, at
 * the largest ISO 5455 scale (5:1 to 1:10) that fits; null when none does. Throws a LidwrightError when the bracket
 * cannot be made, the paper is unknown, or a text is too long for its field.
 */
export function fitBracketDrawing(spec: BracketSpec, info: DrawingInfo, options: BracketDrawingOptions): Sheet | null {
  requireMakeable(spec);
  const weld = options.mountWeld ?? OPEN_WELD;
  const part = {
    documentType: 'Bracket drawing',
    material: spec.material.name,
    massKg: massKg(spec),
    notes: noteTexts(spec, info, weld),
  };
  const { projection } = options;
  // the same at every scale that is tried
  let edges: readonly SeenEdge[] | undefined;
  const isometric = (): readonly SeenEdge[] => (edges ??= isometricEdges(spec));
  return workshopSheet(part, info, options, (scale, room, smaller) =>
    compose(spec, scale, smaller, projection, { mountWeld: weld }, room, isometric),
  );
}

/** As `fitBracketDrawing`; throws a LidwrightError too when nothing fits. */
export const bracketDrawing = (spec: BracketSpec, info: DrawingInfo, options: BracketDrawingOptions): Sheet =>
  fitBracketDrawing(spec, info, options) ?? noRoomOn(options.paper, 'bracket');
