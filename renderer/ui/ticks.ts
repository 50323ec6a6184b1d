/** Round numbers from low to high, at most `most` of them: steps of 1, 2 or 5 times a power of ten. */
export function ticksOf(low: number, high: number, most: number): number[] {
  if (!(high > low)) return [];
  const rough = (high - low) / Math.max(1, most - 1);
  const power = 10 ** Math.floor(Math.log10(rough));
  const found = (step: number): number[] => {
    const first = Math.ceil(low / step - 1e-9);
    return Array.from({ length: Math.floor(high / step + 1e-9) - first + 1 }, (_, i) => (first + i) * step);
  };
  for (const times of [1, 2, 5, 10]) {
    const ticks = found(power * times);
    if (ticks.length <= most) return ticks;
  }
  return found(power * 20);
}
