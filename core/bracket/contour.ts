import { fail } from '../error';
import { type Rad, atan2, cos, onCircle, rad, sin, tan, toRad } from '../space';

/** A point in a plane, mm. */
export type Point2 = readonly [number, number];

/** A straight piece, or a circular arc from startRad through sweepRad (positive counter-clockwise). Lengths mm. */
export type Segment =
  | { readonly kind: 'line'; readonly from: Point2; readonly to: Point2 }
  | {
      readonly kind: 'arc';
      readonly centre: Point2;
      readonly radiusMm: number;
      readonly startRad: Rad;
      readonly sweepRad: Rad;
    };

/** A closed run of segments, each beginning where the one before it ends; counter-clockwise round the material. */
export type Contour = readonly Segment[];

/** A corner of a polygon and the radius it is rounded by, mm; 0 leaves it sharp. */
export interface Corner {
  readonly at: Point2;
  readonly radiusMm: number;
}

/** Where a segment begins. */
export const segmentStart = (s: Segment): Point2 =>
  s.kind === 'line' ? s.from : onCircle(s.centre, s.radiusMm, s.startRad);

/** Where a segment ends. */
export const segmentEnd = (s: Segment): Point2 =>
  s.kind === 'line' ? s.to : onCircle(s.centre, s.radiusMm, rad(s.startRad + s.sweepRad));

/** How much of each edge a rounding of radiusMm takes at a corner that turns by turnRad, mm. */
export const cornerTangentMm = (radiusMm: number, turnRad: Rad): number => radiusMm * tan(rad(Math.abs(turnRad) / 2));

/**
 * The closed contour through `corners` in order, each corner rounded by its own radius (0 leaves it sharp); corners
 * between edges in line are dropped. Throws a LidwrightError when the roundings at both ends of an edge need more than
 * the edge has.
 */
export function roundedPolygon(corners: readonly Corner[]): Contour {
  const n = corners.length;
  const rounded = corners.map((corner, i) => {
    const before = corners[(i + n - 1) % n]!.at;
    const after = corners[(i + 1) % n]!.at;
    const inLength = Math.hypot(corner.at[0] - before[0], corner.at[1] - before[1]);
    const outLength = Math.hypot(after[0] - corner.at[0], after[1] - corner.at[1]);
    const d1: Point2 = [(corner.at[0] - before[0]) / inLength, (corner.at[1] - before[1]) / inLength];
    const d2: Point2 = [(after[0] - corner.at[0]) / outLength, (after[1] - corner.at[1]) / outLength];
    const turnRad = atan2(d1[0] * d2[1] - d1[1] * d2[0], d1[0] * d2[0] + d1[1] * d2[1]);
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
      const startRad = atan2(here.start[1] - centre[1], here.start[0] - centre[0]);
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
      const end = rad(s.startRad + s.sweepRad);
      twice +=
        s.radiusMm *
        (s.radiusMm * s.sweepRad +
          s.centre[0] * (sin(end) - sin(s.startRad)) -
          s.centre[1] * (cos(end) - cos(s.startRad)));
    }
  }
  return twice / 2;
}

/**
 * First moments of the area inside a closed counter-clockwise contour, mm³: [∫x dA, ∫y dA], exact for arcs. Divided by the area
 * they give the centroid. By Green's theorem: ½∮x²dy and −½∮y²dx.
 */
export function contourFirstMomentMm3(contour: Contour): Point2 {
  let mx = 0;
  let my = 0;
  for (const s of contour) {
    if (s.kind === 'line') {
      const [[x1, y1], [x2, y2]] = [s.from, s.to];
      mx += ((y2 - y1) * (x1 * x1 + x1 * x2 + x2 * x2)) / 6;
      my -= ((x2 - x1) * (y1 * y1 + y1 * y2 + y2 * y2)) / 6;
      continue;
    }
    const { radiusMm: r, centre } = s;
    const end = rad(s.startRad + s.sweepRad);
    const over = (f: (a: Rad) => number): number => f(end) - f(s.startRad);
    mx +=
      (r / 2) *
      (centre[0] ** 2 * over(sin) +
        2 * centre[0] * r * over((a) => a / 2 + sin(rad(2 * a)) / 4) +
        r * r * over((a) => sin(a) - sin(a) ** 3 / 3));
    my +=
      (r / 2) *
      (centre[1] ** 2 * over((a) => -cos(a)) +
        2 * centre[1] * r * over((a) => a / 2 - sin(rad(2 * a)) / 4) +
        r * r * over((a) => cos(a) ** 3 / 3 - cos(a)));
  }
  return [mx, my];
}

/** The outline of a hole, counter-clockwise: a circle in two halves, or a slot whose round ends are slotMm apart, along slotRad. */
export function holeContour(hole: {
  readonly centre: Point2;
  readonly diameterMm: number;
  readonly slotMm: number;
  readonly slotRad: Rad;
}): Contour {
  const { centre, slotMm, slotRad } = hole;
  const radiusMm = hole.diameterMm / 2;
  const half: Point2 = [(cos(slotRad) * slotMm) / 2, (sin(slotRad) * slotMm) / 2];
  const ahead: Point2 = [centre[0] + half[0], centre[1] + half[1]];
  const behind: Point2 = [centre[0] - half[0], centre[1] - half[1]];
  const first: Segment = {
    kind: 'arc',
    centre: ahead,
    radiusMm,
    startRad: rad(slotRad - Math.PI / 2),
    sweepRad: rad(Math.PI),
  };
  const second: Segment = {
    kind: 'arc',
    centre: behind,
    radiusMm,
    startRad: rad(slotRad + Math.PI / 2),
    sweepRad: rad(Math.PI),
  };
  if (slotMm <= 0) return [first, second];
  return [
    first,
    { kind: 'line', from: segmentEnd(first), to: segmentStart(second) },
    second,
    { kind: 'line', from: segmentEnd(second), to: segmentStart(first) },
  ];
}

/** The contour turned by `turnRad` about [0, 0], then mirrored left to right if asked, then moved; lengths mm. */
export function movedContour(
  contour: Contour,
  by: { readonly mirror?: boolean; readonly turnRad?: Rad; readonly move?: Point2 },
): Contour {
  const turn = by.turnRad ?? rad(0);
  const [c, s] = [cos(turn), sin(turn)];
  const flip = by.mirror ? -1 : 1;
  const [dx, dy] = by.move ?? [0, 0];
  const point = ([x, y]: Point2): Point2 => [flip * (c * x - s * y) + dx, s * x + c * y + dy];
  return contour.map((seg): Segment => {
    if (seg.kind === 'line') return { ...seg, from: point(seg.from), to: point(seg.to) };
    const startRad = seg.startRad + turn;
    return {
      ...seg,
      centre: point(seg.centre),
      startRad: rad(by.mirror ? Math.PI - startRad : startRad),
      sweepRad: rad(flip * seg.sweepRad),
    };
  });
}

/** Where two pieces of the contour that are not neighbours cross or touch; null when none do. Arcs are taken as chords of at most 6°. */
export function selfCrossing(contour: Contour): Point2 | null {
  const p = contourPoints(contour, toRad(6));
  const side = (a: Point2, b: Point2, c: Point2): number =>
    Math.sign((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));
  for (let i = 0; i < p.length; i++)
    for (let j = i + 2; j < p.length; j++) {
      if (i === 0 && j === p.length - 1) continue;
      const [a, b, c, d] = [p[i]!, p[(i + 1) % p.length]!, p[j]!, p[(j + 1) % p.length]!];
      if (side(a, b, c) !== side(a, b, d) && side(c, d, a) !== side(c, d, b)) return c;
    }
  return null;
}

/** Corner points of the contour with each arc cut into pieces of at most stepRad; the closing point is not repeated. */
export function contourPoints(contour: Contour, stepRad: Rad): Point2[] {
  const points: Point2[] = [];
  for (const s of contour) {
    points.push(segmentStart(s));
    if (s.kind === 'arc') {
      const pieces = Math.max(1, Math.ceil(Math.abs(s.sweepRad) / stepRad - 1e-9));
      for (let i = 1; i < pieces; i++)
        points.push(onCircle(s.centre, s.radiusMm, rad(s.startRad + (s.sweepRad * i) / pieces)));
    }
  }
  return points;
}

/** Least distance from a point to a segment, mm. */
export function segmentDistanceMm(p: Point2, s: Segment): number {
  if (s.kind === 'line') {
    const dx = s.to[0] - s.from[0];
    const dy = s.to[1] - s.from[1];
    const long2 = dx * dx + dy * dy;
    const along = (p[0] - s.from[0]) * dx + (p[1] - s.from[1]) * dy;
    const k = long2 === 0 ? 0 : Math.min(1, Math.max(0, along / long2));
    return Math.hypot(p[0] - s.from[0] - k * dx, p[1] - s.from[1] - k * dy);
  }
  const angle = atan2(p[1] - s.centre[1], p[0] - s.centre[0]);
  const turn = ((angle - s.startRad) * Math.sign(s.sweepRad)) % (2 * Math.PI);
  const from = turn < 0 ? turn + 2 * Math.PI : turn;
  if (from <= Math.abs(s.sweepRad)) return Math.abs(Math.hypot(p[0] - s.centre[0], p[1] - s.centre[1]) - s.radiusMm);
  const ends = [segmentStart(s), segmentEnd(s)];
  return Math.min(...ends.map((e) => Math.hypot(p[0] - e[0], p[1] - e[1])));
}

/** Distance from a point to the contour's line, mm: positive inside, negative outside. */
export function depthInContourMm(p: Point2, contour: Contour): number {
  const distance = Math.min(...contour.map((s) => segmentDistanceMm(p, s)));
  const points = contourPoints(contour, toRad(2));
  let inside = false;
  for (const [i, a] of points.entries()) {
    const b = points[(i + 1) % points.length]!;
    if (a[1] > p[1] !== b[1] > p[1] && p[0] < a[0] + ((b[0] - a[0]) * (p[1] - a[1])) / (b[1] - a[1])) inside = !inside;
  }
  return inside ? distance : -distance;
}
