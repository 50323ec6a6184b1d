import { type Box, boundsOf, formatNumber, movePart, type Part, type Sheet } from '../drawing';
import { type WedgeSpec, checkWedge, holeOnFace, requireWedge, thicknessAt, wedgeMassKg } from '../joint';
import { cos, toRad } from '../space';
import type { PaperName } from './formats';
import type { Projection } from './projection-symbol';
import type { DrawingInfo } from './title-block';
import { wedgePlan, wedgeProfile } from './wedge-views';
import { CAUTION, noRoomOn, workshopSheet } from './workshop-sheet';

export interface WedgeDrawingOptions {
  readonly paper: PaperName;
  readonly projection: Projection;
  /** How many are to be made; 1 without it. */
  readonly quantity?: number;
}

const BETWEEN_MM = 14;

function notesOf(spec: WedgeSpec, info: DrawingInfo): string[] {
  const mm = (x: number): string => formatNumber(x, 1);
  const longest = Math.max(
    ...spec.holes.map((h) => thicknessAt(spec, h.xMm) * (spec.squareTo === 'face' ? cos(toRad(spec.angleDeg)) : 1)),
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

/** Profile and plan over one another on one middle line; null when they do not fit. */
function arrange(profile: Part, plan: Part, projection: Projection, room: Box): Part[] | null {
  // seen from above: under the profile in first angle, over it in third
  const [upper, lower] = projection === 'first' ? [profile, plan] : [plan, profile];
  const [a, b] = [boundsOf(upper.marks), boundsOf(lower.marks)];
  const height = a.top - a.bottom + b.top - b.bottom + BETWEEN_MM;
  const [left, right] = [Math.min(a.left, b.left), Math.max(a.right, b.right)];
  if (height > room.top - room.bottom || right - left > room.right - room.left) return null;
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
  const part = {
    documentType: 'Wedge drawing',
    material: spec.material.name,
    massKg: wedgeMassKg(spec),
    quantity: options.quantity ?? 1,
    notes: notesOf(spec, info),
  };
  const sheet = workshopSheet(part, info, options, (scale, room) => {
    const k = scale.paper / scale.real;
    return arrange(wedgeProfile(spec, k), wedgePlan(spec, k), options.projection, room);
  });
  return sheet ?? noRoomOn(options.paper, 'wedge');
}
