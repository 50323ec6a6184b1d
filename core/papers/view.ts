import type { Contour, Point2 } from '../bracket';
import {
  ARROW_MM,
  lineMark,
  type LineRole,
  lineStyles,
  type Mark,
  type PathMark,
  PAST_MM,
  type Point,
} from '../drawing';

/** Distance of the first dimension line from the outline, and of each next one; over the ends of centre lines. */
export const FIRST_MM = 10;
export const NEXT_MM = 8;
const OVERRUN_MM = 3;
const [HIDDEN_DASH_MM, HIDDEN_GAP_MM] = lineStyles.hidden.dashMm as [number, number];
/** The long dash of a centre line: shorter pieces are drawn through. */
const LONG_DASH_MM = 6;

/** Tools to draw one view round its own origin at a scale (paper mm for one real mm). */
export class ViewPen {
  readonly marks: Mark[] = [];
  constructor(readonly scale: number) {}

  /** Real mm to paper mm. */
  at(p: Point2): Point {
    return [p[0] * this.scale, p[1] * this.scale];
  }

  outline(contour: Contour, role: LineRole = 'visible'): void {
    const segments = contour.map((s): PathMark['segments'][number] =>
      s.kind === 'line'
        ? { ...s, from: this.at(s.from), to: this.at(s.to) }
        : { ...s, centre: this.at(s.centre), radiusMm: s.radiusMm * this.scale },
    );
    this.marks.push({ kind: 'path', role, segments, closed: true });
  }

  line(role: LineRole, from: Point2, to: Point2): void {
    this.marks.push(lineMark(role, this.at(from), this.at(to)));
  }

  /** A hidden edge; one too short for the standard dash is drawn as two shorter ones, so that it still shows as hidden. */
  hidden(from: Point2, to: Point2): void {
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]) * this.scale;
    if (length > 2 * HIDDEN_DASH_MM + HIDDEN_GAP_MM) return this.line('hidden', from, to);
    const dash = Math.max(0.3, 0.5 - HIDDEN_GAP_MM / length / 2);
    const on = (k: number): Point2 => [from[0] + (to[0] - from[0]) * k, from[1] + (to[1] - from[1]) * k];
    this.line('hidden', from, on(dash));
    this.line('hidden', on(1 - dash), to);
  }

  /** A centre line from `middle` both ways to `from` and `to` (real mm), running over by a little; dashes meet in the middle. */
  centreLine(middle: Point2, from: Point2, to: Point2): void {
    for (const end of [from, to]) {
      const [a, b] = [this.at(middle), this.at(end)];
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      const k = (length + OVERRUN_MM) / length;
      const over: Point = [a[0] + (b[0] - a[0]) * k, a[1] + (b[1] - a[1]) * k];
      this.marks.push(lineMark(length + OVERRUN_MM > LONG_DASH_MM ? 'centre' : 'narrow', a, over));
    }
  }

  /** How far off a hole's centre an extension line begins: where its centre line ends. */
  holeGapMm(diameterMm: number): number {
    return (diameterMm / 2) * this.scale + OVERRUN_MM;
  }

  /** A straight dimension; `level` is the paper coordinate of its line (y for 'horizontal', x for 'vertical'). */
  linear(
    id: string,
    direction: 'horizontal' | 'vertical',
    from: Point2,
    to: Point2,
    level: number,
    options: {
      outside: 'start' | 'end';
      clearMm?: number;
      gaps?: readonly [number, number];
      auxiliary?: boolean;
    },
  ): void {
    const horizontal = direction === 'horizontal';
    this.marks.push({
      kind: 'dimension',
      id,
      measured: { of: 'distance', from: this.at(from), to: this.at(to), along: horizontal ? [1, 0] : [0, 1] },
      scale: this.scale,
      // Figures in brackets are auxiliary: they follow from others (ISO 129-1).
      before: options.auxiliary ? '(' : '',
      after: options.auxiliary ? ')' : '',
      decimals: 2,
      layout: {
        style: 'linear',
        through: horizontal ? [0, level] : [level, 0],
        gapsMm: options.gaps ?? [PAST_MM, PAST_MM],
        outside: options.outside,
        ...(options.clearMm === undefined ? {} : { clearMm: options.clearMm }),
      },
    });
  }

  push(mark: Mark): void {
    this.marks.push(mark);
  }
}

/** Height at which the next leader's text may stand: at least this over the one before. */
export const LEADER_PITCH_MM = 6.5;
/** Distance of leader texts from the outline: clear of dimension arrows that stand outside. */
export const LEADER_OFF_MM = 2 * ARROW_MM + 4;
/** Leaders rise by this share of their run, about 24°: neither level nor upright (ISO 129-1). */
export const LEADER_SLOPE = 0.45;
