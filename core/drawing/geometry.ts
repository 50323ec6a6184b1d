import { type Rad, onCircle, rad } from '../space';
import { explodeDimension } from './dimension';
import { textBox } from './lettering';
import type { Mark, Measured, Part, PathSegment, Point } from './model';

/** An upright rectangle on the sheet, mm. */
export interface Box {
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
  readonly top: number;
}

/** The least box round all points. */
export const boxOf = (points: readonly Point[]): Box => ({
  left: Math.min(...points.map((p) => p[0])),
  bottom: Math.min(...points.map((p) => p[1])),
  right: Math.max(...points.map((p) => p[0])),
  top: Math.max(...points.map((p) => p[1])),
});

/** A box with this much more on every side, mm. */
export const grow = ({ left, bottom, right, top }: Box, mm: number): Box => ({
  left: left - mm,
  bottom: bottom - mm,
  right: right + mm,
  top: top + mm,
});

/** Whether two boxes come nearer to each other than `clearMm`; boxes that only touch do not meet. */
export const boxesMeet = (a: Box, b: Box, clearMm = 0): boolean =>
  a.left < b.right + clearMm && b.left < a.right + clearMm && a.bottom < b.top + clearMm && b.bottom < a.top + clearMm;

/** The least box round all boxes. */
export const joinBoxes = (boxes: readonly Box[]): Box => ({
  left: Math.min(...boxes.map((b) => b.left)),
  bottom: Math.min(...boxes.map((b) => b.bottom)),
  right: Math.max(...boxes.map((b) => b.right)),
  top: Math.max(...boxes.map((b) => b.top)),
});

/** Ends of an arc and the points between them where it goes furthest left, right, up or down. */
export function arcExtremes(arc: {
  readonly centre: Point;
  readonly radiusMm: number;
  readonly startRad: Rad;
  readonly sweepRad: Rad;
}): Point[] {
  const at = (angle: number): Point => onCircle(arc.centre, arc.radiusMm, rad(angle));
  const low = Math.min(arc.startRad, arc.startRad + arc.sweepRad);
  const high = Math.max(arc.startRad, arc.startRad + arc.sweepRad);
  const points = [at(low), at(high)];
  const quarter = Math.PI / 2;
  for (let n = Math.ceil(low / quarter); n * quarter <= high; n++) points.push(at(n * quarter));
  return points;
}

const segmentPoints = (s: PathSegment): Point[] => (s.kind === 'line' ? [s.from, s.to] : arcExtremes(s));

const bounds: { readonly [K in Mark['kind']]: (mark: Extract<Mark, { kind: K }>) => Box } = {
  line: (m) => boxOf([m.from, m.to]),
  path: (m) => boxOf(m.segments.flatMap(segmentPoints)),
  arc: (m) => boxOf(arcExtremes(m)),
  circle: (m) => ({
    left: m.centre[0] - m.radiusMm,
    bottom: m.centre[1] - m.radiusMm,
    right: m.centre[0] + m.radiusMm,
    top: m.centre[1] + m.radiusMm,
  }),
  area: (m) => boxOf(m.points),
  text: (m) => boxOf(textBox(m)),
  dimension: (m) => boundsOf(explodeDimension(m)),
};

/** The least box round the marks, line widths not counted. */
export const boundsOf = (marks: readonly Mark[]): Box =>
  joinBoxes(marks.map((mark) => (bounds[mark.kind] as (m: Mark) => Box)(mark)));

type Shift = (p: Point) => Point;
const moveSegment = (s: PathSegment, at: Shift): PathSegment =>
  s.kind === 'line' ? { ...s, from: at(s.from), to: at(s.to) } : { ...s, centre: at(s.centre) };

function moveMeasured(m: Measured, at: Shift): Measured {
  if (m.of === 'distance') return { ...m, from: at(m.from), to: at(m.to) };
  return m.of === 'angle' ? { ...m, vertex: at(m.vertex) } : { ...m, centre: at(m.centre) };
}

const moves: { readonly [K in Mark['kind']]: (mark: Extract<Mark, { kind: K }>, at: Shift) => Mark } = {
  line: (m, at) => ({ ...m, from: at(m.from), to: at(m.to) }),
  path: (m, at) => ({ ...m, segments: m.segments.map((s) => moveSegment(s, at)) }),
  arc: (m, at) => ({ ...m, centre: at(m.centre) }),
  circle: (m, at) => ({ ...m, centre: at(m.centre) }),
  area: (m, at) => ({ ...m, points: m.points.map(at) }),
  text: (m, at) => ({ ...m, at: at(m.at) }),
  dimension: (m, at) => ({
    ...m,
    measured: moveMeasured(m.measured, at),
    layout:
      m.layout.style === 'linear'
        ? { ...m.layout, through: at(m.layout.through) }
        : m.layout.style === 'leader'
          ? { ...m.layout, tip: at(m.layout.tip), landing: at(m.layout.landing) }
          : m.layout.style === 'running'
            ? { ...m.layout, foot: at(m.layout.foot), end: at(m.layout.end) }
            : m.layout,
  }),
};

/** The same marks moved by (dx, dy) mm. */
export function moveMarks(marks: readonly Mark[], dx: number, dy: number): Mark[] {
  const at: Shift = (p) => [p[0] + dx, p[1] + dy];
  return marks.map((mark) => (moves[mark.kind] as (m: Mark, at: Shift) => Mark)(mark, at));
}

/** The same part moved by (dx, dy) mm. */
export const movePart = (part: Part, dx: number, dy: number): Part => ({
  ...part,
  marks: moveMarks(part.marks, dx, dy),
});
