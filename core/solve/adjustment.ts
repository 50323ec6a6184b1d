import { detectableW } from './distribution';
import { Manifold } from './manifold';
import { PivotedQr } from './qr';
import { System } from './system';
import { type Problem, type SolveOptions, withSolveDefaults } from './types';

/** One soft residual with what the adjustment says about it. */
export interface ResidualTest {
  readonly name: string;
  /** Which residual of its block. */
  readonly part: number;
  /** computed − observed, in the residual's own unit; so is sigma. */
  readonly residual: number;
  readonly sigma: number;
  /** Share of a blunder in it that shows in its own residual: 0 nothing, 1 all. The redundancies add up to the freedom. */
  readonly redundancy: number;
  /** Cofactor of the residual (variance factor 1): sigma²·redundancy. */
  readonly cofactor: number;
  /** Standardised residual residual/√cofactor; null where nothing controls the reading. */
  readonly w: number | null;
  /** Least blunder the w-test finds (Baarda, α₀ 0.001, power 0.80); null where none ever shows. */
  readonly detectable: number | null;
}

export interface Adjustment {
  /** Soft residuals less determined directions: how often the readings control one another. */
  readonly freedom: number;
  /** Directions the soft equations determine; open: those they do not. */
  readonly rank: number;
  readonly open: number;
  readonly sumSquares: number;
  /** s₀² = sumSquares / freedom; null without redundancy. */
  readonly varianceFactor: number | null;
  readonly residuals: readonly ResidualTest[];
  /**
   * Covariance of all variables, row-major, for variance factor 1; fixed ones have 0. Where a variable is not determined, its
   * variance is Infinity and its covariances are NaN.
   */
  readonly covariance: Float64Array;
  /** 1 for a variable that the equations do not determine. */
  readonly undetermined: Uint8Array;
  /** Standard deviation of variable j; with the factor s₀ where `scaled`. */
  sigmaOf(j: number, scaled?: boolean): number;
}

/** A reading with less redundancy than this is not controlled by the others. */
export const LEAST_REDUNDANCY = 1e-6;

/**
 * What the linearised adjustment at x says: covariance Z·(Zᵀ·N·Z)⁻¹·Zᵀ with Z the directions that hard equations leave,
 * cofactors of the residuals, redundancy numbers and Baarda's w. x should be a solution of `solve`.
 * Sources (from memory): Mikhail & Ackermann, Observations and Least Squares (1976); Baarda, A Testing Procedure for Use in
 * Geodetic Networks (1968).
 */
export function adjustment(problem: Problem, x: Float64Array, options: SolveOptions = {}): Adjustment {
  const full = withSolveDefaults(options);
  const system = new System(problem);
  const manifold = new Manifold(system, full);
  const n = system.free.length;
  const { soft } = system;
  const m = soft.rows;
  const r = new Float64Array(m);
  const j = new Float64Array(m * n);
  system.residuals(soft, x, r);
  system.jacobian(soft, x, j);
  const scales = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    let sum = 0;
    for (let i = 0; i < m; i++) sum += j[i * n + k]! ** 2;
    scales[k] = Math.sqrt(sum) || 1;
    for (let i = 0; i < m; i++) j[i * n + k] = j[i * n + k]! / scales[k]!;
  }
  let across = 0;
  if (system.hard.rows > 0) {
    manifold.measure(x);
    manifold.factor(scales);
    across = manifold.rank;
    for (let i = 0; i < m; i++) manifold.applyQt(j, i * n);
  }
  const k = n - across;
  const a = new Float64Array(m * k);
  for (let c = 0; c < k; c++) for (let i = 0; i < m; i++) a[c * m + i] = j[i * n + across + c]!;
  const qr = new PivotedQr();
  const rank = k > 0 && m > 0 ? qr.factor(a, m, k, full.rankTolerance).rank : 0;

  // leverages: squared rows of the orthonormal basis Q₁ of the Jacobian's range
  const leverage = new Float64Array(m);
  const e = new Float64Array(m);
  for (let c = 0; c < rank; c++) {
    e.fill(0);
    e[c] = 1;
    qr.applyQ(e);
    for (let i = 0; i < m; i++) leverage[i] = leverage[i]! + e[i]! * e[i]!;
  }

  const size = x.length;
  const covariance = new Float64Array(size * size);
  const undetermined = new Uint8Array(size);
  const at = (row: number, col: number): number => system.free[row]! * size + system.free[col]!;
  const lift = new Float64Array(n);
  const spread = (scaled: Float64Array): void => {
    for (let q = 0; q < n; q++) {
      const v = scaled[q]! / scales[q]!;
      if (v !== 0)
        for (let p = 0; p < n; p++) covariance[at(q, p)] = covariance[at(q, p)]! + v * (scaled[p]! / scales[p]!);
    }
  };
  const back = new Float64Array(Math.max(rank, 1));
  for (let c = 0; c < rank; c++) {
    // column c of R₁⁻ᵀ gives one square root column of the covariance
    back.fill(0);
    back[c] = 1;
    qr.solveR(back);
    lift.fill(0);
    for (let p = 0; p < rank; p++) lift[across + qr.order[p]!] = back[p]!;
    if (system.hard.rows > 0) manifold.applyQ(lift);
    spread(lift);
  }
  for (let c = rank; c < k; c++) {
    // null vector of R: the pivoted column c against the leading ones
    back.fill(0);
    for (let p = 0; p < rank; p++) back[p] = -qr.r(p, c);
    if (rank > 0) qr.solveR(back);
    lift.fill(0);
    for (let p = 0; p < rank; p++) lift[across + qr.order[p]!] = back[p]!;
    lift[across + (m > 0 ? qr.order[c]! : c)] = 1;
    if (system.hard.rows > 0) manifold.applyQ(lift);
    let long = 0;
    for (let q = 0; q < n; q++) long = Math.max(long, Math.abs(lift[q]!));
    for (let q = 0; q < n; q++) if (Math.abs(lift[q]!) > 1e-6 * long) undetermined[system.free[q]!] = 1;
  }
  for (let p = 0; p < size; p++)
    if (undetermined[p])
      for (let q = 0; q < size; q++) covariance[p * size + q] = covariance[q * size + p] = p === q ? Infinity : NaN;

  let sumSquares = 0;
  for (let i = 0; i < m; i++) sumSquares += r[i]! * r[i]!;
  const freedom = m - rank;
  const varianceFactor = freedom > 0 ? sumSquares / freedom : null;
  const delta = detectableW();
  const residuals: ResidualTest[] = [];
  soft.blocks.forEach((block, b) => {
    for (let part = 0; part < block.size; part++) {
      const row = soft.offsets[b]! + part;
      const sigma = 1 / soft.weights[row]!;
      const redundancy = Math.min(1, Math.max(0, 1 - leverage[row]!));
      const controlled = redundancy > LEAST_REDUNDANCY;
      residuals.push({
        name: block.name,
        part,
        residual: r[row]! * sigma,
        sigma,
        redundancy: controlled ? redundancy : 0,
        cofactor: controlled ? sigma * sigma * redundancy : 0,
        w: controlled ? r[row]! / Math.sqrt(redundancy) : null,
        detectable: controlled ? (delta * sigma) / Math.sqrt(redundancy) : null,
      });
    }
  });
  return {
    freedom,
    rank,
    open: k - rank,
    sumSquares,
    varianceFactor,
    residuals,
    covariance,
    undetermined,
    sigmaOf: (v, scaled = false) => Math.sqrt(covariance[v * size + v]! * (scaled ? (varianceFactor ?? NaN) : 1)),
  };
}
