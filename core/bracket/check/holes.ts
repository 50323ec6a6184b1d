import { atan2, cos, rad, sin } from '../../space';
import {
  type BodyLayout,
  bendTakesMm,
  bodyHoles,
  bodyLayout,
  bodyOutline,
  isBent,
  leans,
  studDepthMm,
  topNormal,
} from '../body';
import { contourPoints, type Contour, depthInContourMm, holeContour, type Point2, segmentDistanceMm } from '../contour';
import type { BlankHole, BracketSpec } from '../types';
import { fixingWhere, type IssueList, mm, type Where } from './issue';

/** Ends of a hole's straight middle line: one place twice for a round hole. */
export function holeEnds(hole: BlankHole): [Point2, Point2] {
  const [x, y] = [(cos(hole.slotRad) * hole.slotMm) / 2, (sin(hole.slotRad) * hole.slotMm) / 2];
  return [
    [hole.centre[0] - x, hole.centre[1] - y],
    [hole.centre[0] + x, hole.centre[1] + y],
  ];
}

/** Distance between the middle lines of two holes, mm. */
export function holesApartMm(one: BlankHole, two: BlankHole): number {
  const [a, b] = holeEnds(one);
  const [c, d] = holeEnds(two);
  const turn = (o: Point2, p: Point2, q: Point2): number =>
    (p[0] - o[0]) * (q[1] - o[1]) - (p[1] - o[1]) * (q[0] - o[0]);
  if (turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0) return 0;
  const away = (p: Point2, from: Point2, to: Point2): number => segmentDistanceMm(p, { kind: 'line', from, to });
  return Math.min(away(a, c, d), away(b, c, d), away(c, a, b), away(d, a, b));
}

interface Named {
  readonly hole: BlankHole;
  readonly name: string;
  readonly where: Where;
  readonly id: string;
}

function named(spec: BracketSpec): Named[] {
  const holes = bodyHoles(spec, bodyLayout(spec));
  const studWhere: Where = isBent(spec) ? ['studHole', 'heightMm'] : ['studHole', 'fromEndMm'];
  return holes.map((hole, i) =>
    hole.role === 'fixing'
      ? { hole, name: 'fixing hole', where: fixingWhere(spec, i, 'fromEndMm'), id: 'fixing' }
      : { hole, name: hole.role === 'pin' ? 'pin hole' : 'stud hole', where: studWhere, id: 'studHole' },
  );
}

function checkEdge(one: Named, outline: Contour, list: IssueList): void {
  const { hole, name, where, id } = one;
  const depth = Math.min(...holeEnds(hole).map((end) => depthInContourMm(end, outline)));
  const radius = hole.diameterMm / 2;
  if (depth <= radius + 1e-9)
    list.fails(
      `${id}-edge`,
      where,
      `The ${name} breaks out over the edge.`,
      'Move it in, make it smaller, or the plate wider.',
    );
  // Least end distance 1.2·d0: EN 1993-1-8 table 3.3, from memory.
  else if (depth < 1.2 * hole.diameterMm - 1e-9)
    list.watch(
      `${id}-edge`,
      where,
      `The centre of the ${name} is ${mm(depth)} from the edge, under 1.2 hole diameters (${mm(1.2 * hole.diameterMm)}).`,
      'Move it in: a hole so near the edge tears out.',
    );
}

/** How far a fixing's ends are from where a bend begins, mm. Bent kinds. */
export function fixingToBendMm(hole: BlankHole, { baseFlat: [from, to], bends }: BodyLayout): number {
  const along = hole.centre[1];
  const ends = bends.length > 1 ? [to - along, along - from] : [to - along];
  return Math.min(...ends) - Math.abs(sin(hole.slotRad) * hole.slotMm) / 2;
}

/** From a hole's edge to where a bend begins, mm; a pinned kind's holes and fixings alike. Bent kinds. */
function edgeToBendMm(spec: BracketSpec, hole: BlankHole): number {
  const toBend =
    hole.role === 'fixing' ? fixingToBendMm(hole, bodyLayout(spec)) : spec.studHole.heightMm - bendTakesMm(spec);
  return toBend - hole.diameterMm / 2;
}

/**
 * Whether a hole is to be drilled once the part is bent: under two thicknesses from its edge to the bend, which pulls it oval (common practice, no
 * source), and the two holes of a pin, which must lie in line.
 */
export const drilledAfterBending = (spec: BracketSpec, hole: BlankHole): boolean =>
  isBent(spec) && (hole.role === 'pin' || edgeToBendMm(spec, hole) < 2 * spec.thicknessMm);

function checkBend(spec: BracketSpec, one: Named, list: IssueList): void {
  const { hole, name, where, id } = one;
  const clearMm = edgeToBendMm(spec, hole);
  if (clearMm <= 1e-9)
    list.fails(
      `${id}-bend`,
      where,
      `The ${name} runs into the bend.`,
      `Move it ${mm(spec.thicknessMm - clearMm)} or more away from the bend.`,
    );
  else if (clearMm < 2 * spec.thicknessMm)
    list.watch(
      `${id}-bend`,
      where,
      `The edge of the ${name} is ${mm(clearMm)} from the bend, under two thicknesses: bending pulls it oval.`,
      'Move it away from the bend, or drill it after bending.',
    );
}

function checkApart(spec: BracketSpec, all: readonly Named[], list: IssueList): void {
  all.forEach((one, i) => {
    for (const two of all.slice(i + 1)) {
      if (one.hole.role === 'pin' && two.hole.role === 'pin') continue;
      const apart = holesApartMm(one.hole, two.hole);
      const touch = (one.hole.diameterMm + two.hole.diameterMm) / 2;
      const wide = Math.max(one.hole.diameterMm, two.hole.diameterMm);
      const where =
        one.hole.role === 'fixing' && spec.patterned && two.hole.role === 'fixing'
          ? ['baseHole', 'spacingMm']
          : one.where;
      const which = one.name === two.name ? `Two ${one.name}s` : `A ${one.name} and the ${two.name}`;
      if (apart <= touch + 1e-9)
        list.fails(
          'holes-meet',
          where,
          `${which} run into each other: ${mm(apart)} apart, ⌀ ${mm(one.hole.diameterMm)} and ⌀ ${mm(two.hole.diameterMm)}.`,
          'Space them further apart or make them smaller.',
        );
      // Least spacing 2.2·d0: EN 1993-1-8 table 3.3, from memory.
      else if (apart < 2.2 * wide - 1e-9)
        list.watch(
          'holes-close',
          where,
          `${which} are ${mm(apart)} apart, under 2.2 hole diameters (${mm(2.2 * wide)}).`,
          'Space them further apart: the strip between them tears.',
        );
    }
  });
}

/** A wedge plate's stud hole leans: it must stay inside the plate on top as well, and clear of the fixings all the way. */
function checkLeaning(spec: BracketSpec, all: readonly Named[], list: IssueList): void {
  if (!leans(spec)) return;
  const stud = all.find(({ hole }) => hole.role === 'stud')!;
  const normal = topNormal(spec);
  const deep = studDepthMm(spec);
  const { centre, diameterMm } = stud.hole;
  const onTop: Point2 = [centre[0] - normal[1] * deep, centre[1] + normal[0] * deep];
  const outline = bodyOutline(spec, bodyLayout(spec));
  const radius = diameterMm / 2 / normal[2];
  if (Math.min(depthInContourMm(centre, outline), depthInContourMm(onTop, outline)) <= radius + 1e-9)
    list.fails(
      'studHole-edge',
      stud.where,
      'The leaning stud hole breaks out over the edge.',
      'Move it in, or let the wedge lean less.',
    );
  const path: BlankHole = {
    ...stud.hole,
    centre: [(centre[0] + onTop[0]) / 2, (centre[1] + onTop[1]) / 2],
    slotMm: Math.hypot(onTop[0] - centre[0], onTop[1] - centre[1]),
    slotRad: atan2(onTop[1] - centre[1], onTop[0] - centre[0]),
  };
  for (const { hole, where } of all)
    if (hole.role === 'fixing' && holesApartMm(path, hole) <= radius + hole.diameterMm / 2 + 1e-9)
      list.fails(
        'holes-meet',
        where,
        'A fixing hole and the leaning stud hole run into each other.',
        'Space them further apart.',
      );
}

/** Holes over an edge, into each other, near an edge or a bend. */
export function checkHoles(spec: BracketSpec, list: IssueList): void {
  const all = named(spec);
  const outline = bodyOutline(spec, bodyLayout(spec));
  checkApart(spec, all, list);
  for (const one of all) {
    checkEdge(one, outline, list);
    if (isBent(spec)) checkBend(spec, one, list);
    // a long slot can leave the plate between its ends where the side is cut in
    else if (
      one.hole.slotMm > 0 &&
      contourPoints(holeContour(one.hole), rad(Math.PI / 4)).some((p) => depthInContourMm(p, outline) <= 0)
    )
      list.fails(
        `${one.id}-edge`,
        one.where,
        `The ${one.name} breaks out over the edge.`,
        'Move it in or shorten the slot.',
      );
  }
  checkLeaning(spec, all, list);
}
