import { type Draw, gaussian } from './random';

/**
 * One step after another uphill without a slope: an elitist evolution strategy with one parent and one child whose scatter
 * learns the shape of the hill. Source: Igel, Suttorp, Hansen, "A computational efficient covariance matrix update and a
 * (1+1)-CMA for evolution strategies", GECCO 2006 (from memory).
 *
 * `judge` gives the score of a point (it may move the point back to where it is let, in place), and is told the score that
 * counts: anything under it may be answered by any number under it. Gives the best score; `at` ends as the best point.
 */
export function climb(
  at: Float64Array,
  judge: (point: Float64Array, needed: number) => number,
  options: { readonly looks: number; readonly sigma: number; readonly score: number; readonly draw: Draw },
): number {
  const n = at.length;
  const damping = 1 + n / 2;
  const target = 2 / 11;
  const [pace, ofPath, ofShape] = [1 / 12, 2 / (n + 2), 2 / (n * n + 6)];
  const shape = new Float64Array(n * n);
  const back = new Float64Array(n * n);
  for (let i = 0; i < n; i++) shape[i * n + i] = back[i * n + i] = 1;
  const path = new Float64Array(n);
  const z = new Float64Array(n);
  const step = new Float64Array(n);
  const w = new Float64Array(n);
  const wb = new Float64Array(n);
  const child = new Float64Array(n);
  let { sigma, score } = options;
  let success = target;
  for (let look = 0; look < options.looks && sigma > 1e-6; look++) {
    for (let i = 0; i < n; i++) z[i] = gaussian(options.draw);
    for (let i = 0; i < n; i++) {
      let sum = 0;
      for (let k = 0; k < n; k++) sum += shape[i * n + k]! * z[k]!;
      step[i] = sum;
      child[i] = at[i]! + sigma * sum;
    }
    const found = options.looks > 0 ? judge(child, score) : score;
    const better = found >= score;
    success = (1 - pace) * success + pace * (better ? 1 : 0);
    sigma *= Math.exp((success - target) / (damping * (1 - target)));
    if (sigma > 0.5) sigma = 0.5;
    if (!better) continue;
    at.set(child);
    score = found;
    const fresh = success < 0.44;
    const keep = fresh ? 1 - ofShape : 1 - ofShape + ofShape * ofPath * (2 - ofPath);
    for (let i = 0; i < n; i++)
      path[i] = (1 - ofPath) * path[i]! + (fresh ? Math.sqrt(ofPath * (2 - ofPath)) * step[i]! : 0);
    let square = 0;
    for (let i = 0; i < n; i++) {
      let sum = 0;
      for (let k = 0; k < n; k++) sum += back[i * n + k]! * path[k]!;
      w[i] = sum;
      square += sum * sum;
    }
    const alpha = Math.sqrt(keep);
    if (square < 1e-20) {
      for (let i = 0; i < n * n; i++) {
        shape[i]! *= alpha;
        back[i]! /= alpha;
      }
      continue;
    }
    const root = Math.sqrt(1 + (ofShape * square) / keep);
    const grow = (alpha / square) * (root - 1);
    const shrink = (1 / (alpha * square)) * (1 - 1 / root);
    for (let k = 0; k < n; k++) {
      let sum = 0;
      for (let i = 0; i < n; i++) sum += w[i]! * back[i * n + k]!;
      wb[k] = sum;
    }
    for (let i = 0; i < n; i++)
      for (let k = 0; k < n; k++) {
        shape[i * n + k] = alpha * shape[i * n + k]! + grow * path[i]! * w[k]!;
        back[i * n + k] = back[i * n + k]! / alpha - shrink * w[i]! * wb[k]!;
      }
  }
  return score;
}
