import {
  blanks,
  type BlankHole,
  bodyLayout,
  type BracketSpec,
  type Contour,
  type Point2,
  foldedFront,
  foldedProfile,
  type Segment,
  segmentEnd,
  segmentStart,
  threadOfMediumHole,
} from '../bracket';
import { boundsOf, type Part } from '../drawing';
import { textAt } from './text';
import { FIRST_MM, LEADER_OFF_MM, LEADER_PITCH_MM, LEADER_SLOPE, NEXT_MM, ViewPen } from './view';

/** The pair of round fixing holes of a plain bent angle. */
interface Pair {
  readonly diameterMm: number;
  readonly spacingMm: number;
  readonly fromEndMm: number;
}

/** The one pair of round holes, even about the centre line, that this drawing knows; undefined for any other bracket. */
export function pairOf(spec: BracketSpec): Pair | undefined {
  const [one, two, ...more] = spec.fixings;
  if (spec.kind !== 'bent-angle' || spec.studHole.acrossMm !== 0 || !one || !two || more.length > 0) return undefined;
  const even =
    Math.abs(one.acrossMm + two.acrossMm) < 1e-9 &&
    Math.abs(one.fromEndMm - two.fromEndMm) < 1e-9 &&
    one.diameterMm === two.diameterMm &&
    one.slotMm === 0 &&
    two.slotMm === 0;
  if (!even) return undefined;
  return {
    diameterMm: one.diameterMm,
    spacingMm: Math.abs(one.acrossMm - two.acrossMm),
    fromEndMm: one.fromEndMm,
  };
}

/** The blank of a plain bent angle as this drawing shows it. */
function flatOf(spec: BracketSpec) {
  const [body] = blanks(spec);
  const layout = bodyLayout(spec);
  const bend = layout.bends[0]!;
  const fixings = body!.holes.filter((h) => h.role === 'fixing').sort((a, b) => a.centre[0] - b.centre[0]);
  return {
    outline: body!.outline,
    left: fixings[0]!,
    right: fixings[1]!,
    stud: body!.holes.find((h): h is BlankHole => h.role === 'stud')!,
    bend: { ...bend, lineMm: (bend.startMm + bend.endMm) / 2, halfWidthMm: spec.baseWidthMm / 2, angleDeg: 90 },
    developedLengthMm: layout.lengthMm,
  };
}
type FlatPattern = ReturnType<typeof flatOf>;

type ArcSegment = Extract<Segment, { kind: 'arc' }>;

/** Developed lengths hang on the shop's own tools: a tenth is all they can mean. */
const DEVELOPED_DECIMALS = 1;

/** " (M6)" when the hole is ISO 273 medium for a coarse thread. */
function forThread(diameterMm: number): string {
  const thread = threadOfMediumHole(diameterMm);
  return thread ? ` (${thread})` : '';
}

/** Mirrored left to right. */
const mirrored = (contour: Contour): Contour =>
  contour.map((s) =>
    s.kind === 'line'
      ? { ...s, from: [-s.from[0], s.from[1]], to: [-s.to[0], s.to[1]] }
      : { ...s, centre: [-s.centre[0], s.centre[1]], startRad: Math.PI - s.startRad, sweepRad: -s.sweepRad },
  );

/** The upright's outer face, seen from the ball: stud hole. Origin on the mount, on the centre line. */
export function frontView(spec: BracketSpec, scale: number): Part {
  const pen = new ViewPen(scale);
  const half = spec.baseWidthMm / 2;
  const widest = Math.max(half, spec.topWidthMm / 2);
  const { diameterMm, heightMm } = spec.studHole;
  const bend = spec.insideRadiusMm + spec.thicknessMm;
  pen.outline(foldedFront(spec));
  // Where flat goes over into round there is no edge: a narrow line that stays clear of the outline (ISO 128-3).
  const short = 1.5 / scale;
  if (half > 4 * short) pen.line('narrow', [short - half, bend], [half - short, bend]);
  pen.hole([0, heightMm], diameterMm, 'level');
  pen.centreLine([0, heightMm], [0, 0], [0, spec.uprightLegMm]);
  pen.linear('stud-height', 'vertical', [-half, 0], [0, heightMm], -widest * scale - FIRST_MM, {
    outside: 'start',
    gaps: [2, pen.holeGapMm(diameterMm)],
  });
  pen.round(
    'stud-hole',
    'diameter',
    [0, heightMm],
    diameterMm / 2,
    [widest * scale + 6, heightMm * scale + LEADER_SLOPE * (widest * scale + 6)],
    { before: '⌀', after: forThread(diameterMm) },
  );
  return { name: 'front-view', marks: pen.marks };
}

/** The bent section, seen from the right of the front view: upright on the left. Origin on the mount, in the outer face. */
export function sideView(spec: BracketSpec, scale: number): Part {
  const pen = new ViewPen(scale);
  const { thicknessMm: t, baseLegMm: a, uprightLegMm: b, studHole } = spec;
  const baseHole = pairOf(spec)!;
  pen.outline(mirrored(foldedProfile(spec)));
  const stud = studHole.heightMm;
  for (const way of [-1, 1]) {
    const z = stud + (way * studHole.diameterMm) / 2;
    pen.hidden([0, z], [t, z]);
    const x = a - baseHole.fromEndMm + (way * baseHole.diameterMm) / 2;
    pen.hidden([x, 0], [x, t]);
  }
  pen.centreLine([t / 2, stud], [0, stud], [t, stud]);
  const x = a - baseHole.fromEndMm;
  pen.centreLine([x, t / 2], [x, 0], [x, t]);
  // From where the round of the bend ends: the extension lines run on along the flat faces.
  const bend = t + spec.insideRadiusMm;
  pen.linear('upright-leg', 'vertical', [bend, 0], [0, b], -FIRST_MM, { outside: 'start' });
  pen.linear('base-leg', 'horizontal', [0, bend], [a, 0], -FIRST_MM, { outside: 'end' });
  pen.linear('thickness', 'vertical', [a, 0], [a, t], a * scale + FIRST_MM, { outside: 'end', before: 't=' });
  return { name: 'side-view', marks: pen.marks };
}

/** The rounding of one corner of the blank: at its base or top end, left (−1) or right (1); undefined where it is sharp. */
function cornerArc(flat: FlatPattern, end: 'base' | 'top', side: -1 | 1): ArcSegment | undefined {
  return flat.outline.find(
    (s): s is ArcSegment =>
      s.kind === 'arc' &&
      s.centre[1] < flat.bend.lineMm === (end === 'base') &&
      Math.sign(Math.cos(s.startRad + s.sweepRad / 2)) === side,
  );
}

/** Callouts beside the blank, from the bottom up: each text at least one pitch over the one before. */
function callouts(pen: ViewPen, spec: BracketSpec, flat: FlatPattern): void {
  const s = pen.scale;
  const x = (Math.max(spec.baseWidthMm, spec.topWidthMm) / 2) * s + LEADER_OFF_MM;
  let lowest = -2;
  const rise = (from: Point2): number => from[1] * s + LEADER_SLOPE * (x - from[0] * s);
  const landing = (wanted: number): [number, number] => {
    const y = Math.max(lowest, wanted);
    lowest = y + LEADER_PITCH_MM;
    return [x, y];
  };
  const corner = (id: string, end: 'base' | 'top', wanted: number): void => {
    const arc = cornerArc(flat, end, 1);
    if (!arc) return;
    const range = [arc.startRad, arc.startRad + arc.sweepRad] as const;
    pen.round(id, 'radius', arc.centre, arc.radiusMm, landing(wanted), { before: '2× R' }, range);
  };
  corner('base-corner', 'base', -2);
  const hole = flat.right;
  pen.round('base-holes', 'diameter', hole.centre, hole.diameterMm / 2, landing(rise(hole.centre)), {
    before: '2× ⌀',
    after: forThread(hole.diameterMm),
  });
  const bendTip: Point2 = [flat.bend.halfWidthMm * 0.8, flat.bend.lineMm];
  const bendLanding = landing(rise(bendTip));
  pen.push({
    kind: 'dimension',
    id: 'bend',
    // The radius itself shows in the side view; here it is called out where the brake's operator looks.
    measured: { of: 'radius', centre: pen.at([0, flat.bend.lineMm]), radiusMm: spec.insideRadiusMm * s },
    scale: s,
    before: `bend up ${flat.bend.angleDeg}°, R`,
    after: '',
    decimals: 2,
    layout: {
      style: 'leader',
      tip: pen.at(bendTip),
      landing: bendLanding,
      side: 1,
    },
  });
  corner('top-corner', 'top', flat.developedLengthMm * s + 2);
}

/** The blank with the inside of the bend up, base leg below. Origin at the middle of the base leg's free end. */
export function flatView(spec: BracketSpec, scale: number): Part {
  const pen = new ViewPen(scale);
  const flat = flatOf(spec);
  const half = spec.baseWidthMm / 2;
  const topHalf = spec.topWidthMm / 2;
  const tapered = Math.abs(half - topHalf) > 1e-9;
  const { lineMm, endMm } = flat.bend;
  const length = flat.developedLengthMm;
  pen.outline(flat.outline);
  pen.line('bend', [-half, lineMm], [half, lineMm]);
  const { left, right, stud } = flat;
  pen.hole(left.centre, left.diameterMm, 'both');
  pen.hole(right.centre, right.diameterMm, 'both');
  pen.hole(stud.centre, stud.diameterMm, 'level');
  pen.centreLine(stud.centre, [0, 0], [0, length]);
  if (tapered && spec.topCornerRadiusMm > 0)
    for (const side of [-1, 1] as const) {
      // The sides drawn on to the sharp corner that the top width is measured to.
      const arc = cornerArc(flat, 'top', side);
      if (!arc) continue;
      const ends = [segmentStart(arc), segmentEnd(arc)];
      for (const end of ends) pen.line('narrow', end, [side * topHalf, length]);
    }

  const levelBelow = (n: number): number => -FIRST_MM - n * NEXT_MM;
  const hGap = pen.holeGapMm(left.diameterMm);
  pen.linear('hole-spacing', 'horizontal', left.centre, right.centre, levelBelow(0), {
    outside: 'end',
    gaps: [hGap, hGap],
    clearMm: (half - right.centre[0]) * scale + 1,
  });
  const baseR = spec.baseCornerRadiusMm;
  pen.linear('base-width', 'horizontal', [-half, baseR], [half, baseR], levelBelow(1), { outside: 'end' });
  if (tapered)
    pen.linear('top-width', 'horizontal', [-topHalf, length], [topHalf, length], length * scale + FIRST_MM, {
      outside: 'start',
    });

  const edge = Math.max(half, topHalf) * scale;
  const corner: Point2 = [baseR - half, 0];
  const topArc = cornerArc(flat, 'top', -1);
  let level = 0;
  const along = (id: string, to: Point2, gap: number, auxiliary: boolean): void => {
    pen.linear(id, 'vertical', corner, to, -edge - FIRST_MM - level++ * NEXT_MM, {
      outside: 'start',
      gaps: [2, gap],
      auxiliary,
      decimals: auxiliary ? DEVELOPED_DECIMALS : 2,
    });
  };
  along('hole-from-end', left.centre, hGap, false);
  along('bend-line', [-half, lineMm], 2, true);
  if (tapered) along('taper-start', [-half, endMm], 2, true);
  along('stud-in-blank', [0, stud.centre[1]], pen.holeGapMm(stud.diameterMm), true);
  along('blank-length', [topArc ? topArc.centre[0] : -topHalf, length], 2, true);
  callouts(pen, spec, flat);
  const box = boundsOf(pen.marks);
  pen.push(textAt([0, box.bottom - 6], 'Flat pattern, inside of the bend up', 3.5, 'middle'));
  return { name: 'flat-pattern', marks: pen.marks };
}
