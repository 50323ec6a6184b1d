/** A label that wants to stand at a height. */
export interface WantedLabel {
  readonly y: number;
  /** Higher stays when there is no room for all. */
  readonly priority: number;
}

export interface PlacedLabel {
  /** Index of the label asked for. */
  readonly index: number;
  readonly y: number;
}

/**
 * Places labels along a column so that none is nearer than `gap` to the next and all lie within min … max, each as near
 * to its wish as the others allow (least squares, pool adjacent violators). Those that find no room are left out, the
 * lowest priority first.
 */
export function placeLabels(wanted: readonly WantedLabel[], gap: number, min: number, max: number): PlacedLabel[] {
  const room = Math.max(0, Math.floor((max - min) / gap + 1e-9) + 1);
  const kept = wanted
    .map((w, index) => ({ index, y: w.y, priority: w.priority }))
    .filter((w) => Number.isFinite(w.y))
    .sort((a, b) => b.priority - a.priority || a.index - b.index)
    .slice(0, max >= min ? room : 0)
    .sort((a, b) => a.y - b.y || a.index - b.index);
  // take the gaps out: then "no nearer than gap" is "in order", and pools of equal height solve it
  const pools: { sum: number; count: number }[] = [];
  kept.forEach((label, i) => {
    pools.push({ sum: label.y - i * gap, count: 1 });
    for (;;) {
      const last = pools.at(-1)!;
      const before = pools.at(-2);
      if (!before || before.sum / before.count <= last.sum / last.count) break;
      pools.pop();
      before.sum += last.sum;
      before.count += last.count;
    }
  });
  const flat = pools.flatMap((p) => Array.from({ length: p.count }, () => p.sum / p.count));
  const top = max - (kept.length - 1) * gap;
  return kept.map((label, i) => ({ index: label.index, y: Math.min(Math.max(flat[i]!, min), top) + i * gap }));
}

/** Index of the last value that exists, or −1. */
export function lastKnown(values: readonly (number | null)[]): number {
  for (let i = values.length - 1; i >= 0; i--) if (values[i] !== null) return i;
  return -1;
}
