import {
  bendTakesMm,
  type BracketSpec,
  type Contour,
  contourPoints,
  foldedProfile,
  holeContour,
  inView,
  isBent,
  movedContour,
  originFromEndMm,
  type PlacedHole,
  placedHoles,
  type Point2,
  type Segment,
  viewOf,
  isPinned,
  platesOf,
} from '../../bracket';
import { arrowhead, boundsOf, lineMark, type Mark, type Part, type Point } from '../../drawing';
import { atan2, rad, toRad } from '../../space';
import { textAt } from '../text';
import { hatch } from './hatch';
import { type Fastening, holeFor } from '../fastening';
import { type Datum, type HoleRow, type HoleSite, markOrigin, placeHoles, sizeHoles } from './hole-sizes';
import { placeDimensions } from './place-dimensions';
import { sizeCorners, sizeTop } from './outline-sizes';
import { chord, sectionLine } from './section-line';
import { Sketch } from './view-marks';
import { roundOf } from './wanted';
import { gussetWeld, type MountWeld, mountWeld } from './weld-symbol';

/** A view ready for the sheet; its rows go into the hole table. */
export interface DrawnView {
  readonly part: Part;
  readonly rows: readonly HoleRow[];
}

/** What a drawing says beside the bracket's own sizes. */
export interface ViewWords {
  /** The weld that holds the bracket on its mount, where it is welded. */
  readonly mountWeld: MountWeld;
  readonly fastening: Fastening;
}

/** Closes a sketch: its sizes placed, its title under it. */
export function finish(
  name: string,
  sketch: Sketch,
  title: string | null,
  rows: readonly HoleRow[] | null = null,
): DrawnView {
  const marks: Mark[] = [...sketch.marks, ...placeDimensions(sketch.marks, sketch.wanted, sketch.scale)];
  return { part: { name, marks: title === null ? marks : titled(marks, sketch.marks, title) }, rows: rows ?? [] };
}

/** The marks with a title under them, in the middle of the shape. */
export function titled(marks: readonly Mark[], shape: readonly Mark[], title: string): Mark[] {
  const all = boundsOf(marks);
  const own = boundsOf(shape);
  return [...marks, textAt([(own.left + own.right) / 2, all.bottom - 6], title, 3.5, 'middle')];
}

/** A fixing as seen from above: right is +y, up is −x. */
function siteFromAbove(hole: PlacedHole): HoleSite {
  const [a, b] = inView('top', hole.slotAxis);
  const raw = atan2(b, a);
  return {
    id: hole.id,
    at: inView('top', hole.centreMm),
    diameterMm: hole.diameterMm,
    slotMm: hole.slotMm,
    slotRad: rad(hole.slotMm > 0 ? ((raw % Math.PI) + Math.PI) % Math.PI : 0),
  };
}

/** Labels for the holes of a table, on short leaders. */
export function labelHoles(sketch: Sketch, holes: readonly HoleSite[], rows: readonly HoleRow[]): void {
  holes.forEach((hole, i) => {
    const name = rows[i]!.name;
    const centre = sketch.at(hole.at);
    const { tip } = roundOf(name, sketch.scale, 'diameter', centre, (hole.diameterMm / 2) * sketch.scale, {});
    sketch.wanted.push({
      kind: 'leader',
      id: `hole-${name}`,
      tip,
      draw: (from, landing, side) => [
        lineMark('narrow', from, landing),
        textAt([landing[0] + side, landing[1] - 1.75], name, 3.5, side === 1 ? 'start' : 'end'),
      ],
    });
  });
}

/** Sizes and places the fixings of a view, or labels them for a table. */
export function fixingSizes(
  sketch: Sketch,
  holes: readonly HoleSite[],
  datum: Datum,
  { fixing }: Fastening,
): HoleRow[] | null {
  const rows = placeHoles(sketch, holes, datum, fixing);
  if (rows) {
    markOrigin(sketch, datum);
    labelHoles(sketch, holes, rows);
  } else sizeHoles(sketch, holes, 'base-holes', fixing);
  return rows;
}

/** A vertical or level cutting plane: wide ends with arrows that look the way the section is seen, and its letter. Paper mm. */
export function cuttingPlane(from: Point, to: Point, look: Point, letter: string): Mark[] {
  const long = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const d: Point = [(to[0] - from[0]) / long, (to[1] - from[1]) / long];
  const marks: Mark[] = [];
  for (const [end, out] of [
    [from, -1],
    [to, 1],
  ] as const) {
    const p = (along: number, back: number): Point => [
      end[0] + d[0] * out * along - look[0] * back,
      end[1] + d[1] * out * along - look[1] * back,
    ];
    marks.push(lineMark('visible', p(4, 0), p(9, 0)));
    marks.push(lineMark('narrow', p(6.5, 9), p(6.5, 0.3)), arrowhead(p(6.5, 0.3), look));
    const at = p(6.5, 12);
    marks.push(textAt([at[0], at[1] - 1.75], letter, 3.5, 'middle'));
  }
  return marks;
}

/** The upright's outer face, as what stands out of the mount: the stud's height and hole. */
export function frontView(spec: BracketSpec, scale: number, { fastening }: ViewWords): DrawnView {
  const sketch = new Sketch(scale);
  const { diameterMm, heightMm, acrossMm } = spec.studHole;
  const channel = isPinned(spec);
  const hole = holeFor(diameterMm, fastening.stud);
  const own = new Set(['body', 'stud', 'pin-near']);
  sketch.lines(
    viewOf(spec, 'front').filter((l) => own.has(l.of)),
    { hidden: false },
  );
  const left = -acrossMm - spec.baseWidthMm / 2;
  sketch.size('stud-height', 'y', [left, 0], [0, heightMm], -1, { gapsMm: [2, (diameterMm / 2) * scale + 3] });
  if (Math.abs(acrossMm) > 1e-9)
    sketch.size('stud-across', 'x', [-acrossMm, spec.uprightLegMm], [0, heightMm], 1, {
      gapsMm: [4, (diameterMm / 2) * scale + 3],
    });
  if (channel) {
    const top = Math.max(
      ...viewOf(spec, 'front')[0]!.segments.flatMap((s) =>
        s.kind === 'line' ? [s.from[1], s.to[1]] : [s.centre[1] + s.radiusMm],
      ),
    );
    sketch.marks.push(...cuttingPlane(sketch.at([0, 0]), sketch.at([0, top]), [-1, 0], 'A'));
  }
  sketch.wanted.push(
    roundOf(
      channel ? 'pin-holes' : 'stud-hole',
      scale,
      'diameter',
      sketch.at([0, heightMm]),
      (diameterMm / 2) * scale,
      { before: `${channel ? '2× ' : ''}${hole.before}`, after: hole.after },
    ),
  );
  return finish('front-view', sketch, null);
}

/** The fold from the side: legs, thickness, hidden holes; a channel cut through its pin. */
export function sideView(spec: BracketSpec, scale: number, words: ViewWords): DrawnView {
  const sketch = new Sketch(scale);
  const { thicknessMm: t, baseLegMm: a, uprightLegMm: b } = spec;
  const channel = isPinned(spec);
  if (channel) channelSection(spec, sketch);
  else sketch.lines(viewOf(spec, 'side'));
  // from where the round of the bend ends: the extension lines run on along the flat faces
  const takes = bendTakesMm(spec);
  sketch.size('upright-leg', 'y', [takes, 0], [0, b], -1);
  if (channel) {
    sketch.size('gap', 'x', [t, b], [a - t, b], 1);
    sketch.size('base-leg', 'x', [0, takes], [a, takes], -1);
    sketch.size('thickness', 'x', [a - t, b], [a, b], 1, { before: 't=' });
  } else {
    sketch.size('base-leg', 'x', [0, takes], [a, 0], -1);
    sketch.size('thickness', 'y', [a, 0], [a, t], 1, { before: 't=' });
  }
  if (spec.gusset) sketch.wanted.push(gussetWeld(spec, sketch));
  if (spec.attachedBy !== 'bolts')
    sketch.wanted.push(mountWeld(sketch, { end: [a, 0], side: [a * 0.6, 0] }, words.mountWeld));
  return finish('side-view', sketch, channel ? 'A–A' : null);
}

/** The channel cut through the middle of its pin: hatched, what the cut meets open. */
function channelSection(spec: BracketSpec, sketch: Sketch): void {
  const profile = movedContour(foldedProfile(spec), { mirror: true });
  sketch.pen.outline(profile);
  const gaps: Point2[][] = [];
  for (const hole of placedHoles(spec)) {
    const axis = hole.role === 'fixing' ? 1 : 0;
    const far = hole.centreMm.map(
      (c, i) => c + (hole.role === 'fixing' ? 1 : -1) * hole.axis[i]! * hole.thicknessMm,
    ) as unknown as [number, number, number];
    const [p, q] = [inView('side', hole.centreMm), inView('side', far)];
    // how much of the hole the plane y = 0 meets
    const half = chordHalf(hole);
    if (half === null) continue;
    const [low, high] = [half[0], half[1]];
    const corner = (end: Point2, off: number): Point2 => (axis === 1 ? [end[0] + off, end[1]] : [end[0], end[1] + off]);
    gaps.push([corner(p, low), corner(q, low), corner(q, high), corner(p, high)]);
    sketch.pen.line('visible', corner(p, low), corner(q, low));
    sketch.pen.line('visible', corner(p, high), corner(q, high));
    sketch.centre(p, q);
  }
  const step = Math.PI / 36;
  sketch.marks.push(
    ...hatch([
      contourPoints(profile, rad(step)).map((p) => sketch.at(p)),
      ...gaps.map((g) => g.map((p) => sketch.at(p))),
    ]),
  );
}

/** From where to where, off its middle along the side view's level axis (pins: upright), the plane y = 0 meets a hole; null when it does not. */
function chordHalf(hole: PlacedHole): readonly [number, number] | null {
  const r = hole.diameterMm / 2;
  if (hole.role !== 'fixing') return [-r, r];
  return chordOf(hole, 0);
}

/** From where to where along −x the plane y = `y` meets a fixing, measured from its middle; null when it does not. */
function chordOf(hole: PlacedHole, y: number): readonly [number, number] | null {
  const across = inView('top', hole.slotAxis);
  const outline: Contour = holeContour({
    centre: [0, 0],
    diameterMm: hole.diameterMm,
    slotMm: hole.slotMm,
    slotRad: atan2(across[1], across[0]),
  });
  // in the view from above: right is y, up is −x
  return chord(contourPoints(outline, toRad(1)), y - hole.centreMm[1]);
}

/** From above: fixings where they are measured on the folded part, gussets, a plate's outline. */
export function topView(spec: BracketSpec, scale: number, words: ViewWords): DrawnView {
  const sketch = new Sketch(scale);
  const bent = isBent(spec);
  const middle = -spec.studHole.acrossMm;
  const from = originFromEndMm(spec);
  const { baseWidthMm, baseLegMm, baseCornerRadiusMm: r } = spec;
  sketch.lines(viewOf(spec, 'top'), { hidden: platesOf(spec).length === 0 && !isPinned(spec) });
  const holes = placedHoles(spec)
    .filter((h) => h.role === 'fixing')
    .map(siteFromAbove);
  let rows: HoleRow[] | null = null;
  if (spec.gusset) {
    const g = spec.gusset;
    const [y0, y1] = [spec.thicknessMm, spec.thicknessMm + g.alongMm];
    const places = g.count === 1 ? [0] : [-g.acrossMm, g.acrossMm];
    for (const y of places) if (g.count > 1) sketch.centre([middle + y, y0], [middle + y, y1]);
    if (g.count > 1)
      sketch.size('gusset-spacing', 'x', [middle - g.acrossMm, y1], [middle + g.acrossMm, y1], 1, { gapsMm: [4, 4] });
    const right = middle + (g.count === 1 ? 0 : g.acrossMm);
    sketch.size('gusset-thickness', 'x', [right - g.thicknessMm / 2, y1], [right + g.thicknessMm / 2, y1], 1, {
      before: 't=',
    });
    return finish('top-view', sketch, null);
  }
  const half = baseWidthMm / 2;
  if (isPinned(spec)) {
    const datum: Datum = {
      edge: [middle - half, baseLegMm],
      end: [middle - half, baseLegMm],
      middle,
      ...{ origin: [middle, baseLegMm], up: -1 },
      ...{ acrossSide: 1, alongSide: -1 },
    };
    rows = fixingSizes(sketch, holes, datum, words.fastening);
    return finish('top-view', sketch, null, rows);
  }
  if (!bent) {
    // up is −x: the free end stands on top
    const top = from;
    const straight = Math.abs(baseWidthMm - spec.topWidthMm) < 1e-9;
    const datum: Datum = {
      edge: straight ? [middle - half, top - r] : [middle, top],
      end: [middle - half + r, top],
      middle,
      ...{ origin: [middle, top], up: -1 },
      ...{ acrossSide: 1, alongSide: -1 },
    };
    rows = fixingSizes(sketch, holes, datum, words.fastening);
    const d = spec.studHole.diameterMm;
    const gap = (d / 2) * scale + 3;
    sketch.size('base-width', 'x', [middle - half, top], [middle + half, top], 1);
    sizeTop(spec, sketch, { middle, end: from - baseLegMm, side: -1 });
    sketch.size(
      'stud-from-end',
      'y',
      [middle + spec.topWidthMm / 2 - spec.topCornerRadiusMm, from - baseLegMm],
      [0, 0],
      1,
      {
        gapsMm: [2, gap],
      },
    );
    if (Math.abs(middle) > 1e-9)
      sketch.size('stud-across', 'x', [middle, from - baseLegMm], [0, 0], -1, { gapsMm: [4, gap] });
    sketch.size('length', 'y', [middle - spec.topWidthMm / 2, from - baseLegMm], [middle - half, top], -1);
    sketch.wanted.push(
      roundOf('stud-hole', scale, 'diameter', [0, 0], (d / 2) * scale, holeFor(d, words.fastening.stud)),
    );
    const outline = viewOf(spec, 'top')[0]!.segments;
    if (spec.wedge) {
      const { way, clear } = sectionLine(spec);
      const on = (s: number): Point => sketch.at([way[1] * s, -way[0] * s]);
      sketch.marks.push(...cuttingPlane(on(clear[0]), on(clear[1]), [way[0], way[1]], 'A'));
    }
    sizeCorners(spec, sketch, outline, 'top');
    if (spec.attachedBy !== 'bolts')
      sketch.wanted.push(
        mountWeld(
          sketch,
          // all round: at a side, where there is room; at the ends alone: at the fixed one
          words.mountWeld.edges === 'ends'
            ? { side: [middle + half, top - r], end: [middle + half / 2, top] }
            : { side: [middle + half, top - r], end: [middle + half, top - r] },
          words.mountWeld,
        ),
      );
  }
  return finish('top-view', sketch, null, rows);
}

/** A tab from its stud's end: the thickness. */
export function tabEdgeView(spec: BracketSpec, scale: number): DrawnView {
  const sketch = new Sketch(scale);
  sketch.lines(viewOf(spec, 'front'));
  const box = viewOf(spec, 'front')[0]!.segments.flatMap((s: Segment) =>
    s.kind === 'line' ? [s.from[0], s.to[0]] : [],
  );
  const right = Math.max(...box);
  sketch.size('thickness', 'y', [right, 0], [right, spec.thicknessMm], 1, { before: 't=' });
  return finish('front-view', sketch, null);
}
