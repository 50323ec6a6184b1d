/** Seeded random numbers: uniform in [0, 1) by mulberry32 (T. Ettinger, public domain, from memory), normal by Box–Muller. */
export interface Random {
  uniform(): number;
  normal(sigma: number): number;
}

/** The same seed gives the same run. */
export function random(seed: number): Random {
  let state = seed >>> 0;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  return {
    uniform,
    normal: (sigma) => sigma * Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform()),
  };
}

/** Squared distance of an error in units of its covariance (Mahalanobis). */
export function squaredDistance(error: readonly number[], covariance: readonly (readonly number[])[]): number {
  // Gaussian elimination with the error as right side
  const n = error.length;
  const a = covariance.map((row, i) => [...row, error[i]!]);
  for (let k = 0; k < n; k++) {
    let best = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(a[i]![k]!) > Math.abs(a[best]![k]!)) best = i;
    [a[k], a[best]] = [a[best]!, a[k]!];
    for (let i = k + 1; i < n; i++) {
      const f = a[i]![k]! / a[k]![k]!;
      for (let j = k; j <= n; j++) a[i]![j]! -= f * a[k]![j]!;
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let k = n - 1; k >= 0; k--) {
    let sum = a[k]![n]!;
    for (let j = k + 1; j < n; j++) sum -= a[k]![j]! * x[j]!;
    x[k] = sum / a[k]![k]!;
  }
  return error.reduce((s, e, i) => s + e * x[i]!, 0);
}

/** 95 % points of χ² with 1, 2, 3 … degrees of freedom (standard table). */
export const CHI95 = [3.841, 5.991, 7.815, 9.488] as const;
