import {
  formatNumber,
  lineMark,
  type LineRole,
  type Mark,
  type Part,
  type Point,
  polylineMark,
  textWidthMm,
} from '../drawing';
import { valueOfRow } from '../travel';
import { shorten } from './slim-header';
import { textAt } from './text';

/** One line of a chart; values that are not numbers leave a gap. */
export interface ChartSeries {
  readonly name: string;
  readonly role: LineRole;
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
}

/** What lies between a series and zero over a stretch of x, hatched with upright strokes. */
export interface ChartArea {
  /** Index of the series. */
  readonly series: number;
  readonly from: number;
  readonly to: number;
}

export interface ChartSpec {
  readonly name: string;
  readonly xTitle: string;
  readonly yTitle: string;
  readonly series: readonly ChartSeries[];
  readonly areas?: readonly ChartArea[];
  /** Whether the axis must show 0; it does unless this is false. */
  readonly withZero?: boolean;
}

const TEXT_MM = 2.5;
const LEFT_MM = 16;
const TITLE_MM = 6;
const FOOT_MM = 10;
const SAMPLE_MM = 14;
const LEGEND_PITCH_MM = 4.6;
const HATCH_MM = 1.4;

/** Round steps (1, 2 or 5 times a power of ten) that take a range in about `count` pieces. */
export function roundTicks(low: number, high: number, count: number): number[] {
  const rough = (high - low) / Math.max(1, count);
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = power * ([1, 2, 5, 10].find((k) => k * power >= rough * (1 - 1e-9)) ?? 10);
  const ticks: number[] = [];
  for (let n = Math.ceil(low / step - 1e-9); n * step <= high + step * 1e-9; n++) ticks.push(n * step + 0);
  return ticks;
}

const finite = (values: ArrayLike<number>): number[] => Array.from(values).filter((v) => Number.isFinite(v));
const minus = (text: string): string => text.replace(/^-/, '−');

/** Height of a chart with this many lines, its plot `plotMm` high. */
export const chartHeightMm = (series: number, plotMm: number): number =>
  TITLE_MM + plotMm + FOOT_MM + Math.ceil(series / 2) * LEGEND_PITCH_MM;

/**
 * A chart with its upper left corner at the origin, `widthMm` wide: frame, round ticks with narrow lines, a zero line, the
 * series, and a legend below in two columns, so that no text stands on a line.
 */
export function chartPart(spec: ChartSpec, widthMm: number, plotMm: number): Part {
  const xs = spec.series.flatMap((s) => finite(s.x));
  const ys = spec.series.flatMap((s) => finite(s.y));
  let [x0, x1] = xs.length > 0 ? [Math.min(...xs), Math.max(...xs)] : [0, 1];
  const zero = spec.withZero === false ? [] : [0];
  let [y0, y1] = ys.length > 0 ? [Math.min(...zero, ...ys), Math.max(...zero, ...ys)] : [0, 1];
  if (!(x1 - x0 > 1e-9)) [x0, x1] = [x0 - 0.5, x0 + 0.5];
  const room = y1 - y0 > 1e-9 ? (y1 - y0) * 0.06 : 0.5;
  if (y1 > 0 || y0 === y1) y1 += room;
  if (y0 < 0 || spec.withZero === false) y0 -= room;
  const [left, right] = [LEFT_MM, widthMm - 3];
  const [bottom, top] = [-TITLE_MM - plotMm, -TITLE_MM];
  const at = (x: number, y: number): Point => [
    left + ((x - x0) / (x1 - x0)) * (right - left),
    bottom + ((y - y0) / (y1 - y0)) * (top - bottom),
  ];
  const marks: Mark[] = [textAt([0, -TEXT_MM - 1], spec.yTitle, TEXT_MM)];
  const line = (role: LineRole, from: Point, to: Point): void => void marks.push(lineMark(role, from, to));
  line('narrow', [left, bottom], [left, top]);
  line('narrow', [left, top], [right, top]);
  line('narrow', [right, top], [right, bottom]);
  line('narrow', [left, bottom], [right, bottom]);
  const decimals = (ticks: readonly number[]): number =>
    Math.max(0, Math.min(4, -Math.floor(Math.log10(Math.abs((ticks[1] ?? 1) - (ticks[0] ?? 0)) || 1) + 1e-9)));
  const yTicks = roundTicks(y0, y1, Math.max(2, plotMm / 9));
  for (const y of yTicks) {
    const p = at(x0, y);
    line('narrow', [left - 1.2, p[1]], [left, p[1]]);
    if (Math.abs(y) < 1e-12 && y0 < 0) line('narrow', [left, p[1]], [right, p[1]]);
    marks.push(textAt([left - 2, p[1] - TEXT_MM / 2], minus(formatNumber(y, decimals(yTicks))), TEXT_MM, 'end'));
  }
  const xTicks = roundTicks(x0, x1, (right - left) / 16);
  for (const x of xTicks) {
    const p = at(x, y0);
    line('narrow', p, [p[0], bottom - 1.2]);
    marks.push(textAt([p[0], bottom - 2 - TEXT_MM], minus(formatNumber(x, decimals(xTicks))), TEXT_MM, 'middle'));
  }
  marks.push(textAt([right, bottom - FOOT_MM + 1.6], spec.xTitle, TEXT_MM, 'end'));
  // each area's strokes stand half a space from those of the one before
  (spec.areas ?? []).forEach((area, k) => {
    const { x, y } = spec.series[area.series]!;
    const step = (HATCH_MM * (x1 - x0)) / (right - left);
    for (let place = area.from + (step * (1 + (k % 2))) / 2; place < area.to; place += step) {
      const value = valueOfRow(x, y, place);
      if (value !== null) line('narrow', at(place, 0), at(place, value));
    }
  });
  for (const { role, x, y } of spec.series) {
    let run: Point[] = [];
    const close = (): void => {
      if (run.length > 1) marks.push(polylineMark(role, run));
      run = [];
    };
    for (let i = 0; i < x.length; i++) {
      if (Number.isFinite(x[i]!) && Number.isFinite(y[i]!)) run.push(at(x[i]!, y[i]!));
      else close();
    }
    close();
  }
  const column = (widthMm - 4) / 2;
  spec.series.forEach(({ name, role }, i) => {
    const x = (i % 2) * (column + 4);
    const y = bottom - FOOT_MM - Math.floor(i / 2) * LEGEND_PITCH_MM - TEXT_MM;
    line(role, [x, y + TEXT_MM / 2], [x + SAMPLE_MM, y + TEXT_MM / 2]);
    marks.push(textAt([x + SAMPLE_MM + 2, y], shorten(name, TEXT_MM, column - SAMPLE_MM - 2), TEXT_MM));
  });
  return { name: `chart-${spec.name}`, marks: marks.filter((m) => m.kind !== 'text' || textWidthMm(m.text, 1) > 0) };
}
