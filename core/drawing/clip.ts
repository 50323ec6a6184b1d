import { acos, asin, onCircle, rad } from '../space';
import { explodeDimension } from './dimension';
import { boundsOf, type Box } from './geometry';
import { textBox } from './lettering';
import type { LineRole, Mark, PathSegment, PlainMark, Point } from './model';

type ArcSegment = Extract<PathSegment, { kind: 'arc' }>;

const inside = ([x, y]: Point, b: Box): boolean => x >= b.left && x <= b.right && y >= b.bottom && y <= b.top;
const holds = (outer: Box, inner: Box): boolean =>
  inner.left >= outer.left && inner.right <= outer.right && inner.bottom >= outer.bottom && inner.top <= outer.top;

/** The piece of a straight line inside a box (Liang–Barsky), or null. */
export function clipLine(from: Point, to: Point, box: Box): readonly [Point, Point] | null {
  let [low, high] = [0, 1];
  const d: Point = [to[0] - from[0], to[1] - from[1]];
  for (const [step, room] of [
    [-d[0], from[0] - box.left],
    [d[0], box.right - from[0]],
    [-d[1], from[1] - box.bottom],
    [d[1], box.top - from[1]],
  ] as const) {
    if (step === 0) {
      if (room < 0) return null;
    } else if (step < 0) low = Math.max(low, room / step);
    else high = Math.min(high, room / step);
  }
  if (!(low < high)) return null;
  const at = (t: number): Point => (t === 0 ? from : t === 1 ? to : [from[0] + d[0] * t, from[1] + d[1] * t]);
  return [at(low), at(high)];
}

/** The pieces of an arc inside a box. */
export function clipArc(arc: Omit<ArcSegment, 'kind'>, box: Box): Omit<ArcSegment, 'kind'>[] {
  const { centre, radiusMm: r, startRad, sweepRad } = arc;
  const cuts: number[] = [0, 1];
  const add = (angle: number): void => {
    const turn = 2 * Math.PI * Math.sign(sweepRad);
    let t = (angle - startRad) / sweepRad;
    const whole = turn / sweepRad;
    t -= Math.floor(t / whole) * whole;
    for (; t < 1; t += whole) if (t > 0) cuts.push(t);
  };
  for (const x of [box.left, box.right]) {
    const c = (x - centre[0]) / r;
    if (Math.abs(c) < 1) [acos(c), -acos(c)].forEach(add);
  }
  for (const y of [box.bottom, box.top]) {
    const s = (y - centre[1]) / r;
    if (Math.abs(s) < 1) [asin(s), Math.PI - asin(s)].forEach(add);
  }
  cuts.sort((a, b) => a - b);
  const out: Omit<ArcSegment, 'kind'>[] = [];
  for (let i = 0; i + 1 < cuts.length; i++) {
    const [a, b] = [cuts[i]!, cuts[i + 1]!];
    if (b - a < 1e-12) continue;
    const middle = rad(startRad + (sweepRad * (a + b)) / 2);
    if (!inside(onCircle(centre, r, middle), box)) continue;
    out.push({ centre, radiusMm: r, startRad: rad(startRad + sweepRad * a), sweepRad: rad(sweepRad * (b - a)) });
  }
  return out;
}

const lineIn = (role: LineRole, from: Point, to: Point, box: Box): PlainMark[] => {
  const piece = clipLine(from, to, box);
  return piece ? [{ kind: 'line', role, from: piece[0], to: piece[1] }] : [];
};
const arcIn = (role: LineRole, arc: Omit<ArcSegment, 'kind'>, box: Box): PlainMark[] =>
  clipArc(arc, box).map((piece) => ({ kind: 'arc', role, ...piece }));

function clipOne(mark: PlainMark, box: Box): PlainMark[] {
  if (mark.kind === 'text') {
    return textBox(mark).every((p) => inside(p, box)) ? [mark] : [];
  }
  if (holds(box, boundsOf([mark]))) return [mark];
  switch (mark.kind) {
    case 'line':
      return lineIn(mark.role, mark.from, mark.to, box);
    case 'arc':
      return arcIn(mark.role, mark, box);
    case 'circle':
      return arcIn(mark.role, { ...mark, startRad: rad(0), sweepRad: rad(2 * Math.PI) }, box);
    case 'path':
      return mark.segments.flatMap((s) =>
        s.kind === 'line' ? lineIn(mark.role, s.from, s.to, box) : arcIn(mark.role, s, box),
      );
    case 'area':
      return [];
  }
}

/**
 * What of the marks lies inside a box: lines, arcs and outlines are cut at its edge; a text or a filled area is kept only
 * whole. A closed outline that is whole inside stays closed.
 */
export const clipMarks = (marks: readonly Mark[], box: Box): PlainMark[] =>
  marks
    .flatMap((mark) => (mark.kind === 'dimension' ? explodeDimension(mark) : [mark]))
    .flatMap((m) => clipOne(m, box));
