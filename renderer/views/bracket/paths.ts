import { type Point2, type Segment, segmentEnd, segmentStart } from '../../../core/bracket';
import { rad } from '../../../core/space';

/** Millimetres of a face to pixels of its picture. */
export interface Fit {
  readonly pxPerMm: number;
  readonly centreMm: Point2;
  readonly width: number;
  readonly height: number;
}

export const toPx = ({ pxPerMm, centreMm, width, height }: Fit, [x, y]: Point2): Point2 => [
  width / 2 + (x - centreMm[0]) * pxPerMm,
  height / 2 - (y - centreMm[1]) * pxPerMm,
];

const two = (n: number): string => n.toFixed(2);
const at = (fit: Fit, p: Point2): string => {
  const [x, y] = toPx(fit, p);
  return `${two(x)} ${two(y)}`;
};

/** Arcs over half a turn are drawn in two: one arc of a path can't go full circle. */
const halves = (s: Segment): Segment[] =>
  s.kind === 'arc' && Math.abs(s.sweepRad) > Math.PI - 1e-6
    ? [
        { ...s, sweepRad: rad(s.sweepRad / 2) },
        { ...s, startRad: rad(s.startRad + s.sweepRad / 2), sweepRad: rad(s.sweepRad / 2) },
      ]
    : [s];

/** Segments as a path's "d"; those that follow on one another are drawn in one go. */
export function pathOf(segments: readonly Segment[], closed: boolean, fit: Fit): string {
  let d = '';
  let last: Point2 | null = null;
  for (const s of segments.flatMap(halves)) {
    const from = segmentStart(s);
    if (!last || Math.hypot(from[0] - last[0], from[1] - last[1]) > 1e-6) d += `M${at(fit, from)}`;
    last = segmentEnd(s);
    if (s.kind === 'line') d += `L${at(fit, last)}`;
    else {
      const r = two(s.radiusMm * fit.pxPerMm);
      d += `A${r} ${r} 0 0 ${s.sweepRad > 0 ? 0 : 1} ${at(fit, last)}`;
    }
  }
  return closed && d ? `${d}Z` : d;
}
