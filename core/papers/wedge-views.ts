import { threadOfMediumHole } from '../bracket';
import { boxMark, circleMark, type Part, sidesOf } from '../drawing';
import { type WedgeHole, type WedgeSpec, footprintSize, holeOnFace, holeReach, thicknessAt } from '../joint';
import { atan2, cos, onCircle, rad, sin, tan, toRad } from '../space';
import { FIRST_MM, LEADER_OFF_MM, LEADER_PITCH_MM, LEADER_SLOPE, NEXT_MM, ViewPen } from './view';

/** Shorter on paper than this an angle's arc has no room for two arrows. */
const LEAST_ARC_MM = 9;
/** From the thick end to the arc of the angle: past the dimension of the thick end. */
const ARC_OFF_MM = FIRST_MM + 14;
const PAST_ARC_MM = 0.8;

type Flat = readonly [number, number];

/** Different values of something about the holes, ascending. */
const distinct = (values: readonly number[]): number[] =>
  [...values].sort((a, b) => a - b).filter((v, i, all) => i === 0 || v - all[i - 1]! > 1e-6);

/** The profile, seen along the mount with the thick end to the right. Origin in the underside, under the footprint's middle. */
export function wedgeProfile(spec: WedgeSpec, scale: number): Part {
  const pen = new ViewPen(scale);
  const half = footprintSize(spec).lengthMm / 2;
  const [thin, thick] = [spec.thinMm, thicknessAt(spec, half)];
  const corners: Flat[] = [
    [-half, 0],
    [half, 0],
    [half, thick],
  ];
  pen.outline(sidesOf(thin > 1e-9 ? [...corners, [-half, thin]] : corners));
  const drawn = new Set<string>();
  for (const hole of spec.holes) {
    const key = `${hole.xMm.toFixed(4)} ${hole.diameterMm.toFixed(4)}`;
    if (drawn.has(key)) continue;
    drawn.add(key);
    const face = holeOnFace(spec, hole);
    const [low, high] = [holeReach(spec, hole, 'underside'), holeReach(spec, hole, 'face')];
    for (const side of [-1, 1]) {
      const top = face + side * high;
      pen.hidden([hole.xMm + side * low, 0], [top, thicknessAt(spec, top)]);
    }
    const up = thicknessAt(spec, face);
    pen.centreLine([(hole.xMm + face) / 2, up / 2], [hole.xMm, 0], [face, up]);
  }
  if (thin > 1e-9)
    pen.linear('thin', 'vertical', [-half, 0], [-half, thin], -half * scale - FIRST_MM, { outside: 'end' });
  pen.linear('thick', 'vertical', [half, 0], [half, thick], half * scale + FIRST_MM, {
    outside: 'start',
    auxiliary: true,
  });
  angle(pen, spec, half);
  return { name: 'profile', marks: pen.marks };
}

/** The angle between face and underside: an arc past the thick end where it has room, else on a leader from the face. */
function angle(pen: ViewPen, spec: WedgeSpec, half: number): void {
  const angleRad = toRad(spec.angleDeg);
  const vertex: Flat = [-half - spec.thinMm / tan(angleRad), 0];
  const radiusMm = (half - vertex[0]) * pen.scale + ARC_OFF_MM;
  const mark = {
    kind: 'dimension',
    id: 'angle',
    measured: { of: 'angle', vertex: pen.at(vertex), startRad: rad(0), sweepRad: angleRad },
    scale: pen.scale,
    before: '',
    decimals: 1,
  } as const;
  if (radiusMm * angleRad < LEAST_ARC_MM) {
    const tip = pen.at([0, thicknessAt(spec, 0)]);
    const landing: Flat = [tip[0] - 6, pen.at([0, thicknessAt(spec, half)])[1] + 9];
    pen.push({ ...mark, after: '° to the underside', layout: { style: 'leader', tip, landing, side: 1 } });
    return;
  }
  // the underside and the face drawn on to the arc
  const out = (radiusMm + PAST_ARC_MM) / pen.scale;
  const gap = 2 / pen.scale;
  pen.line('narrow', [half + gap, 0], [vertex[0] + out, 0]);
  pen.line(
    'narrow',
    [half + gap, thicknessAt(spec, half + gap)],
    [vertex[0] + out * cos(angleRad), out * sin(angleRad)],
  );
  pen.push({ ...mark, after: '°', layout: { style: 'angular', radiusMm } });
}

/** An ellipse with its long and short half along x and y as a closed path of short pieces: the sheet model has no ellipse. */
function ellipse(pen: ViewPen, [x, y]: Flat, a: number, b: number): void {
  const at = (i: number): Flat => [x + a * cos(toRad(5 * i)), y + b * sin(toRad(5 * i))];
  pen.outline(Array.from({ length: 72 }, (_, i) => ({ kind: 'line', from: at(i), to: at(i + 1) })));
}

/** The plan, seen from above on the face, thick end to the right. Origin in the footprint's middle. */
export function wedgePlan(spec: WedgeSpec, scale: number): Part {
  const pen = new ViewPen(scale);
  const { lengthMm, widthMm } = footprintSize(spec);
  const [hx, hy] = [lengthMm / 2, widthMm / 2];
  const onFace = (h: WedgeHole): Flat => [holeOnFace(spec, h), h.yMm];
  if (spec.footprint.kind === 'round') {
    pen.push(circleMark('visible', [0, 0], hx * scale));
    pen.centreLine([0, 0], [-hx, 0], [hx, 0]);
    pen.centreLine([0, 0], [0, -hy], [0, hy]);
  } else {
    pen.outline(boxMark('visible', { left: -hx, bottom: -hy, right: hx, top: hy }).segments);
  }
  const round = spec.footprint.kind === 'round';
  for (const hole of spec.holes) {
    const at = onFace(hole);
    const [a, b] = [holeReach(spec, hole, 'face'), hole.diameterMm / 2];
    if (Math.abs(a - b) < 1e-9) pen.push(circleMark('visible', pen.at(at), b * scale));
    else ellipse(pen, at, a, b);
    if (!round || Math.abs(at[1]) > 1e-6) pen.centreLine(at, [at[0] - a, at[1]], [at[0] + a, at[1]]);
    if (!round || Math.abs(at[0]) * scale > 1.5) pen.centreLine(at, [at[0], at[1] - b], [at[0], at[1] + b]);
  }
  let level = -hy * scale - FIRST_MM;
  distinct(spec.holes.map((h) => onFace(h)[0])).forEach((x, i) => {
    const lowest = spec.holes
      .filter((h) => Math.abs(onFace(h)[0] - x) < 1e-6)
      .reduce((p, q) => (q.yMm < p.yMm ? q : p));
    pen.linear(`hole-x-${i + 1}`, 'horizontal', [-hx, round ? 0 : -hy], onFace(lowest), level, {
      // a figure with no room goes past the thick end: on the left the upright ones have theirs
      outside: 'end',
      clearMm: (hx - x) * scale + 2,
      gaps: [2, pen.holeGapMm(lowest.diameterMm)],
    });
    level -= NEXT_MM;
  });
  if (!round) pen.linear('length', 'horizontal', [-hx, -hy], [hx, -hy], level, { outside: 'end' });
  let left = -hx * scale - FIRST_MM;
  // on a round one a hole on its middle line needs no second figure
  const across = distinct(spec.holes.map((h) => h.yMm)).filter((y) => !round || Math.abs(y) > 1e-6);
  across.forEach((y, i) => {
    const nearest = spec.holes
      .filter((h) => Math.abs(h.yMm - y) < 1e-6)
      .reduce((p, q) => (onFace(q)[0] < onFace(p)[0] ? q : p));
    pen.linear(`hole-y-${i + 1}`, 'vertical', [round ? 0 : -hx, -hy], onFace(nearest), left, {
      outside: 'start',
      gaps: [2, pen.holeGapMm(nearest.diameterMm)],
    });
    left -= NEXT_MM;
  });
  if (!round) pen.linear('width', 'vertical', [-hx, -hy], [-hx, hy], left, { outside: 'end' });

  let rise = hy * scale;
  const right = hx * scale + LEADER_OFF_MM;
  /** `reach` is the half width along x of what is drawn: under the true radius where a hole is seen aslant. */
  const leader = (
    id: string,
    centre: Flat,
    radius: number,
    reach: number,
    words: { before: string; after?: string },
  ): void => {
    const middle = pen.at(centre);
    const landing: Flat = [right, Math.max(rise, middle[1] + LEADER_SLOPE * (right - middle[0]))];
    rise = landing[1] + LEADER_PITCH_MM;
    const aim = atan2(landing[1] - middle[1], landing[0] - middle[0]);
    const off = (reach * radius * scale) / Math.hypot(radius * cos(aim), reach * sin(aim));
    pen.push({
      kind: 'dimension',
      id,
      measured: { of: 'diameter', centre: middle, radiusMm: radius * scale },
      scale,
      before: words.before,
      after: words.after ?? '',
      decimals: 2,
      layout: {
        style: 'leader',
        tip: onCircle(middle, off, aim),
        landing,
        side: 1,
      },
    });
  };
  distinct(spec.holes.map((h) => h.diameterMm)).forEach((diameterMm, i) => {
    const same = spec.holes.filter((h) => Math.abs(h.diameterMm - diameterMm) < 1e-6);
    const top = same.reduce((p, q) => ((q.yMm - p.yMm || onFace(q)[0] - onFace(p)[0]) > 0 ? q : p));
    const thread = threadOfMediumHole(diameterMm);
    leader(`hole-${i + 1}`, onFace(top), diameterMm / 2, holeReach(spec, top, 'face'), {
      before: `${same.length > 1 ? `${same.length}× ` : ''}⌀`,
      after: thread ? ` (${thread})` : '',
    });
  });
  if (round) leader('diameter', [0, 0], hx, hx, { before: '⌀' });
  return { name: 'plan', marks: pen.marks };
}
