import { type Blank, type BlankHole, stockMm } from '../bracket';
import {
  boundsOf,
  circleMark,
  crossMarks,
  formatNumber,
  lineMark,
  type Mark,
  movePart,
  type Part,
  type PathMark,
  type PathSegment,
  type Point,
  type Sheet,
  textWidthMm,
} from '../drawing';
import { fail } from '../error';
import { type Rad, atan2, cos, onCircle, rad, sin, tan } from '../space';
import { textAt, tidy, wrapText } from './text';

/** Layers of a cutting file, in plain words. */
export const CUT_LAYER = 'CUT';
export const BEND_LAYER = 'BEND';
export const NOTE_LAYER = 'NOTE';

/** Clear space round the blanks and between them, mm. */
const MARGIN_MM = 10;
const TEXT_MM = 3.5;
const LEAST_WIDTH_MM = 60;
/** Words under a blank run at least this wide. */
const LEAST_WORDS_MM = 90;

/** A slot (or a round hole) as one closed path or circle, its centre at `at`. */
export function holeMark(hole: Pick<BlankHole, 'centre' | 'diameterMm' | 'slotMm' | 'slotRad'>): Mark {
  const r = hole.diameterMm / 2;
  if (hole.slotMm < TINY_MM) return circleMark('visible', hole.centre, r);
  const [c, s] = [cos(hole.slotRad), sin(hole.slotRad)];
  const half = hole.slotMm / 2;
  const put = (along: number, across: number): Point => [
    hole.centre[0] + along * c - across * s,
    hole.centre[1] + along * s + across * c,
  ];
  const end = (along: number, startRad: Rad): PathMark['segments'][number] => ({
    kind: 'arc',
    centre: put(along, 0),
    radiusMm: r,
    startRad: rad(hole.slotRad + startRad),
    sweepRad: rad(Math.PI),
  });
  return {
    kind: 'path',
    role: 'visible',
    closed: true,
    segments: [
      { kind: 'line', from: put(-half, -r), to: put(half, -r) },
      end(half, rad(-Math.PI / 2)),
      { kind: 'line', from: put(half, r), to: put(-half, r) },
      end(-half, rad(Math.PI / 2)),
    ],
  };
}

/** Shorter pieces stop a cutting head: none is left in a file for one, mm. */
const TINY_MM = 0.05;

const startOf = (s: PathSegment): Point => (s.kind === 'line' ? s.from : onCircle(s.centre, s.radiusMm, s.startRad));
const longMm = (s: PathSegment): number =>
  s.kind === 'line' ? Math.hypot(s.to[0] - s.from[0], s.to[1] - s.from[1]) : s.radiusMm * Math.abs(s.sweepRad);

/** From one place to another: straight, or on the arc of that sweep. */
function pieceOf(from: Point, to: Point, sweep: number): PathSegment {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  if (sweep === 0) return { kind: 'line', from, to };
  // the centre lies off the chord's middle, to the left of a piece that turns left by less than half
  const off = 1 / (2 * tan(rad(sweep / 2)));
  const centre: Point = [(from[0] + to[0]) / 2 - dy * off, (from[1] + to[1]) / 2 + dx * off];
  return {
    ...{ kind: 'arc', centre, radiusMm: Math.hypot(from[0] - centre[0], from[1] - centre[1]) },
    startRad: atan2(from[1] - centre[1], from[0] - centre[0]),
    sweepRad: rad(sweep),
  };
}

/** A closed outline without pieces under 0.05 mm: the two ends of such a piece become one place half way between them. */
export function withoutTiny(outline: readonly PathSegment[]): readonly PathSegment[] {
  if (outline.every((s) => longMm(s) >= TINY_MM)) return outline;
  const corners: { at: Point; sweep: number }[] = [];
  for (const s of outline) corners.push({ at: startOf(s), sweep: s.kind === 'line' ? 0 : s.sweepRad });
  for (let i = 0; i < corners.length && corners.length > 2;) {
    const next = corners[(i + 1) % corners.length]!;
    const { at, sweep } = corners[i]!;
    if (longMm(pieceOf(at, next.at, sweep)) >= TINY_MM) i++;
    else {
      next.at = [(at[0] + next.at[0]) / 2, (at[1] + next.at[1]) / 2];
      corners.splice(i, 1);
      i = Math.max(0, i - 1);
    }
  }
  return corners.map(({ at, sweep }, i) => pieceOf(at, corners[(i + 1) % corners.length]!.at, sweep));
}

/** Arms of the cross on the centre of a hole that is not cut. */
const CENTRE_MM = 4;
const mm = (value: number): string => formatNumber(value, 2);
const signed = (value: number): string => mm(value).replace(/^-/, '−');

/** Holes of a blank that are cut with its outline, and those whose centres are only marked: drilled later. */
function split(blank: Blank): { readonly cut: readonly BlankHole[]; readonly later: readonly BlankHole[] } {
  // a leaning hole is no circle in the plate's face, and stock to be machined has not got its face yet
  const isLater = (hole: BlankHole): boolean =>
    blank.afterBending.includes(hole.id) || (blank.lean !== null && hole.role === 'stud');
  return { cut: blank.holes.filter((h) => !isLater(h)), later: blank.holes.filter(isLater) };
}

function words(blank: Blank, made: CuttingWords): string[] {
  const { later } = split(blank);
  const { lean } = blank;
  const stock = stockMm(blank);
  const place = (hole: BlankHole): string =>
    `⌀${mm(hole.diameterMm)} at x ${signed(hole.centre[0])}, y ${signed(hole.centre[1])}`;
  return [
    `${tidy(blank.name)}${made.hand === '' ? '' : `, ${made.hand}`}: ${blank.quantity * made.quantity} off`,
    lean
      ? `Stock: plate of ${mm(stock)} mm or more, ${made.material}`
      : `t = ${mm(blank.thicknessMm)} mm, ${made.material}`,
    ...(lean
      ? [
          `Cut this outline and the holes shown, square to the underside. Then machine the top: thickness ${mm(blank.thicknessMm)} mm at its lowest sharp corner, rising as the drawing says.`,
        ]
      : []),
    ...(later.length > 0
      ? [
          `Not cut, centre marked: ${later.map(place).join('; ')}. ${lean ? 'Drill it square to the top once that is machined.' : 'Drill after bending.'}`,
        ]
      : []),
    ...[...blank.bends]
      .sort((a, b) => a.order - b.order)
      .map((b) => `Bend ${b.order}: ${mm(b.angleDeg)}° ${b.up ? 'up' : 'down'}, R${mm(b.insideRadiusMm)} inside`),
    ...(blank.bends.length > 0 || later.length > 0
      ? ['x from the centre line to the right, y up from the lower end; the side seen is the inside of the bends.']
      : []),
    `Edges: break 0.2 to 0.5. Finish: ${made.finish ?? 'as cut'}.`,
  ].map(tidy);
}

/** What is cut, what is bent and what is only read, of one blank in its own coordinates. */
function blankParts(blank: Blank, made: CuttingWords): { cut: Part; bend: Part; note: Part } {
  const outline: Mark = { kind: 'path', role: 'visible', closed: true, segments: withoutTiny(blank.outline) };
  const { cut: holes, later } = split(blank);
  const cut: Part = { name: `${blank.id}-cut`, layer: CUT_LAYER, marks: [outline, ...holes.map(holeMark)] };
  const bend: Part = {
    name: `${blank.id}-bend`,
    layer: BEND_LAYER,
    marks: blank.bends.map((b) => lineMark('bend', b.from, b.to)),
  };
  const box = boundsOf(cut.marks);
  const wide = Math.max(LEAST_WORDS_MM, box.right - box.left);
  const lines = words(blank, made).flatMap((text) => wrapText(text, TEXT_MM, wide));
  const note: Part = {
    name: `${blank.id}-note`,
    layer: NOTE_LAYER,
    marks: [
      ...later.flatMap((hole) => crossMarks('narrow', hole.centre, CENTRE_MM)),
      ...lines.map((text, i) => textAt([box.left, box.bottom - 4 - TEXT_MM - i * TEXT_MM * 1.6], text, TEXT_MM)),
    ],
  };
  return { cut, bend, note };
}

/** What a cutting file says beside the shapes. */
export interface CuttingWords {
  readonly material: string;
  /** How many brackets are to be made. */
  readonly quantity: number;
  /** Which hand; empty where there is one. */
  readonly hand: string;
  readonly finish?: string | undefined;
}

/**
 * The blanks of a bracket at 1:1 for whoever cuts them, side by side: layers CUT (each outline one closed line, holes, slots)
 * and BEND (bend lines), and NOTE (name, quantity, stock, material, bends, centres of holes drilled later) unless `withText` is false. The sheet is as large as
 * they need. The side seen is the inside of the bends. Throws a LidwrightError when there is nothing to cut.
 */
export function cuttingSheet(
  title: string,
  blanks: readonly Blank[],
  made: CuttingWords,
  { withText = true }: { readonly withText?: boolean } = {},
): Sheet {
  if (blanks.length === 0) return fail('there is nothing to cut.', [], 'Choose a bracket that is made from sheet.');
  const parts: Part[] = [];
  let left = MARGIN_MM;
  let top = 0;
  for (const blank of blanks) {
    const { cut, bend, note } = blankParts(blank, made);
    const group = [cut, ...(bend.marks.length > 0 ? [bend] : []), ...(withText ? [note] : [])];
    const box = boundsOf(group.flatMap((part) => part.marks));
    const [dx, dy] = [left - box.left, MARGIN_MM - box.bottom];
    parts.push(...group.map((part) => movePart(part, dx, dy)));
    left += box.right - box.left + MARGIN_MM;
    top = Math.max(top, box.top + dy);
  }
  const widthMm = Math.max(left, LEAST_WIDTH_MM, withText ? textWidthMm(tidy(title).slice(0, 40), 2.5) : 0);
  return { title, widthMm, heightMm: top + MARGIN_MM, parts };
}
