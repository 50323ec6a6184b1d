import { type Point2, type Segment, type ViewLines } from '../../bracket';
import { circleMark, type Mark, type Point } from '../../drawing';
import { ViewPen } from '../view';
import type { Wanted } from './wanted';

/** Centre lines run over by this (see ViewPen). */
export const OVERRUN_MM = 3;

const isRound = (segments: readonly Segment[]): boolean =>
  segments.length === 2 &&
  segments.every((s) => s.kind === 'arc' && Math.abs(Math.abs(s.sweepRad) - Math.PI) < 1e-9) &&
  (() => {
    const [a, b] = segments as Extract<Segment, { kind: 'arc' }>[];
    return Math.hypot(a!.centre[0] - b!.centre[0], a!.centre[1] - b!.centre[1]) < 1e-9;
  })();

/** A view being drawn, with what it wants sized. All inputs in real mm. */
export class Sketch {
  readonly pen: ViewPen;
  readonly wanted: Wanted[] = [];

  constructor(readonly scale: number) {
    this.pen = new ViewPen(scale);
  }

  get marks(): Mark[] {
    return this.pen.marks;
  }

  at(p: Point2): Point {
    return this.pen.at(p);
  }

  /** Lines of a view as marks; hidden ones only where asked for. */
  lines(found: readonly ViewLines[], { hidden = true }: { readonly hidden?: boolean } = {}): void {
    const drawn = new Set<string>();
    for (const { role, closed, segments } of found) {
      if (role === 'hidden' && !hidden) continue;
      if (closed) {
        if (role === 'visible') this.loop(segments);
        else for (const s of segments) if (s.kind === 'line') this.pen.hidden(s.from, s.to);
        continue;
      }
      for (const s of segments) {
        if (s.kind !== 'line') continue;
        const key = `${role} ${[s.from, s.to]
          .map((p) => p.map((x) => Math.round(x * 1e4)).join())
          .sort()
          .join(' ')}`;
        if (drawn.has(key)) continue;
        drawn.add(key);
        if (role === 'visible') this.pen.line('visible', s.from, s.to);
        else if (role === 'hidden') this.pen.hidden(s.from, s.to);
        else if (role === 'centre') this.centre(s.from, s.to);
        else this.bendEnd(s.from, s.to);
      }
    }
  }

  /** A closed line: a circle where it is one. */
  loop(segments: readonly Segment[], role: 'visible' | 'narrow' = 'visible'): void {
    const [first] = segments;
    if (isRound(segments) && first?.kind === 'arc')
      this.pen.push(circleMark(role, this.at(first.centre), first.radiusMm * this.scale));
    else this.pen.outline(segments, role);
  }

  /** A centre line that runs over at both ends. */
  centre(from: Point2, to: Point2): void {
    if (Math.hypot(to[0] - from[0], to[1] - from[1]) * this.scale < 0.1) return;
    this.pen.centreLine([(from[0] + to[0]) / 2, (from[1] + to[1]) / 2], from, to);
  }

  /** Where flat goes over into round there is no edge: a narrow line that stays clear of the outline (ISO 128-3). */
  private bendEnd(from: Point2, to: Point2): void {
    const long = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const short = 1.5 / this.scale;
    if (long < 4 * short) return;
    const on = (d: number): Point2 => [
      from[0] + ((to[0] - from[0]) * d) / long,
      from[1] + ((to[1] - from[1]) * d) / long,
    ];
    this.pen.line('narrow', on(short), on(long - short));
  }

  /** Wants a straight size between two places. `holes`: diameter where an end is a hole's centre, whose centre line the extension keeps off. */
  size(
    id: string,
    axis: 'x' | 'y',
    from: Point2,
    to: Point2,
    side: 1 | -1,
    options: {
      readonly holes?: readonly [number, number];
      readonly gapsMm?: readonly [number, number];
      readonly before?: string;
      readonly auxiliary?: boolean;
      readonly decimals?: number;
    } = {},
  ): void {
    const gap = (d: number): number => (d > 0 ? (d / 2) * this.scale + OVERRUN_MM : 2);
    const [d0, d1] = options.holes ?? [0, 0];
    this.wanted.push({
      kind: 'straight',
      ...{ id, axis, side },
      from: this.at(from),
      to: this.at(to),
      gapsMm: options.gapsMm ?? [gap(d0), gap(d1)],
      // figures in brackets are auxiliary: they follow from others (ISO 129-1)
      before: `${options.auxiliary ? '(' : ''}${options.before ?? ''}`,
      after: options.auxiliary ? ')' : '',
      decimals: options.decimals ?? 2,
    });
  }
}
