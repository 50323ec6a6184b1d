import { type Box, boundsOf, type DimensionMark, explode, type Mark, type Point } from '../../drawing';
import { onCircle, rad, sin, toRad } from '../../space';
import { TextPlacer } from '../place-text';
import { FIRST_MM, NEXT_MM } from '../view';
import type { Leader, Straight, Wanted } from './wanted';

type Piece = readonly [Point, Point];

const FAR: Box = { left: -1e5, right: 1e5, bottom: -1e5, top: 1e5 };
const LEVELS = 16;
/** How far a figure that does not fit between its arrows may move on. */
const CLEAR_MM = [0, 5, 10, 16, 24];
/** What one more level, the other side, and a crossed line cost against each other. */
const OTHER_SIDE = 2.5;
const CROSSING = 0.7;
const LEADER_CROSSING_MM = 14;
/** A leader that runs over edges of the part is harder to read. */
const LEADER_EDGE_MM = 12;
/** Leaders stay clear of level and upright (ISO 129-1). */
const LEAST_SLANT = sin(toRad(9));

/** A size found no place at this scale. */
export class NoRoom extends Error {
  constructor(readonly id: string) {
    super(`no room for ${id}`);
  }
}

/** True when two straight pieces cross between their ends. */
export function piecesCross([a, b]: Piece, [c, d]: Piece): boolean {
  const side = (p: Point, q: Point, r: Point): number => (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  return side(a, b, c) * side(a, b, d) < -1e-9 && side(c, d, a) * side(c, d, b) < -1e-9;
}

interface Row {
  readonly axis: 'x' | 'y';
  readonly level: number;
  readonly low: number;
  readonly high: number;
}

/** Finds a place for every size of one view: beside it, on levels, none over another or over the part. */
class Placer {
  private readonly texts: TextPlacer;
  private readonly box: Box;
  private readonly rows: Row[] = [];
  private readonly pens: Piece[] = [];
  private readonly leaders: Piece[] = [];
  private readonly edges: Piece[];
  private readonly holes: readonly Disc[];
  readonly marks: Mark[] = [];

  constructor(
    shape: readonly Mark[],
    readonly scale: number,
  ) {
    this.texts = new TextPlacer(FAR, shape);
    this.box = boundsOf(shape);
    this.edges = edgesOf(shape);
    this.holes = holesOf(shape);
  }

  /** Whether a text, and each line for the texts that stand already, is clear. */
  private clear(marks: readonly Mark[]): boolean {
    for (const mark of explode(marks)) {
      if (mark.kind === 'text' && !this.texts.free(mark)) return false;
      if (mark.kind === 'line' && !this.texts.freeLine(mark.from, mark.to)) return false;
      if (mark.kind === 'path')
        for (const s of mark.segments) if (s.kind === 'line' && !this.texts.freeLine(s.from, s.to)) return false;
    }
    return true;
  }

  private crossings(marks: readonly Mark[]): number {
    let count = 0;
    for (const mark of explode(marks))
      if (mark.kind === 'line')
        for (const pen of [...this.pens, ...this.leaders]) if (piecesCross([mark.from, mark.to], pen)) count++;
    return count;
  }

  private take(marks: readonly Mark[], pens: Piece[]): void {
    this.texts.add(marks);
    for (const mark of explode(marks)) if (mark.kind === 'line') pens.push([mark.from, mark.to]);
    this.marks.push(...marks);
  }

  straight(wanted: Straight, fromLevel = 0): void {
    const { axis, from, to } = wanted;
    const { box } = this;
    // beyond the datum a figure stands in no other size's way
    const k = axis === 'x' ? 0 : 1;
    const [first, second] = from[k] <= to[k] ? (['start', 'end'] as const) : (['end', 'start'] as const);
    const outsides = [first, second].flatMap((end) => CLEAR_MM.map((clear) => [end, clear] as const));
    let best: { marks: Mark[]; cost: number; row: Row } | undefined;
    for (let level = fromLevel; level < LEVELS; level++) {
      if (best && level > best.cost) break;
      for (const side of [wanted.side, -wanted.side])
        for (const [i, [outside, clearMm]] of outsides.entries()) {
          const off = FIRST_MM + level * NEXT_MM;
          const at =
            axis === 'x' ? (side > 0 ? box.top + off : box.bottom - off) : side > 0 ? box.right + off : box.left - off;
          const mark: DimensionMark = {
            kind: 'dimension',
            id: wanted.id,
            measured: { of: 'distance', from, to, along: axis === 'x' ? [1, 0] : [0, 1] },
            ...{ scale: this.scale, before: wanted.before, after: wanted.after, decimals: wanted.decimals },
            layout: {
              style: 'linear',
              through: axis === 'x' ? [0, at] : [at, 0],
              gapsMm: wanted.gapsMm,
              outside,
              clearMm,
            },
          };
          const marks: Mark[] = [mark];
          const row = rowOf(mark, axis, at);
          const meets = this.rows.some(
            (r) =>
              r.axis === axis &&
              Math.abs(r.level - at) < NEXT_MM - 0.1 &&
              r.low < row.high - 0.1 &&
              row.low < r.high - 0.1,
          );
          if (meets) continue;
          const base = level + (side === wanted.side ? 0 : OTHER_SIDE) + i * 0.25;
          if (best && base >= best.cost) continue;
          if (!this.clear(marks)) continue;
          const cost = base + CROSSING * this.crossings(marks);
          if (!best || cost < best.cost) best = { marks, cost, row };
        }
    }
    if (!best) throw new NoRoom(wanted.id);
    this.rows.push(best.row);
    this.take(best.marks, this.pens);
  }

  leader(wanted: Leader): void {
    const { box } = this;
    const landings: { at: Point; side: 1 | -1; length: number }[] = [];
    const add = (at: Point, side: 1 | -1): void => {
      const tip = wanted.tip(at);
      const [dx, dy] = [at[0] - tip[0], at[1] - tip[1]];
      const length = Math.hypot(dx, dy);
      if (length < 5 || Math.abs(dx) < LEAST_SLANT * length || Math.abs(dy) < LEAST_SLANT * length) return;
      if (dx * side < 0) return;
      landings.push({ at, side, length: length + (side < 0 ? 2 : 0) });
    };
    const middle = (box.left + box.right) / 2;
    for (const off of [6, 11, 17, 24, 32, 42, 54, 68, 86, 110, 140]) {
      for (let y = box.bottom - off; y <= box.top + off; y += 3.4) {
        add([box.right + off, y], 1);
        add([box.left - off, y], -1);
      }
      for (let x = box.left - off; x <= box.right + off; x += 5)
        for (const y of [box.top + off, box.bottom - off]) {
          if (x >= middle) add([x, y], 1);
          if (x <= middle) add([x, y], -1);
        }
    }
    landings.sort((a, b) => a.length - b.length);
    // one through a hole only where there is no other way: better that than no drawing
    const best = this.bestLanding(wanted, landings, true) ?? this.bestLanding(wanted, landings, false);
    if (!best) throw new NoRoom(wanted.id);
    this.take(best.marks, this.leaders);
  }

  private bestLanding(
    wanted: Leader,
    landings: readonly { readonly at: Point; readonly side: 1 | -1; readonly length: number }[],
    offHoles: boolean,
  ): { readonly marks: Mark[]; readonly cost: number } | undefined {
    let best: { marks: Mark[]; cost: number } | undefined;
    for (const { at, side, length } of landings) {
      if (best && length >= best.cost) break;
      const tip = wanted.tip(at);
      if (this.leaders.some((line) => piecesCross(line, [tip, at]))) continue;
      if (offHoles && this.holes.some((hole) => runsInto(tip, at, hole))) continue;
      const marks = wanted.draw(tip, at, side);
      if (!this.clear(marks)) continue;
      const edges = this.edges.filter((e) => piecesCross(e, [shortOf(tip, at), at])).length;
      const cost = length + LEADER_EDGE_MM * edges + LEADER_CROSSING_MM * this.crossings(marks);
      if (!best || cost < best.cost) best = { marks, cost };
    }
    return best;
  }
}

/** A point just off the tip: the edge that the arrow stands on does not count as crossed. */
const shortOf = (tip: Point, at: Point): Point => [tip[0] + (at[0] - tip[0]) * 0.04, tip[1] + (at[1] - tip[1]) * 0.04];

interface Disc {
  readonly centre: Point;
  readonly radiusMm: number;
}

/** Round holes, and of slots the two ends and the middle. */
function holesOf(shape: readonly Mark[]): Disc[] {
  return shape.flatMap((mark): Disc[] => {
    if (mark.kind === 'circle') return [mark];
    if (mark.kind !== 'path' || !mark.closed) return [];
    const ends = mark.segments.flatMap((s) => (s.kind === 'arc' && Math.abs(s.sweepRad) > 3.1 ? [s] : []));
    const [a, b] = ends;
    if (!a || !b) return [];
    const centre: Point = [(a.centre[0] + b.centre[0]) / 2, (a.centre[1] + b.centre[1]) / 2];
    return [...ends, { centre, radiusMm: a.radiusMm }];
  });
}

/** Whether a leader runs into a hole instead of ending on its rim. */
function runsInto(tip: Point, at: Point, { centre, radiusMm }: Disc): boolean {
  const [dx, dy] = [at[0] - tip[0], at[1] - tip[1]];
  const along = ((centre[0] - tip[0]) * dx + (centre[1] - tip[1]) * dy) / (dx * dx + dy * dy || 1);
  const t = Math.max(0, Math.min(1, along));
  return Math.hypot(tip[0] + dx * t - centre[0], tip[1] + dy * t - centre[1]) < radiusMm - 0.02;
}

/** Visible edges as straight pieces, arcs by their chords. */
function edgesOf(shape: readonly Mark[]): Piece[] {
  return shape.flatMap((mark): Piece[] => {
    if (mark.kind === 'line' && mark.role === 'visible') return [[mark.from, mark.to]];
    if (mark.kind !== 'path') return [];
    return mark.segments.map((s): Piece => {
      if (s.kind === 'line') return [s.from, s.to];
      const on = (a: number): Point => onCircle(s.centre, s.radiusMm, rad(a));
      return [on(s.startRad), on(s.startRad + s.sweepRad)];
    });
  });
}

/** What a straight dimension takes of its level. */
function rowOf(mark: DimensionMark, axis: 'x' | 'y', level: number): Row {
  const k = axis === 'x' ? 0 : 1;
  const reach: number[] = [];
  for (const piece of explode([mark])) {
    if (
      piece.kind === 'line' &&
      Math.abs(piece.from[1 - k]! - level) < 1e-9 &&
      Math.abs(piece.to[1 - k]! - level) < 1e-9
    )
      reach.push(piece.from[k], piece.to[k]);
    if (piece.kind === 'text') {
      const box = boundsOf([piece]);
      reach.push(...(axis === 'x' ? [box.left, box.right] : [box.bottom, box.top]));
    }
  }
  return { axis, level, low: Math.min(...reach), high: Math.max(...reach) };
}

/** How often the sizes are laid out anew, what found no place put first. */
const TRIES = 6;

/**
 * The shape's sizes laid out round it, paper mm: shorter ones nearer, at 10 mm and then 8 mm from level to level, on the side with fewer crossings; then
 * the leaders. A size that finds no place is put first, a level further out, and the rest round it. Throws NoRoom when that
 * doesn't help either.
 */
export function placeDimensions(shape: readonly Mark[], wanted: readonly Wanted[], scale: number): Mark[] {
  const span = (w: Straight): number =>
    w.axis === 'x' ? Math.abs(w.from[0] - w.to[0]) : Math.abs(w.from[1] - w.to[1]);
  const straight = wanted.filter((w): w is Straight => w.kind === 'straight').sort((a, b) => span(a) - span(b));
  const leaders = wanted.filter((w): w is Leader => w.kind === 'leader');
  const first: string[] = [];
  for (;;) {
    const placer = new Placer(shape, scale);
    try {
      for (const w of straight) if (first.includes(w.id)) placer.straight(w, 1);
      for (const w of straight) if (!first.includes(w.id)) placer.straight(w);
      for (const w of leaders) placer.leader(w);
      return placer.marks;
    } catch (error) {
      if (!(error instanceof NoRoom) || first.length === TRIES || first.includes(error.id)) throw error;
      if (!straight.some((w) => w.id === error.id)) throw error;
      first.push(error.id);
    }
  }
}
