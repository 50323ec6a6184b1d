import type { Blank, BlankHole } from '../bracket';
import {
  boundsOf,
  circleMark,
  lineMark,
  type Mark,
  movePart,
  type Part,
  type PathMark,
  type Point,
  type Sheet,
  textWidthMm,
} from '../drawing';
import { fail } from '../error';
import { type Rad, cos, rad, sin } from '../space';
import { textAt, tidy } from './text';

/** Layers of a cutting file, in plain words. */
export const CUT_LAYER = 'CUT';
export const BEND_LAYER = 'BEND';
export const NOTE_LAYER = 'NOTE';

/** Clear space round the blanks and between them, mm. */
const MARGIN_MM = 10;
const TEXT_MM = 3.5;
const LEAST_WIDTH_MM = 60;

/** A slot (or a round hole) as one closed path or circle, its centre at `at`. */
export function holeMark(hole: Pick<BlankHole, 'centre' | 'diameterMm' | 'slotMm' | 'slotRad'>): Mark {
  const r = hole.diameterMm / 2;
  if (hole.slotMm <= 1e-9) return circleMark('visible', hole.centre, r);
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

/** What is cut, what is bent and what is only read, of one blank in its own coordinates. */
function blankParts(blank: Blank, material: string): { cut: Part; bend: Part; note: Part } {
  const outline: Mark = { kind: 'path', role: 'visible', closed: true, segments: blank.outline };
  const cut: Part = { name: `${blank.id}-cut`, layer: CUT_LAYER, marks: [outline, ...blank.holes.map(holeMark)] };
  const bend: Part = {
    name: `${blank.id}-bend`,
    layer: BEND_LAYER,
    marks: blank.bends.map((b) => lineMark('bend', b.from, b.to)),
  };
  const box = boundsOf(cut.marks);
  const lines = [
    `${tidy(blank.name)}, ${blank.quantity} off`,
    tidy(`t = ${Number(blank.thicknessMm.toFixed(2))} mm, ${material}`),
    ...(blank.lean ? ['The top leans: cut to this outline, then machine the top.'] : []),
    ...[...blank.bends]
      .sort((a, b) => a.order - b.order)
      .map(
        (b) =>
          `Bend ${b.order}: ${Number(b.angleDeg.toFixed(1))}° ${b.up ? 'up' : 'down'}, R${Number(b.insideRadiusMm.toFixed(2))} inside`,
      ),
  ];
  const note: Part = {
    name: `${blank.id}-note`,
    layer: NOTE_LAYER,
    marks: lines.map((text, i) => textAt([box.left, box.bottom - 4 - TEXT_MM - i * TEXT_MM * 1.6], text, TEXT_MM)),
  };
  return { cut, bend, note };
}

/**
 * The blanks of a bracket at 1:1 for whoever cuts them, side by side: layers CUT (each outline one closed line, holes, slots)
 * and BEND (bend lines), and NOTE (name, thickness, material, bends) unless `withText` is false. The sheet is as large as
 * they need. The side seen is the inside of the bends. Throws a LidwrightError when there is nothing to cut.
 */
export function cuttingSheet(
  title: string,
  blanks: readonly Blank[],
  material: string,
  { withText = true }: { readonly withText?: boolean } = {},
): Sheet {
  if (blanks.length === 0) return fail('there is nothing to cut.', [], 'Choose a bracket that is made from sheet.');
  const parts: Part[] = [];
  let left = MARGIN_MM;
  let top = 0;
  for (const blank of blanks) {
    const { cut, bend, note } = blankParts(blank, material);
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
