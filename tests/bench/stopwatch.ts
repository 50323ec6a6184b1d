/** One measured thing, ms a run. */
export interface Measured {
  readonly minMs: number;
  readonly meanMs: number;
  readonly sdMs: number;
  readonly runs: number;
}

/** What the runs return goes in here, so that no engine may leave them out. */
export const sink = { value: 0 };

const median = (values: readonly number[]): number => quantile(values, 0.5);

/** The value that a share of the others lies under. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (sorted.length - 1) * share;
  const low = Math.floor(at);
  return sorted[low]! + (at - low) * ((sorted[low + 1] ?? sorted[low]!) - sorted[low]!);
}

function summary(samples: readonly number[], runs: number): Measured {
  const mean = samples.reduce((s, v) => s + v, 0) / samples.length;
  const variance = samples.reduce((s, v) => s + (v - mean) ** 2, 0) / (samples.length - 1);
  return { minMs: Math.min(...samples), meanMs: mean, sdMs: Math.sqrt(variance), runs };
}

/**
 * Times several things in turn, so that noise of the machine falls on all of them alike: warm-up, then `repeats` batches of
 * each, a batch about `batchMs` long.
 */
export function measure(
  things: Readonly<Record<string, () => number>>,
  { repeats = 15, batchMs = 20, warmMs = 250 } = {},
): Record<string, Measured> {
  const names = Object.keys(things);
  const count: Record<string, number> = {};
  for (const name of names) {
    const run = things[name]!;
    const start = performance.now();
    const one: number[] = [];
    while (performance.now() - start < warmMs || one.length < 5) {
      const t = performance.now();
      sink.value += run();
      one.push(performance.now() - t);
    }
    count[name] = Math.max(1, Math.round(batchMs / Math.max(median(one.slice(-20)), 1e-4)));
  }
  const samples: Record<string, number[]> = Object.fromEntries(names.map((n) => [n, []]));
  for (let k = 0; k < repeats; k++)
    for (const name of names) {
      const run = things[name]!;
      const n = count[name]!;
      const start = performance.now();
      for (let i = 0; i < n; i++) sink.value += run();
      samples[name]!.push((performance.now() - start) / n);
    }
  return Object.fromEntries(names.map((n) => [n, summary(samples[n]!, repeats * count[n]!)]));
}

/** Least squares y = a + b·x, and the share of the variance it explains. */
export function fitLine(points: readonly (readonly [number, number])[]): { a: number; b: number; r2: number } {
  const n = points.length;
  const mx = points.reduce((s, [x]) => s + x, 0) / n;
  const my = points.reduce((s, [, y]) => s + y, 0) / n;
  const sxx = points.reduce((s, [x]) => s + (x - mx) ** 2, 0);
  const sxy = points.reduce((s, [x, y]) => s + (x - mx) * (y - my), 0);
  const b = sxy / sxx;
  const a = my - b * mx;
  const left = points.reduce((s, [x, y]) => s + (y - a - b * x) ** 2, 0);
  return { a, b, r2: 1 - left / points.reduce((s, [, y]) => s + (y - my) ** 2, 0) };
}

/** Rows of cells as an aligned table; numbers to the right. */
export function table(rows: readonly (readonly string[])[]): string {
  const widths = rows[0]!.map((_, c) => Math.max(...rows.map((r) => [...(r[c] ?? '')].length)));
  return rows
    .map((r) =>
      r
        .map((cell, c) => (c === 0 ? cell.padEnd(widths[c]!) : cell.padStart(widths[c]!)))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}
