import {
  type Box,
  boxesMeet,
  boxOf,
  explode,
  grow,
  lineMark,
  type Mark,
  type PlainMark,
  type Point,
  textBox,
  type TextMark,
} from '../drawing';
import { cos, onCircle, rad, sin } from '../space';
import { textAt } from './text';

/** Arcs are taken as pieces of at most this. */
const STEP_RAD = Math.PI / 36;

function arcPieces(c: Point, r: number, start: number, sweep: number): [Point, Point][] {
  const count = Math.max(1, Math.ceil(Math.abs(sweep) / STEP_RAD));
  const at = (i: number): Point => onCircle(c, r, rad(start + (sweep * i) / count));
  return Array.from({ length: count }, (_, i) => [at(i), at(i + 1)]);
}

/** Straight pieces of everything a mark draws with a pen. */
function pieces(mark: PlainMark): [Point, Point][] {
  switch (mark.kind) {
    case 'line':
      return [[mark.from, mark.to]];
    case 'circle':
      return arcPieces(mark.centre, mark.radiusMm, 0, 2 * Math.PI);
    case 'arc':
      return arcPieces(mark.centre, mark.radiusMm, mark.startRad, mark.sweepRad);
    case 'path':
      return mark.segments.flatMap((s) =>
        s.kind === 'line'
          ? [[s.from, s.to] as [Point, Point]]
          : arcPieces(s.centre, s.radiusMm, s.startRad, s.sweepRad),
      );
    case 'area':
      return mark.points.map((p, i) => [p, mark.points[(i + 1) % mark.points.length]!]);
    case 'text':
      return [];
  }
}

function crosses([a, b]: readonly [Point, Point], box: Box): boolean {
  // most lines lie clear to one side
  if ((a[0] < box.left && b[0] < box.left) || (a[0] > box.right && b[0] > box.right)) return false;
  if ((a[1] < box.bottom && b[1] < box.bottom) || (a[1] > box.top && b[1] > box.top)) return false;
  let [low, high] = [0, 1];
  for (const [step, room] of [
    [a[0] - b[0], a[0] - box.left],
    [b[0] - a[0], box.right - a[0]],
    [a[1] - b[1], a[1] - box.bottom],
    [b[1] - a[1], box.top - a[1]],
  ] as const) {
    if (step === 0) {
      if (room < 0) return false;
    } else if (step < 0) low = Math.max(low, room / step);
    else high = Math.min(high, room / step);
  }
  return low <= high;
}

const CLEAR_MM = 0.6;

/** Finds room for texts: none meets another, a drawn line, or the edge of the room. What is placed counts from then on. */
export class TextPlacer {
  private readonly lines: (readonly [Point, Point])[] = [];
  private readonly boxes: Box[] = [];

  constructor(
    readonly room: Box,
    marks: readonly Mark[] = [],
  ) {
    this.add(marks);
  }

  /** Marks that texts must keep off. */
  add(marks: readonly Mark[]): void {
    for (const mark of explode(marks)) {
      if (mark.kind === 'text') this.boxes.push(boxOf(textBox(mark)));
      else this.lines.push(...pieces(mark));
    }
  }

  /** Whether a text could stand there. */
  free(text: TextMark): boolean {
    return this.freeBox(grow(boxOf(textBox(text)), CLEAR_MM));
  }

  /** Whether a box lies in the room and meets neither text nor line. */
  freeBox(box: Box): boolean {
    const { room } = this;
    if (box.left < room.left || box.right > room.right || box.bottom < room.bottom || box.top > room.top) return false;
    return !this.boxes.some((b) => boxesMeet(b, box)) && !this.lines.some((line) => crosses(line, box));
  }

  /** Whether a line could be drawn there without running through a text or out of the room. */
  freeLine(from: Point, to: Point): boolean {
    const { room } = this;
    for (const [x, y] of [from, to])
      if (x < room.left || x > room.right || y < room.bottom || y > room.top) return false;
    return !this.boxes.some((b) => crosses([from, to], grow(b, CLEAR_MM)));
  }

  /** The text at the first of these places that is free, now placed; null when none is. */
  put(candidates: Iterable<TextMark>): TextMark | null {
    for (const text of candidates)
      if (this.free(text)) {
        this.add([text]);
        return text;
      }
    return null;
  }

  /** A level text near a place, the nearer the better; from `leaderFromMm` on with a thin line to the place. Null when there is no room. */
  near(
    text: string,
    sizeMm: number,
    at: Point,
    {
      fromMm = 2,
      toMm = 60,
      leaderFromMm = 7,
    }: { readonly fromMm?: number; readonly toMm?: number; readonly leaderFromMm?: number } = {},
  ): Mark[] | null {
    for (let off = fromMm; off <= toMm; off += off < 12 ? 1.5 : 4)
      for (let k = 0; k < 16; k++) {
        // upper right first, then round both ways
        const angle = rad(Math.PI / 4 + (k % 2 === 0 ? 1 : -1) * Math.ceil(k / 2) * (Math.PI / 8));
        const [c, s] = [cos(angle), sin(angle)];
        const anchor = c > 0.3 ? 'start' : c < -0.3 ? 'end' : 'middle';
        const foot: Point = [at[0] + off * c, at[1] + off * s];
        const mark = textAt([foot[0], foot[1] - sizeMm / 2 + (s * sizeMm) / 2], text, sizeMm, anchor);
        if (!this.free(mark)) continue;
        if (off < leaderFromMm) {
          this.add([mark]);
          return [mark];
        }
        const tip: Point = [at[0] + 1.2 * c, at[1] + 1.2 * s];
        const end: Point = [at[0] + (off - 1) * c, at[1] + (off - 1) * s];
        if (!this.freeLine(tip, end)) continue;
        const marks: Mark[] = [lineMark('narrow', tip, end), mark];
        this.add(marks);
        return marks;
      }
    return null;
  }
}
