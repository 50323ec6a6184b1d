import { fail } from '../error';

/** A point in a plane, mm. */
export type Point2 = readonly [number, number];

/** A straight piece, or a circular arc from startRad through sweepRad (positive counter-clockwise). Lengths mm. */
export type Segment =
  | { readonly kind: 'line'; readonly from: Point2; readonly to: Point2 }
  | {
      readonly kind: 'arc';
      readonly centre: Point2;
      readonly radiusMm: number;
      readonly startRad: number;
      readonly sweepRad: number;
    };

/** A closed run of segments, each beginning where the one before it ends; counter-clockwise round the material. */
export type Contour = readonly Segment[];

/** The point at angle rad on a circle. */
export const onCircle = (centre: Point2, radiusMm: number, angleRad: number): Point2 => [
  centre[0] + radiusMm * Math.cos(angleRad),
  centre[1] + radiusMm * Math.sin(angleRad),
];

/** Where a segment begins. */
export const segmentStart = (s: Segment): Point2 =>
  s.kind === 'line' ? s.from : onCircle(s.centre, s.radiusMm, s.startRad);

/** Where a segment ends. */
export const segmentEnd = (s: Segment): Point2 =>
  s.kind === 'line' ? s.to : onCircle(s.centre, s.radiusMm, s.startRad + s.sweepRad);

/** How much of each edge a rounding of radiusMm takes at a corner that turns by turnRad, mm. */
export const cornerTangentMm = (radiusMm: number, turnRad: number): number =>
  radiusMm * Math.tan(Math.abs(turnRad) / 2);

/**
 * The closed contour through `corners` in order, each corner rounded by its own radius (0 leaves it sharp); corners
 * between edges in line are dropped. Throws a LidwrightError when the roundings at both ends of an edge need more than
 * the edge has.
 */
export function roundedPolygon(corners: readonly { readonly at: Point2; readonly radiusMm: number }[]): Contour {
  const n = corners.length;
  const rounded = corners.map((corner, i) => {
    const before = corners[(i + n - 1) % n]!.at;
    const after = corners[(i + 1) % n]!.at;
    const inLength = Math.hypot(corner.at[0] - before[0], corner.at[1] - before[1]);
    const outLength = Math.hypot(after[0] - corner.at[0], after[1] - corner.at[1]);
    const d1: Point2 = [(corner.at[0] - before[0]) / inLength, (corner.at[1] - before[1]) / inLength];
    const d2: Point2 = [(after[0] - corner.at[0]) / outLength, (after[1] - corner.at[1]) / outLength];
    const turnRad = Math.atan2(d1[0] * d2[1] - d1[1] * d2[0], d1[0] * d2[0] + d1[1] * d2[1]);
    const cut = cornerTangentMm(corner.radiusMm, turnRad);
    const start: Point2 = [corner.at[0] - d1[0] * cut, corner.at[1] - d1[1] * cut];
    const end: Point2 = [corner.at[0] + d2[0] * cut, corner.at[1] + d2[1] * cut];
    return { corner, d1, turnRad, cut, start, end };
  });
  const segments: Segment[] = [];
  const bends = rounded.filter((r) => Math.abs(r.turnRad) > 1e-12);
  bends.forEach((here, i) => {
    const next = bends[(i + 1) % bends.length]!;
    if (here.corner.radiusMm > 0 && here.cut > 0) {
      const side = Math.sign(here.turnRad);
      const centre: Point2 = [
        here.start[0] - here.d1[1] * side * here.corner.radiusMm,
        here.start[1] + here.d1[0] * side * here.corner.radiusMm,
      ];
      const startRad = Math.atan2(here.start[1] - centre[1], here.start[0] - centre[0]);
      segments.push({ kind: 'arc', centre, radiusMm: here.corner.radiusMm, startRad, sweepRad: here.turnRad });
    }
    const edge = Math.hypot(next.corner.at[0] - here.corner.at[0], next.corner.at[1] - here.corner.at[1]);
    const left = edge - here.cut - next.cut;
    if (left < -1e-9)
      fail(
        `roundings of ${here.corner.radiusMm} and ${next.corner.radiusMm} mm do not fit on an edge of ${edge} mm.`,
        [],
        'Make the radii smaller or the edge longer.',
      );
    if (left > 1e-9) segments.push({ kind: 'line', from: here.end, to: next.start });
  });
  return segments;
}

/** Area inside a closed contour, mm², exact for arcs; positive when it runs counter-clockwise. */
export function contourAreaMm2(contour: Contour): number {
  let twice = 0;
  for (const s of contour) {
    if (s.kind === 'line') twice += s.from[0] * s.to[1] - s.to[0] * s.from[1];
    else {
      const end = s.startRad + s.sweepRad;
      twice +=
        s.radiusMm *
        (s.radiusMm * s.sweepRad +
          s.centre[0] * (Math.sin(end) - Math.sin(s.startRad)) -
          s.centre[1] * (Math.cos(end) - Math.cos(s.startRad)));
    }
  }
  return twice / 2;
}

/** Corner points of the contour with each arc cut into pieces of at most stepRad; the closing point is not repeated. */
export function contourPoints(contour: Contour, stepRad: number): Point2[] {
  const points: Point2[] = [];
  for (const s of contour) {
    points.push(segmentStart(s));
    if (s.kind === 'arc') {
      const pieces = Math.max(1, Math.ceil(Math.abs(s.sweepRad) / stepRad - 1e-9));
      for (let i = 1; i < pieces; i++)
        points.push(onCircle(s.centre, s.radiusMm, s.startRad + (s.sweepRad * i) / pieces));
    }
  }
  return points;
}

/** Least distance from a point to a segment, mm. */
function segmentDistanceMm(p: Point2, s: Segment): number {
  if (s.kind === 'line') {
    const dx = s.to[0] - s.from[0];
    const dy = s.to[1] - s.from[1];
    const along = ((p[0] - s.from[0]) * dx + (p[1] - s.from[1]) * dy) / (dx * dx + dy * dy);
    const k = Math.min(1, Math.max(0, along));
    return Math.hypot(p[0] - s.from[0] - k * dx, p[1] - s.from[1] - k * dy);
  }
  const angle = Math.atan2(p[1] - s.centre[1], p[0] - s.centre[0]);
  const turn = ((angle - s.startRad) * Math.sign(s.sweepRad)) % (2 * Math.PI);
  const from = turn < 0 ? turn + 2 * Math.PI : turn;
  if (from <= Math.abs(s.sweepRad)) return Math.abs(Math.hypot(p[0] - s.centre[0], p[1] - s.centre[1]) - s.radiusMm);
  const ends = [segmentStart(s), segmentEnd(s)];
  return Math.min(...ends.map((e) => Math.hypot(p[0] - e[0], p[1] - e[1])));
}

/** Distance from a point to the contour's line, mm: positive inside, negative outside. */
export function depthInContourMm(p: Point2, contour: Contour): number {
  const distance = Math.min(...contour.map((s) => segmentDistanceMm(p, s)));
  const points = contourPoints(contour, Math.PI / 90);
  let inside = false;
  points.forEach((a, i) => {
    const b = points[(i + 1) % points.length]!;
    if (a[1] > p[1] !== b[1] > p[1] && p[0] < a[0] + ((b[0] - a[0]) * (p[1] - a[1])) / (b[1] - a[1])) inside = !inside;
  });
  return inside ? distance : -distance;
}
