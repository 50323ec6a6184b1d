import { PivotedQr } from './qr';
import type { System } from './system';
import type { FullOptions } from './types';

/**
 * The surface on which all hard equations hold: how far a state is from it, the way back to it, and the directions in it.
 * All steps are smallest in the metric of `scales` (one a free variable): Σ (scale·step)².
 */
export class Manifold {
  /** Hard residuals of the last state measured. */
  readonly residual: Float64Array;
  /** The size of each hard row at that state: |residual| / size is its relative error. */
  readonly size: Float64Array;
  /** Rank of the hard Jacobian at the last factoring. */
  rank = 0;
  /** Row with the largest relative error at the last state measured. */
  worstRow = 0;
  private readonly rows: Float64Array;
  private readonly work: Float64Array;
  private readonly norms: Float64Array;
  private readonly step: Float64Array;
  private readonly rhs: Float64Array;
  private readonly trial: Float64Array;
  private readonly qr = new PivotedQr();

  constructor(
    private readonly system: System,
    private readonly options: FullOptions,
  ) {
    const m = system.hard.rows;
    const n = system.free.length;
    this.residual = new Float64Array(m);
    this.size = new Float64Array(m);
    this.norms = new Float64Array(m);
    this.rows = new Float64Array(m * n);
    this.work = new Float64Array(m * n);
    this.step = new Float64Array(n);
    this.rhs = new Float64Array(Math.max(m, n));
    this.trial = new Float64Array(system.column.length);
  }

  /** Largest relative error of the hard equations at x (0 where there are none); NaN counts as infinite. */
  measure(x: Float64Array): number {
    const { system, residual, rows, size } = this;
    const { hard } = system;
    if (hard.rows === 0) return 0;
    system.residuals(hard, x, residual);
    system.jacobian(hard, x, rows);
    const n = system.free.length;
    let around = 0;
    for (const v of x) around = Math.max(around, Math.abs(v));
    let worst = 0;
    hard.blocks.forEach((block, b) => {
      let reach = 0;
      for (const j of block.variables) reach = Math.max(reach, Math.abs(x[j]!));
      for (let row = hard.offsets[b]!; row < hard.offsets[b]! + block.size; row++) {
        let sum = 0;
        for (let j = 0; j < n; j++) sum += rows[row * n + j]! ** 2;
        const norm = Math.sqrt(sum) || 1;
        size[row] = hard.sizes[row]! || norm * (reach || around || 1);
        const error = Math.abs(residual[row]!) / size[row]!;
        const seen = Number.isFinite(error) ? error : Infinity;
        if (seen > worst || worst === 0) {
          worst = seen;
          this.worstRow = row;
        }
      }
    });
    return worst;
  }

  /** Factors the Jacobian of the last state measured in the metric of the scales. */
  factor(scales: Float64Array): void {
    const { rows, work, norms } = this;
    const m = this.system.hard.rows;
    const n = this.system.free.length;
    for (let row = 0; row < m; row++) {
      let sum = 0;
      for (let j = 0; j < n; j++) {
        const v = rows[row * n + j]! / scales[j]!;
        work[row * n + j] = v;
        sum += v * v;
      }
      const norm = Math.sqrt(sum);
      norms[row] = norm;
      if (norm > 0) for (let j = 0; j < n; j++) work[row * n + j] = work[row * n + j]! / norm;
    }
    this.qr.factor(work, n, m, this.options.rankTolerance);
    this.rank = this.qr.rank;
  }

  /** Qᵀ of a scaled vector, which splits it by the surface: the first `rank` entries lie across it, the rest along it. */
  applyQt(vector: Float64Array, at = 0): void {
    this.qr.applyQt(vector, at);
  }

  /** The inverse: Q. */
  applyQ(vector: Float64Array, at = 0): void {
    this.qr.applyQ(vector, at);
  }

  /**
   * Moves x onto the surface, in place, by Gauss–Newton steps of least scaled length, halved where they do not help.
   * True when every hard equation then holds to hardTolerance; `polish` goes on from there as far as rounding lets it.
   */
  retract(x: Float64Array, scales: Float64Array, polish = false): boolean {
    const { system, options, step, trial, rhs, residual, norms, qr } = this;
    const m = system.hard.rows;
    if (m === 0) return true;
    const n = system.free.length;
    let worst = this.measure(x);
    for (let k = 0; k < options.mostRestoreSteps; k++) {
      if (worst <= options.hardTolerance * (polish ? 1e-4 : 1)) return true;
      this.factor(scales);
      const length = this.length(norms);
      for (let p = 0; p < qr.rank; p++) {
        const row = qr.order[p]!;
        rhs[p] = norms[row]! > 0 ? -residual[row]! / norms[row]! : 0;
      }
      qr.solveRt(rhs);
      step.fill(0);
      for (let p = 0; p < qr.rank; p++) step[p] = rhs[p]!;
      this.applyQ(step);
      let share = 1;
      let helped = false;
      for (; share > 1e-4 && !helped; share /= 2) {
        trial.set(x);
        for (let j = 0; j < n; j++) {
          const index = system.free[j]!;
          trial[index] = x[index]! + (share * step[j]!) / scales[j]!;
        }
        system.residuals(system.hard, trial, residual);
        const now = this.length(norms);
        helped = now < length * (1 - 0.1 * share) || now === 0;
      }
      if (!helped) {
        // rounding can leave nothing to gain although the equations hold
        if (worst <= options.hardTolerance) return true;
        system.residuals(system.hard, trial, residual);
        const there = this.measure(trial);
        if (there <= options.hardTolerance) x.set(trial);
        return there <= options.hardTolerance;
      }
      x.set(trial);
      worst = this.measure(x);
    }
    return worst <= options.hardTolerance;
  }

  private length(norms: Float64Array): number {
    let sum = 0;
    for (let row = 0; row < norms.length; row++) {
      const v = norms[row]! > 0 ? this.residual[row]! / norms[row]! : this.residual[row]! / this.size[row]!;
      sum += v * v;
    }
    return Number.isFinite(sum) ? Math.sqrt(sum) : Infinity;
  }
}
