import { NormalSteps } from './cholesky';
import { Manifold } from './manifold';
import { PivotedQr } from './qr';
import { System, nameOfRow } from './system';
import { type FullOptions, type Problem, type SolveOptions, withSolveDefaults } from './types';

/**
 * Why the solver stopped. converged: a minimum. rank-deficient: a minimum along what is determined, but some directions are
 * not. stalled: no step helps, and the gradient is not small. limit-reached: out of steps. contradictory: the hard equations
 * could not be brought to hold from this start.
 */
export type Reason = 'converged' | 'rank-deficient' | 'stalled' | 'limit-reached' | 'contradictory';

export interface Figures {
  /** Steps tried and steps taken. */
  readonly steps: number;
  readonly accepted: number;
  /** Σ (residual/sigma)² of the soft equations. */
  readonly sumSquares: number;
  /** Largest cosine between the residual and a column of the reduced Jacobian; 0 at a minimum. */
  readonly gradient: number;
  /** Last scaled step over the scaled variables. */
  readonly step: number;
  readonly damping: number;
  /** Largest relative error of a hard equation, and the block it is in. */
  readonly hardError: number;
  readonly hardWorst: string | null;
  /** Directions that the soft equations determine, and those they leave open, along the hard equations' surface. */
  readonly rank: number;
  readonly open: number;
}

export interface Solution {
  readonly x: Float64Array;
  readonly reason: Reason;
  readonly figures: Figures;
}

/**
 * Weighted nonlinear least squares: the x that makes Σ (soft residual/sigma)² least while every hard equation holds.
 * Levenberg–Marquardt in the null space of the hard Jacobian; each trial is brought back onto the hard equations before it is
 * judged. Each step is a column-pivoted QR of the damped Jacobian (with very many variables, Cholesky on its normal matrix).
 * Sources (from memory): Moré, "The Levenberg–Marquardt algorithm: implementation and theory" (1978) for the scaling;
 * Madsen, Nielsen & Tingleff, Methods for Non-linear Least Squares Problems (2nd ed. 2004), algorithm 3.16, for the damping (with 1/10 for their 1/3).
 * Throws a LidwrightError for a malformed problem only; a problem that can't be solved says so in `reason`.
 */
export function solve(problem: Problem, options: SolveOptions = {}): Solution {
  return new LeastSquares(problem, withSolveDefaults(options)).run();
}

class LeastSquares {
  private readonly system: System;
  private readonly manifold: Manifold;
  private readonly x: Float64Array;
  /** The largest norm each column has had (0: never seen), and the scales made from it. */
  private readonly largest: Float64Array;
  private readonly scales: Float64Array;
  private readonly r: Float64Array;
  private readonly j: Float64Array;
  private stacked = new Float64Array(0);
  private readonly qr = new PivotedQr();
  private readonly normal = new NormalSteps();

  constructor(
    problem: Problem,
    private readonly options: FullOptions,
  ) {
    this.system = new System(problem);
    this.manifold = new Manifold(this.system, options);
    this.x = Float64Array.from(problem.variables);
    const n = this.system.free.length;
    const m = this.system.soft.rows;
    this.largest = new Float64Array(n);
    this.scales = new Float64Array(n);
    this.r = new Float64Array(m);
    this.j = new Float64Array(m * n);
  }

  run(): Solution {
    const { system, manifold, options, x, scales, r } = this;
    const n = system.free.length;
    const m = system.soft.rows;
    this.linearize();
    const settled = manifold.retract(x, scales, true);
    const figures = { steps: 0, accepted: 0, gradient: 0, step: 0, damping: options.firstDamping as number };
    if (!settled) return this.end('contradictory', figures);
    let sum = this.linearize();
    if (!Number.isFinite(sum)) return this.end('stalled', { ...figures, gradient: Infinity });
    const trial = new Float64Array(x.length);
    const trialR = new Float64Array(m);
    const t = new Float64Array(n);
    let growth = 2;
    let reason: Reason | null = m === 0 ? 'converged' : null;
    let fresh = true;
    let across = 0;
    while (reason === null) {
      if (fresh) {
        across = this.reduce();
        figures.gradient = this.steepest(across, sum);
        if (n - across > options.normalFrom) this.normal.load(this.j, r, n, across);
        fresh = false;
        if (figures.gradient <= options.gradientTolerance) {
          reason = 'converged';
          break;
        }
      }
      if (figures.steps++ >= options.mostSteps) {
        reason = 'limit-reached';
        break;
      }
      const promised = this.dampedStep(across, figures.damping, t);
      let long = 0;
      let all = 0;
      trial.set(x);
      for (let k = 0; k < n; k++) {
        const index = system.free[k]!;
        long += t[k]! ** 2;
        all += (scales[k]! * x[index]!) ** 2;
        trial[index] = x[index]! + t[k]! / scales[k]!;
      }
      figures.step = Math.sqrt(long / (all || 1));
      // a step that only damping makes short says nothing about a minimum
      const own = figures.damping <= 1 || figures.gradient <= options.noiseGradient;
      const done = own && (figures.step <= options.stepTolerance || long === 0);
      let now = Infinity;
      if (manifold.retract(trial, scales, true)) {
        system.residuals(system.soft, trial, trialR);
        now = square(trialR);
      }
      const gain = (sum - now) / promised;
      if (now < sum && gain > 1e-4) {
        const gained = (sum - now) / sum;
        x.set(trial);
        r.set(trialR);
        figures.accepted++;
        sum = this.linearize();
        fresh = true;
        figures.damping *= Math.max(1 / 10, 1 - (2 * gain - 1) ** 3);
        figures.damping = Math.max(figures.damping, 1e-15);
        growth = 2;
        const little = options.reductionTolerance * sum;
        if (sum === 0 || done || (own && promised <= little && gained <= options.reductionTolerance))
          reason = 'converged';
      } else if (
        done ||
        (own && promised <= options.reductionTolerance * sum) ||
        (figures.gradient <= options.noiseGradient && promised <= options.noiseReduction * sum)
      )
        reason = 'converged';
      else {
        figures.damping *= growth;
        growth *= 2;
        if (figures.damping > options.mostDamping) reason = 'stalled';
      }
    }
    return this.end(reason, figures);
  }

  /** Residuals, Jacobian and scales at x; the sum of squares. */
  private linearize(): number {
    const { system, x, r, j, scales } = this;
    const n = system.free.length;
    system.residuals(system.soft, x, r);
    system.jacobian(system.soft, x, j);
    let usual = 0;
    let seen = 0;
    for (let k = 0; k < n; k++) {
      let norm = 0;
      for (let i = 0; i < r.length; i++) norm += j[i * n + k]! ** 2;
      norm = Math.sqrt(norm);
      if (Number.isFinite(norm) && norm > this.largest[k]!) this.largest[k] = norm;
      if (this.largest[k]! > 0) {
        usual += Math.log(this.largest[k]!);
        seen++;
      }
    }
    // a variable that no soft equation sees moves as easily as the others do (geometric mean)
    usual = seen > 0 ? Math.exp(usual / seen) : 1;
    for (let k = 0; k < n; k++) scales[k] = this.largest[k]! || usual;
    return square(r);
  }

  /** Scales the Jacobian and turns it into the surface's directions; how many of its columns lie across the surface. */
  private reduce(): number {
    const { system, manifold, j, scales, x } = this;
    const n = system.free.length;
    for (let i = 0; i < this.r.length; i++) for (let k = 0; k < n; k++) j[i * n + k] = j[i * n + k]! / scales[k]!;
    if (system.hard.rows === 0) return 0;
    manifold.measure(x);
    manifold.factor(scales);
    for (let i = 0; i < this.r.length; i++) manifold.applyQt(j, i * n);
    return manifold.rank;
  }

  private steepest(across: number, sum: number): number {
    const { j, r } = this;
    const n = this.system.free.length;
    const length = Math.sqrt(sum);
    let worst = 0;
    for (let k = across; k < n; k++) {
      let along = 0;
      let norm = 0;
      for (let i = 0; i < r.length; i++) {
        const v = j[i * n + k]!;
        along += v * r[i]!;
        norm += v * v;
      }
      if (norm > 0 && length > 0) worst = Math.max(worst, Math.abs(along) / (Math.sqrt(norm) * length));
    }
    return worst;
  }

  /** Solves min |J·t + r|² + damping·|t|² along the surface; t is the scaled step. Returns the promised fall of the sum. */
  private dampedStep(across: number, damping: number, t: Float64Array): number {
    const { j, r } = this;
    const n = this.system.free.length;
    const m = r.length;
    const k = n - across;
    t.fill(0);
    if (k === 0) return 0;
    if (!(k > this.options.normalFrom && this.normal.step(damping, t, across))) this.carefulStep(across, damping, t);
    // fall of the linear model, written so that it can't cancel: |J·t|² + 2·damping·|t|²
    let fall = 0;
    for (let i = 0; i < m; i++) {
      let v = 0;
      for (let c = across; c < n; c++) v += j[i * n + c]! * t[c]!;
      fall += v * v;
    }
    for (let c = across; c < n; c++) fall += 2 * damping * t[c]! ** 2;
    this.manifold.applyQ(t);
    return fall;
  }

  /** The damped step by QR. */
  private carefulStep(across: number, damping: number, t: Float64Array): void {
    const { j, r, qr } = this;
    const n = this.system.free.length;
    const m = r.length;
    const k = n - across;
    const tall = m + k;
    if (this.stacked.length < tall * k) this.stacked = new Float64Array(tall * k);
    const a = this.stacked.subarray(0, tall * k);
    a.fill(0);
    const root = Math.sqrt(damping);
    for (let c = 0; c < k; c++) {
      for (let i = 0; i < m; i++) a[c * tall + i] = j[i * n + across + c]!;
      a[c * tall + m + c] = root;
    }
    const b = new Float64Array(tall);
    for (let i = 0; i < m; i++) b[i] = -r[i]!;
    qr.factor(a, tall, k, 1e-15);
    qr.applyQt(b);
    qr.solveR(b);
    for (let c = 0; c < k; c++) t[across + qr.order[c]!] = c < qr.rank ? b[c]! : 0;
  }

  private end(
    reason: Reason,
    figures: Omit<Figures, 'sumSquares' | 'hardError' | 'hardWorst' | 'rank' | 'open'>,
  ): Solution {
    const { system, manifold, x, options, qr } = this;
    const n = system.free.length;
    const sumSquares = this.linearize();
    const across = this.reduce();
    const hardError = manifold.measure(x);
    const m = this.r.length;
    const k = n - across;
    const a = new Float64Array(m * k);
    for (let c = 0; c < k; c++) for (let i = 0; i < m; i++) a[c * m + i] = this.j[i * n + across + c]!;
    const rank = k === 0 || m === 0 ? 0 : qr.factor(a, m, k, options.rankTolerance).rank;
    const lost = reason === 'converged' && rank < k;
    return {
      x,
      reason: lost ? 'rank-deficient' : reason,
      figures: {
        ...figures,
        gradient: this.steepest(across, sumSquares),
        sumSquares,
        hardError,
        hardWorst: system.hard.rows > 0 ? nameOfRow(system.hard, manifold.worstRow) : null,
        rank,
        open: k - rank,
      },
    };
  }
}

function square(r: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < r.length; i++) sum += r[i]! * r[i]!;
  return Number.isNaN(sum) ? Infinity : sum;
}
