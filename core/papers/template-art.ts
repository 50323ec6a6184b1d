import { arrowhead, boundsOf, formatNumber, lineMark, type Mark, type PathSegment, type Point } from '../drawing';
import { type Rad, atan2, cos, rad, sin, toDeg } from '../space';
import { TextPlacer } from './place-text';
import { holeMark } from './cutting-sheet';

/** A hole to drill in the mount, in the template's own coordinates: mm, x and y on the surface, seen from outside. */
export interface TemplateHole {
  readonly id: string;
  readonly centre: Point;
  readonly diameterMm: number;
  /** Between the centres of a slot's two ends; 0 for a round hole. */
  readonly slotMm: number;
  readonly slotRad: Rad;
}

/** A direction on the surface that shows how the template lies. */
export interface TemplateDirection {
  readonly words: string;
  readonly direction: Point;
}

/** What goes on a drill template, whatever it is for. Lengths mm, seen square on to the surface to be drilled. */
export interface TemplateSpec {
  readonly name: string;
  readonly outline: readonly PathSegment[];
  readonly holes: readonly TemplateHole[];
  readonly directions: readonly TemplateDirection[];
  /** What lies at the origin: "under the stud". Null: no cross there. */
  readonly originWords: string | null;
  readonly notes: readonly string[];
  /** x runs to the left as it is drawn: the words then give coordinates of the part, not of the paper. */
  readonly xToLeft?: boolean;
}

const OVER_MM = 5;
const TEXT_MM = 3.5;

const turnSegment = (s: PathSegment, at: (p: Point) => Point, turn: number): PathSegment =>
  s.kind === 'line'
    ? { kind: 'line', from: at(s.from), to: at(s.to) }
    : { ...s, centre: at(s.centre), startRad: rad(s.startRad + turn) };

/** The template turned by 90° counter-clockwise: for a part that is longer than the paper is wide. */
export function turnedTemplate(spec: TemplateSpec): TemplateSpec {
  const at = ([x, y]: Point): Point => [-y, x];
  return {
    ...spec,
    outline: spec.outline.map((s) => turnSegment(s, at, Math.PI / 2)),
    holes: spec.holes.map((h) => ({ ...h, centre: at(h.centre), slotRad: rad(h.slotRad + Math.PI / 2) })),
    directions: spec.directions.map((d) => ({ ...d, direction: at(d.direction) })),
  };
}

/** The template as it lies on the other side of the panel, or for a mirrored twin: x turned round. */
export function mirroredTemplate(spec: TemplateSpec): TemplateSpec {
  const at = ([x, y]: Point): Point => [-x, y];
  const mirrored = spec.outline.map((s): PathSegment =>
    s.kind === 'line'
      ? { kind: 'line', from: at(s.from), to: at(s.to) }
      : { ...s, centre: at(s.centre), startRad: rad(Math.PI - s.startRad), sweepRad: rad(-s.sweepRad) },
  );
  return {
    ...spec,
    outline: mirrored,
    holes: spec.holes.map((h) => ({ ...h, centre: at(h.centre), slotRad: rad(Math.PI - h.slotRad) })),
    directions: spec.directions.map((d) => ({ ...d, direction: at(d.direction) })),
    xToLeft: !spec.xToLeft,
  };
}

/** What is drawn at 1:1, and for each hole the group that must be whole on one page. */
export interface TemplateArt {
  readonly marks: readonly Mark[];
  readonly groups: readonly (readonly Mark[])[];
}

/** The template's drawing at 1:1: outline, holes with centre crosses and their numbers, centre lines through the origin; what stands `beside` is kept clear. */
export function templateArt(spec: TemplateSpec, beside: readonly Mark[] = []): TemplateArt {
  const base: Mark[] = [];
  if (spec.outline.length > 0) base.push({ kind: 'path', role: 'visible', closed: true, segments: spec.outline });
  const holes = spec.holes.map((h): Mark[] => {
    const reach = h.diameterMm / 2 + OVER_MM;
    const [c, s] = [cos(h.slotRad), sin(h.slotRad)];
    const [x, y] = h.centre;
    const bar = (ux: number, uy: number, r: number): Mark =>
      lineMark('narrow', [x - ux * r, y - uy * r], [x + ux * r, y + uy * r]);
    const slot = h.slotMm > 1e-9;
    const [ux, uy] = slot ? [c, s] : [1, 0];
    return [holeMark(h), bar(ux, uy, reach + (slot ? h.slotMm / 2 : 0)), bar(-uy, ux, reach)];
  });
  const solid = [...base, ...holes.flat(), ...beside];
  const box = solid.length > 0 ? boundsOf(solid) : { left: -1, right: 1, bottom: -1, top: 1 };
  const arms: Point[] = [
    [Math.max(box.right, 0) + 8, 0],
    [Math.min(box.left, 0) - 8, 0],
    [0, Math.max(box.top, 0) + 8],
    [0, Math.min(box.bottom, 0) - 8],
  ];
  const cross = spec.originWords === null ? [] : arms.map((to) => lineMark('centre', [0, 0], to));
  const placer = new TextPlacer({ left: -1e5, right: 1e5, bottom: -1e5, top: 1e5 }, [...solid, ...cross]);
  const groups = spec.holes.map((h, i): Mark[] => [
    ...holes[i]!,
    ...(placer.near(`${i + 1}`, TEXT_MM, h.centre, {
      fromMm: h.diameterMm / 2 + 2,
      leaderFromMm: h.diameterMm / 2 + 9,
    }) ?? []),
  ]);
  const words =
    spec.originWords === null ? [] : (placer.near(spec.originWords, 2.5, [0, 0], { fromMm: 3, toMm: 120 }) ?? []);
  return { marks: [...base, ...beside, ...cross, ...groups.flat(), ...words], groups };
}

/** Arrows nearer to each other than this are drawn as one with the words of both under each other. */
const SAME_WAY_RAD = 0.06;

/** Arrows from a middle with their words, within a box whose lower left corner is the origin. */
export function compass(directions: readonly TemplateDirection[], widthMm: number, heightMm: number): Mark[] {
  const middle: Point = [widthMm / 2, heightMm / 2];
  const long = Math.min(widthMm, heightMm) * 0.26;
  const ways: { words: string[]; angle: Rad }[] = [];
  for (const { words, direction } of directions) {
    if (!(Math.hypot(...direction) > 0)) continue;
    const angle = atan2(direction[1], direction[0]);
    const same = ways.find((w) => cos(rad(w.angle - angle)) > cos(rad(SAME_WAY_RAD)));
    if (same) same.words.push(words);
    else ways.push({ words: [words], angle });
  }
  const marks: Mark[] = [];
  const tips = ways.map(({ words, angle }) => {
    const unit: Point = [cos(angle), sin(angle)];
    const at: Point = [middle[0] + unit[0] * long, middle[1] + unit[1] * long];
    marks.push(lineMark('narrow', middle, at), arrowhead(at, unit));
    return { at, words };
  });
  const placer = new TextPlacer({ left: 0, right: widthMm, bottom: 0, top: heightMm }, marks);
  for (const { at, words } of tips)
    for (const word of words)
      marks.push(...(placer.near(word, 2.5, at, { fromMm: 1, toMm: 24, leaderFromMm: 9 }) ?? []));
  return marks;
}

/** "1: ⌀9, x −40, y 12.5" of each hole, in the part's own coordinates. */
export function holeWords(spec: TemplateSpec): string[] {
  const told = spec.xToLeft ? mirroredTemplate(spec) : spec;
  const mm = (v: number): string => formatNumber(v, 2).replace(/^-/, '−');
  return told.holes.map((h, i) => {
    const deg = ((toDeg(h.slotRad) % 180) + 180) % 180;
    const at = `x ${mm(h.centre[0])}, y ${mm(h.centre[1])}`;
    return h.slotMm > 1e-9
      ? `${i + 1}: middle of a slot ${mm(h.diameterMm)} × ${mm(h.diameterMm + h.slotMm)} lying ${formatNumber(deg, 1)}° from x towards y, ${at}`
      : `${i + 1}: ⌀${mm(h.diameterMm)}, ${at}`;
  });
}
