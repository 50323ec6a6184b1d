import { circleMark, type DimensionMark, lineMark, type Mark, type Point } from '../drawing';

/** Something sized from the common origin along one axis. */
export interface RunningEntry {
  readonly id: string;
  /** The point on paper. */
  readonly at: Point;
}

/** A row of running dimensions: under the view (`x`) or left of it (`y`). */
export interface RunningRow {
  readonly axis: 'x' | 'y';
  readonly scale: number;
  readonly decimals: number;
  /** The origin on paper. */
  readonly zero: Point;
  /** Paper coordinate of the common dimension line, and of where the figures begin. */
  readonly level: number;
  readonly end: number;
  /** Figures keep between these along the row. */
  readonly low: number;
  readonly high: number;
  /** Coordinates grow to the left (down). */
  readonly backwards?: boolean;
}

const SIZES_MM = [3.5, 2.5] as const;
const PITCH = 1.4;
const GAP_MM = 3;
const PAST_ORIGIN_MM = 6;

/** Places as near as can be to the wanted ones (ascending), a pitch apart, between low and high; null when there is no room. */
export function spreadOut(wanted: readonly number[], pitch: number, low: number, high: number): number[] | null {
  const n = wanted.length;
  if (n === 0) return [];
  if ((n - 1) * pitch > high - low + 1e-9) return null;
  // blocks of neighbours that touch move together to their mean (pooling of adjacent violators)
  const blocks: { sum: number; count: number; first: number }[] = [];
  wanted.forEach((w, i) => {
    let block = { sum: w - i * pitch, count: 1, first: i };
    for (;;) {
      const before = blocks[blocks.length - 1];
      if (!before || before.sum / before.count <= block.sum / block.count) break;
      blocks.pop();
      block = { sum: before.sum + block.sum, count: before.count + block.count, first: before.first };
    }
    blocks.push(block);
  });
  const top = high - (n - 1) * pitch;
  return blocks.flatMap(({ sum, count, first }) => {
    const base = Math.min(top, Math.max(low, sum / count));
    return Array.from({ length: count }, (_, k) => base + (first + k) * pitch);
  });
}

/**
 * Running dimensions from one origin (superimposed running dimensioning, ISO 129-1): equal values once, figures spread so that
 * none meets another. Null when the row has no room for all of them: then a table must give them.
 */
export function runningDimensions(entries: readonly RunningEntry[], row: RunningRow): Mark[] | null {
  const k = row.axis === 'x' ? 0 : 1;
  /** A place by its coordinate along the row and that across it. */
  const at = (along: number, across: number): Point => (k === 0 ? [along, across] : [across, along]);
  const near = 0.5 * 10 ** -row.decimals * row.scale;
  const zeroNear = row.zero[k] >= row.low - 1 && row.zero[k] <= row.high + 1;
  // what lies at the origin, so far as the figures can tell, lies exactly there: nothing is rounded twice
  const zeroed = entries.map((e): RunningEntry => {
    if (Math.abs(e.at[k] - row.zero[k]) > near) return e;
    return { ...e, at: at(row.zero[k], e.at[1 - k]!) };
  });
  const sorted = zeroed.sort((a, b) => a.at[k] - b.at[k]);
  const unique: RunningEntry[] = [];
  for (const entry of sorted) {
    const last = unique[unique.length - 1];
    if (!last || entry.at[k] - last.at[k] > near) unique.push(entry);
    // of two with one value, the extension line starts at the nearer to the row
    else if (entry.at[1 - k]! < last.at[1 - k]!)
      unique[unique.length - 1] = { ...entry, at: at(last.at[k], entry.at[1 - k]!) };
  }
  if (zeroNear && !unique.some((e) => Math.abs(e.at[k] - row.zero[k]) <= near)) {
    unique.push({ id: 'datum', at: at(row.zero[k], row.level + GAP_MM) });
    unique.sort((a, b) => a.at[k] - b.at[k]);
  }
  if (unique.length === 0) return [];
  for (const sizeMm of SIZES_MM) {
    const places = spreadOut(
      unique.map((e) => e.at[k]),
      sizeMm * PITCH,
      row.low,
      row.high,
    );
    if (!places) continue;
    const marks: Mark[] = unique.map((e, i): DimensionMark => {
      const isZero = Math.abs(e.at[k] - row.zero[k]) <= near;
      const to = isZero ? at(row.zero[k], e.at[1 - k]!) : e.at;
      const foot = at(to[k], row.level);
      const end = at(places[i]!, row.end);
      return {
        kind: 'dimension',
        id: `${row.axis}-${e.id}`,
        measured: { of: 'distance', from: row.zero, to, along: k === 0 ? [1, 0] : [0, 1] },
        scale: row.scale,
        before: !isZero && to[k] < row.zero[k] !== (row.backwards ?? false) ? '−' : '',
        after: '',
        decimals: row.decimals,
        layout: { style: 'running', foot, end, gapMm: GAP_MM, sizeMm },
      };
    });
    const feet = unique.map((e) => e.at[k]);
    let [low, high] = [Math.min(...feet), Math.max(...feet)];
    if (zeroNear) [low, high] = [Math.min(low, row.zero[k]), Math.max(high, row.zero[k])];
    else if (row.zero[k] < row.low) low -= PAST_ORIGIN_MM;
    else high += PAST_ORIGIN_MM;
    const on = (along: number): Point => at(along, row.level);
    if (high - low > 1e-9) marks.push(lineMark('narrow', on(low), on(high)));
    if (zeroNear) marks.push(circleMark('narrow', on(row.zero[k]), 1.2));
    return marks;
  }
  return null;
}
