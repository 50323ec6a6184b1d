/** How a point is judged: every demand's share into `into`; the least of them is what counts. It may move the point back to where it is let. */
export type Shares = (point: Float64Array, into: Float64Array) => void;

/** Of a box from 0 to 1: how far a slope is looked along. */
const STEP = 2e-4;
const ROUNDS = 24;

const leastOf = (values: Float64Array): number => values.reduce((a, b) => Math.min(a, b), Infinity);

/**
 * Uphill where the least of several demands counts. Such a hill has ridges, on which two demands are equally tight: a climber without
 * slopes stays on their side, this one goes along. Each demand is taken as a plane through its value (slopes by differences of points)
 * and the step that makes the least of the planes greatest is taken, shortened by its square over `reach` (proximal point); a step
 * that gains a share of what the planes promise lengthens the reach, another shortens it. Source: Kiwiel, Methods of Descent for
 * Nondifferentiable Optimization, Springer 1985 (from memory). Gives the best score; `at` (each from 0 to 1) ends as the best point.
 */
export function followRidge(at: Float64Array, shares: Shares, count: number): number {
  const n = at.length;
  const here = new Float64Array(count);
  const beside = new Float64Array(count);
  const slopes = Array.from({ length: count }, () => new Float64Array(n));
  const probe = new Float64Array(n);
  const next = new Float64Array(n);
  shares(at, here);
  let score = leastOf(here);
  let reach = 0.1;
  let fresh = true;
  for (let round = 0; round < ROUNDS && reach > 1e-6; round++) {
    if (fresh)
      for (let k = 0; k < n; k++) {
        probe.set(at);
        probe[k]! += at[k]! > 0.5 ? -STEP : STEP;
        const way = probe[k]! - at[k]!;
        shares(probe, beside);
        for (let i = 0; i < count; i++) slopes[i]![k] = (beside[i]! - here[i]!) / way;
      }
    const step = stepOf(at, here, slopes, reach);
    next.set(at);
    for (let k = 0; k < n; k++) next[k] = Math.min(1, Math.max(0, next[k]! + step.way[k]!));
    shares(next, beside);
    const gained = leastOf(beside) - score;
    fresh = gained > 1e-7;
    if (fresh) {
      at.set(next);
      here.set(beside);
      score += gained;
    }
    reach *= gained > 0.5 * (step.promised - score + (fresh ? gained : 0)) ? 3 : fresh ? 1 : 0.2;
  }
  return score;
}

/** The step from `at` inside the box, and the least of the planes there. */
function stepOf(
  at: Float64Array,
  values: Float64Array,
  slopes: readonly Float64Array[],
  reach: number,
): { way: Float64Array; promised: number } {
  const n = at.length;
  const free = new Uint8Array(n).fill(1);
  for (let pass = 0; ; pass++) {
    const way = weighed(values, slopes, reach, free);
    let stopped = false;
    for (let k = 0; k < n; k++)
      if (free[k] && ((at[k]! <= 0 && way[k]! < 0) || (at[k]! >= 1 && way[k]! > 0))) {
        free[k] = 0;
        stopped = true;
      }
    if (stopped && pass < n) continue;
    for (let k = 0; k < n; k++) way[k] = free[k] ? Math.min(1 - at[k]!, Math.max(-at[k]!, way[k]!)) : 0;
    let promised = Infinity;
    values.forEach(
      (v, i) => (promised = Math.min(promised, v + way.reduce((sum, w, k) => sum + w * slopes[i]![k]!, 0))),
    );
    return { way, promised };
  }
}

/** Trades of weight between two demands at most, and what is left over then. */
const TRADES = 800;
const LEFT = 1e-8;

/** reach · Σ weight·slope, with the weights (they add up to 1) of least Σ weight·value + reach/2 · |Σ weight·slope|². */
function weighed(values: Float64Array, slopes: readonly Float64Array[], reach: number, free: Uint8Array): Float64Array {
  const count = values.length;
  const n = free.length;
  const products = new Float64Array(count * count);
  for (let i = 0; i < count; i++)
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let k = 0; k < n; k++) if (free[k]) sum += slopes[i]![k]! * slopes[j]![k]!;
      products[i * count + j] = products[j * count + i] = reach * sum;
    }
  const weights = new Float64Array(count);
  const first = values.indexOf(leastOf(values));
  weights[first] = 1;
  const pull = values.map((v, i) => v + products[i * count + first]!);
  for (let trade = 0; trade < TRADES; trade++) {
    let [low, high] = [0, -1];
    for (let i = 0; i < count; i++) {
      if (pull[i]! < pull[low]!) low = i;
      if (weights[i]! > 0 && (high < 0 || pull[i]! > pull[high]!)) high = i;
    }
    const much = pull[high]! - pull[low]!;
    if (much < LEFT) break;
    const bend = products[low * count + low]! - 2 * products[low * count + high]! + products[high * count + high]!;
    const part = Math.min(weights[high]!, bend > 0 ? much / bend : 1);
    weights[low]! += part;
    weights[high] = part === weights[high]! ? 0 : weights[high]! - part;
    for (let i = 0; i < count; i++) pull[i]! += part * (products[i * count + low]! - products[i * count + high]!);
  }
  const way = new Float64Array(n);
  for (let k = 0; k < n; k++)
    if (free[k]) for (let i = 0; i < count; i++) way[k]! += reach * weights[i]! * slopes[i]![k]!;
  return way;
}
