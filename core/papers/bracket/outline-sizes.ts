import { type BracketSpec, isPinned, type Segment, segmentEnd, segmentStart } from '../../bracket';
import { cos, onCircle, rad } from '../../space';
import type { Sketch } from './view-marks';
import { roundOf } from './wanted';

type Arc = Extract<Segment, { kind: 'arc' }>;
const outerArcs = (outline: readonly Segment[]): Arc[] => outline.filter((s): s is Arc => s.kind === 'arc');

/**
 * One radius for the corners of the free end and one for those of the stud's end (channel: of both). `seen`: "blank" with the free end
 * below, or "top" with it above.
 */
export function sizeCorners(
  spec: BracketSpec,
  sketch: Sketch,
  outline: readonly Segment[],
  seen: 'blank' | 'top',
): void {
  const channel = isPinned(spec);
  const arcs = outerArcs(outline).filter((a) => cos(rad(a.startRad + a.sweepRad / 2)) > 0);
  const byHeight = [...arcs].sort((a, b) => a.centre[1] - b.centre[1]);
  const [low, high] = [byHeight[0], byHeight.at(-1)];
  const add = (id: string, arc: Arc | undefined, radius: number, count: number): void => {
    if (!arc || radius <= 0) return;
    const s = sketch.scale;
    sketch.wanted.push(
      roundOf(id, s, 'radius', sketch.at(arc.centre), arc.radiusMm * s, { before: `${count}× R` }, [
        arc.startRad,
        arc.startRad + arc.sweepRad,
      ]),
    );
  };
  add('top-corner', seen === 'blank' ? high : low, spec.topCornerRadiusMm, channel ? 4 : 2);
  if (!channel) add('base-corner', seen === 'blank' ? low : high, spec.baseCornerRadiusMm, 2);
}

/** The width at the stud's end, between its sharp corners; where those are rounded the sides are drawn on to them. */
export function sizeTop(
  spec: BracketSpec,
  sketch: Sketch,
  at: { readonly middle: number; readonly end: number; readonly side: 1 | -1 },
): void {
  const half = spec.topWidthMm / 2;
  if (Math.abs(spec.topWidthMm - spec.baseWidthMm) < 1e-9) return;
  sketch.size('top-width', 'x', [at.middle - half, at.end], [at.middle + half, at.end], at.side);
}

/** Narrow lines from a rounded corner's ends to the sharp corner that a width is measured to. */
export function sharpCorners(
  sketch: Sketch,
  outline: readonly Segment[],
  corners: readonly (readonly [number, number])[],
): void {
  for (const corner of corners) {
    const arc = outerArcs(outline)
      .map((a) => ({ a, off: offCorner(a, corner) }))
      .sort((p, q) => p.off - q.off)[0];
    if (!arc) continue;
    for (const end of [segmentStart(arc.a), segmentEnd(arc.a)])
      if (Math.hypot(end[0] - corner[0], end[1] - corner[1]) * sketch.scale > 1e-6)
        sketch.pen.line('narrow', end, corner);
  }
}

const offCorner = (a: Arc, corner: readonly [number, number]): number => {
  const m = onCircle(a.centre, a.radiusMm, rad(a.startRad + a.sweepRad / 2));
  return Math.hypot(m[0] - corner[0], m[1] - corner[1]);
};

/** Whether the stud's end is wider or narrower than the other. */
export const tapers = (spec: BracketSpec): boolean => Math.abs(spec.topWidthMm - spec.baseWidthMm) > 1e-9;
