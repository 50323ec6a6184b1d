import { atan2, cos, onCircle, rad, sin, tan, toDeg, toRad } from '../space';
import { NARROW_MM } from './lines';
import { textWidthMm } from './lettering';
import type { AreaMark, DimensionMark, LineMark, Mark, PlainMark, Point, TextMark } from './model';
import { formatNumber } from './number';

/** Height of dimension figures. Least 2.5 on A4 to A1 (ISO 3098); 3.5 reads in a workshop. */
export const FIGURE_MM = 3.5;
/** Filled arrowhead, 15° between its sides (ISO 129-1). */
export const ARROW_MM = 3;
/** Extension lines run 8 line widths past the dimension line and may start as far off the outline (ISO 129-1). */
export const PAST_MM = 8 * NARROW_MM;
/** Clear space between figure and dimension line. */
const LIFT_MM = 1.2;
/** Length of the arrow and its tail where arrows stand outside. */
const TAIL_MM = ARROW_MM + 1.5;
const LANDING_MM = 3;

/** The figure a dimension stands for: real mm, or degrees for an angle. Taken from the measured points, nothing else. */
export function dimensionValue({ measured, scale }: Pick<DimensionMark, 'measured' | 'scale'>): number {
  switch (measured.of) {
    case 'distance':
      return (
        Math.abs(
          (measured.to[0] - measured.from[0]) * measured.along[0] +
            (measured.to[1] - measured.from[1]) * measured.along[1],
        ) / scale
      );
    case 'radius':
      return measured.radiusMm / scale;
    case 'diameter':
      return (2 * measured.radiusMm) / scale;
    case 'angle':
      return toDeg(rad(Math.abs(measured.sweepRad)));
  }
}

/** The words on the sheet. */
export const dimensionLabel = (dimension: DimensionMark): string =>
  dimension.before + formatNumber(dimensionValue(dimension), dimension.decimals) + dimension.after;

const narrow = (from: Point, to: Point): LineMark => ({ kind: 'line', role: 'narrow', from, to });

/** Filled arrowhead with its point at `tip`, pointing along the unit direction. */
export function arrowhead(tip: Point, direction: Point): AreaMark {
  const half = ARROW_MM * tan(toRad(7.5));
  const back: Point = [tip[0] - direction[0] * ARROW_MM, tip[1] - direction[1] * ARROW_MM];
  return {
    kind: 'area',
    points: [
      tip,
      [back[0] - direction[1] * half, back[1] + direction[0] * half],
      [back[0] + direction[1] * half, back[1] - direction[0] * half],
    ],
  };
}

type Part<S extends string> = DimensionMark & { layout: Extract<DimensionMark['layout'], { style: S }> };

function linear(dimension: Part<'linear'>): PlainMark[] {
  const { measured, layout } = dimension;
  if (measured.of !== 'distance') return [];
  // Reading direction: rightwards, or upwards for a line that stands (read from the right).
  const flip = measured.along[0] < -1e-9 || (Math.abs(measured.along[0]) <= 1e-9 && measured.along[1] < 0);
  const along: Point = flip ? [-measured.along[0], -measured.along[1]] : measured.along;
  const up: Point = [-along[1], along[0]];
  const run = (p: Point): number => p[0] * along[0] + p[1] * along[1];
  const rise = (p: Point): number => p[0] * up[0] + p[1] * up[1];
  const level = rise(layout.through);
  const at = (r: number, lift = 0): Point => [
    r * along[0] + (level + lift) * up[0],
    r * along[1] + (level + lift) * up[1],
  ];
  const swap = run(measured.from) > run(measured.to);
  const ends = swap ? [measured.to, measured.from] : [measured.from, measured.to];
  const gaps = swap ? [layout.gapsMm[1], layout.gapsMm[0]] : layout.gapsMm;
  const [a, b] = [run(ends[0]!), run(ends[1]!)];
  const marks: PlainMark[] = [];
  ends.forEach((end, i) => {
    const away = Math.sign(level - rise(end));
    const length = Math.abs(level - rise(end));
    if (length <= gaps[i]!) return;
    const start: Point = [end[0] + up[0] * away * gaps[i]!, end[1] + up[1] * away * gaps[i]!];
    marks.push(narrow(start, at(run(end), away * PAST_MM)));
  });
  const label = dimensionLabel(dimension);
  const width = textWidthMm(label, FIGURE_MM);
  const arrowsInside = b - a >= 2 * ARROW_MM + 1;
  const textInside = b - a >= width + 1;
  let [from, to] = arrowsInside ? [a, b] : [a - TAIL_MM, b + TAIL_MM];
  let middle = (a + b) / 2;
  if (!textInside) {
    const clear = Math.max(arrowsInside ? 1.5 : TAIL_MM, layout.clearMm ?? 0);
    if (layout.outside === 'end') {
      middle = b + clear + width / 2 + 0.5;
      to = middle + width / 2;
    } else {
      middle = a - clear - width / 2 - 0.5;
      from = middle - width / 2;
    }
  }
  const text: TextMark = {
    kind: 'text',
    at: at(middle, LIFT_MM),
    text: label,
    sizeMm: FIGURE_MM,
    anchor: 'middle',
    rotationDeg: toDeg(atan2(along[1], along[0])),
  };
  const back: Point = [-along[0], -along[1]];
  marks.push(
    narrow(at(from), at(to)),
    arrowhead(at(a), arrowsInside ? back : along),
    arrowhead(at(b), arrowsInside ? along : back),
    text,
  );
  return marks;
}

function leader(dimension: Part<'leader'>): PlainMark[] {
  const { tip, landing, side } = dimension.layout;
  const length = Math.hypot(tip[0] - landing[0], tip[1] - landing[1]);
  const end: Point = [landing[0] + side * LANDING_MM, landing[1]];
  return [
    { kind: 'line', role: 'narrow', from: tip, to: landing },
    narrow(landing, end),
    arrowhead(tip, [(tip[0] - landing[0]) / length, (tip[1] - landing[1]) / length]),
    {
      kind: 'text',
      at: [end[0] + side, end[1] - FIGURE_MM / 2],
      text: dimensionLabel(dimension),
      sizeMm: FIGURE_MM,
      anchor: side === 1 ? 'start' : 'end',
      rotationDeg: 0,
    },
  ];
}

function angular(dimension: Part<'angular'>): PlainMark[] {
  const { measured, layout } = dimension;
  if (measured.of !== 'angle') return [];
  const { vertex, startRad, sweepRad } = measured;
  const r = layout.radiusMm;
  const at = (angle: number, radius = r): Point => onCircle(vertex, radius, rad(angle));
  const turn = Math.sign(sweepRad);
  const tangent = (angle: number, way: number): Point => [-sin(rad(angle)) * way, cos(rad(angle)) * way];
  const middle = startRad + sweepRad / 2;
  const label = dimensionLabel(dimension);
  // The figure stands level outside the arc, clear of it whichever way the arc faces.
  const half = Math.hypot(textWidthMm(label, FIGURE_MM), FIGURE_MM) / 2;
  const place = at(middle, r + LIFT_MM + half);
  return [
    { kind: 'arc', role: 'narrow', centre: vertex, radiusMm: r, startRad, sweepRad },
    arrowhead(at(startRad), tangent(startRad, -turn)),
    arrowhead(at(startRad + sweepRad), tangent(startRad + sweepRad, turn)),
    {
      kind: 'text',
      at: [place[0], place[1] - FIGURE_MM / 2],
      text: label,
      sizeMm: FIGURE_MM,
      anchor: 'middle',
      rotationDeg: 0,
    },
  ];
}

/** Running dimensions run down or to the left of what they size: their figures end there. */
function running(dimension: Part<'running'>): PlainMark[] {
  const { measured, layout } = dimension;
  if (measured.of !== 'distance') return [];
  const { foot, end, gapMm, sizeMm } = layout;
  const { from, to, along } = measured;
  const upright = Math.abs(along[0]) > Math.abs(along[1]);
  const [dx, dy] = [foot[0] - to[0], foot[1] - to[1]];
  const length = Math.hypot(dx, dy);
  const marks: PlainMark[] = [];
  if (length > gapMm) marks.push(narrow([to[0] + (dx / length) * gapMm, to[1] + (dy / length) * gapMm], foot));
  marks.push(narrow(foot, end));
  const step = (to[0] - from[0]) * along[0] + (to[1] - from[1]) * along[1];
  if (Math.abs(step) > 1e-9) marks.push(arrowhead(foot, [along[0] * Math.sign(step), along[1] * Math.sign(step)]));
  // the figure follows the end of its line: upright ones read from the right, level ones from below
  marks.push({
    kind: 'text',
    at: upright ? [end[0] + sizeMm / 2, end[1] - 1] : [end[0] - 1, end[1] - sizeMm / 2],
    text: dimensionLabel(dimension),
    sizeMm,
    anchor: 'end',
    rotationDeg: upright ? 90 : 0,
  });
  return marks;
}

/** A dimension as lines, arrowheads and text, by the habits of ISO 129-1. */
export function explodeDimension(dimension: DimensionMark): PlainMark[] {
  switch (dimension.layout.style) {
    case 'linear':
      return linear(dimension as Part<'linear'>);
    case 'leader':
      return leader(dimension as Part<'leader'>);
    case 'angular':
      return angular(dimension as Part<'angular'>);
    case 'running':
      return running(dimension as Part<'running'>);
  }
}

/** Marks with every dimension taken apart. */
export const explode = (marks: readonly Mark[]): PlainMark[] =>
  marks.flatMap((mark) => (mark.kind === 'dimension' ? explodeDimension(mark) : [mark]));
