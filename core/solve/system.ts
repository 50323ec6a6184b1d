import { fail } from '../error';
import type { EquationBlock, Problem } from './types';

/** One side (soft or hard) of a system, ready for evaluation. */
export interface Side {
  readonly blocks: readonly EquationBlock[];
  /** First row of each block. */
  readonly offsets: readonly number[];
  readonly rows: number;
  /** Soft: 1/sigma of each row. Hard: 1. */
  readonly weights: Float64Array;
  /** Hard: the size given with the block, or 0. */
  readonly sizes: Float64Array;
}

/** A problem laid out for the solver: which variables are free, where rows go, scratch space. */
export class System {
  /** Free variables, by index. */
  readonly free: Int32Array;
  /** Column of each variable; −1 where it is fixed. */
  readonly column: Int32Array;
  readonly soft: Side;
  readonly hard: Side;
  private readonly local: Float64Array;
  private readonly some: Float64Array;
  private readonly less: Float64Array;
  private readonly rows: Float64Array;
  private readonly scale: ArrayLike<number> | undefined;

  /** Throws a LidwrightError where a block refers to a variable that isn't there or a sigma is no positive number. */
  constructor(problem: Problem) {
    const n = problem.variables.length;
    problem.variables.forEach((v, j) => {
      if (!Number.isFinite(v)) fail(`variable ${j} starts at ${v}`, ['variables', j], 'Start it at a finite number.');
    });
    const held = new Uint8Array(n);
    for (const j of problem.fixed ?? []) held[j] = 1;
    this.column = new Int32Array(n).fill(-1);
    const free: number[] = [];
    for (let j = 0; j < n; j++)
      if (!held[j]) {
        this.column[j] = free.length;
        free.push(j);
      }
    this.free = Int32Array.from(free);
    this.scale = problem.scale;
    let most = 1;
    let mostRows = 1;
    for (const block of problem.equations) {
      most = Math.max(most, block.variables.length);
      mostRows = Math.max(mostRows, block.size);
      for (const j of block.variables)
        if (!(j >= 0 && j < n))
          fail(`"${block.name}" uses variable ${j}, which is not there`, ['equations', block.name], `There are ${n}.`);
    }
    this.local = new Float64Array(most);
    this.some = new Float64Array(mostRows);
    this.less = new Float64Array(4 * mostRows);
    this.rows = new Float64Array(most * mostRows);
    this.soft = lay(problem.equations, 'soft');
    this.hard = lay(problem.equations, 'hard');
  }

  /** Weighted residuals of one side. */
  residuals(side: Side, x: Float64Array, out: Float64Array): void {
    side.blocks.forEach((block, b) => {
      this.gather(block, x);
      block.residual(this.local, this.some);
      const at = side.offsets[b]!;
      for (let i = 0; i < block.size; i++) out[at + i] = this.some[i]! * side.weights[at + i]!;
    });
  }

  /** Weighted Jacobian of one side over the free variables, row-major (rows × free). */
  jacobian(side: Side, x: Float64Array, out: Float64Array): void {
    const n = this.free.length;
    out.fill(0, 0, side.rows * n);
    side.blocks.forEach((block, b) => {
      this.gather(block, x);
      const k = block.variables.length;
      if (block.jacobian) {
        this.rows.fill(0, 0, k * block.size);
        block.jacobian(this.local, this.rows);
      } else this.differences(block);
      for (let i = 0; i < block.size; i++) {
        const row = side.offsets[b]! + i;
        const weight = side.weights[row]!;
        for (let l = 0; l < k; l++) {
          const column = this.column[block.variables[l]!]!;
          if (column >= 0) out[row * n + column] = out[row * n + column]! + this.rows[i * k + l]! * weight;
        }
      }
    });
  }

  private gather(block: EquationBlock, x: Float64Array): void {
    for (let l = 0; l < block.variables.length; l++) this.local[l] = x[block.variables[l]!]!;
  }

  /**
   * Four-point central differences, error of order h⁴; the step weighs that against rounding (ε^⅕ of the variable).
   * For a variable far smaller than its neighbours wider steps are tried as well, and the one with the least estimated
   * error (truncation from halving the step, rounding from the neighbours' size) is kept.
   * Source: Abramowitz & Stegun 25.3.21 (from memory).
   */
  private differences(block: EquationBlock): void {
    const k = block.variables.length;
    const { local, less, rows } = this;
    const size = block.size;
    let around = 0;
    for (let l = 0; l < k; l++) around = Math.max(around, Math.abs(local[l]!));
    for (let l = 0; l < k; l++) {
      for (let i = 0; i < size; i++) rows[i * k + l] = 0;
      if (this.column[block.variables[l]!]! < 0) continue;
      const v = local[l]!;
      const typical = this.scale?.[block.variables[l]!] ?? 0;
      let best = Infinity;
      for (let reach = Math.max(Math.abs(v), typical, 1e-9 * around) || 1; ; reach *= 32) {
        // a power of 2, so that v ± h and 2h are exact more often than not
        const h = 2 ** Math.round(Math.log2(7e-4 * reach));
        for (let s = 0; s < 4; s++) {
          local[l] = v + h * STEPS[s]!;
          block.residual(local, this.some);
          for (let i = 0; i < size; i++) less[s * size + i] = this.some[i]!;
        }
        local[l] = v;
        let error = 0;
        for (let i = 0; i < size; i++) {
          const near = (less[2 * size + i]! - less[size + i]!) / (2 * h);
          const wide = (less[3 * size + i]! - less[i]!) / (4 * h);
          error += Math.abs(near - wide) + (2e-16 / h) * (Math.abs(less[3 * size + i]!) + Math.abs(near) * around);
        }
        if (!(error < best) && best < Infinity) break;
        best = error;
        for (let i = 0; i < size; i++) {
          const near = less[2 * size + i]! - less[size + i]!;
          rows[i * k + l] = (8 * near - (less[3 * size + i]! - less[i]!)) / (12 * h);
        }
        if (reach >= 0.02 * around) break;
      }
    }
  }
}

const STEPS = [-2, -1, 1, 2] as const;

function lay(equations: readonly EquationBlock[], kind: 'soft' | 'hard'): Side {
  const blocks = equations.filter((b) => b.kind === kind);
  const offsets: number[] = [];
  let rows = 0;
  for (const block of blocks) {
    offsets.push(rows);
    rows += block.size;
  }
  const weights = new Float64Array(rows).fill(1);
  const sizes = new Float64Array(rows);
  blocks.forEach((block, b) => {
    if (block.sigma === undefined) return;
    for (let i = 0; i < block.size; i++) {
      const sigma = typeof block.sigma === 'number' ? block.sigma : block.sigma[i]!;
      if (!(sigma > 0) || !Number.isFinite(sigma))
        fail(`"${block.name}" has the sigma ${sigma}`, ['equations', block.name, 'sigma'], 'Give a number over 0.');
      if (kind === 'soft') weights[offsets[b]! + i] = 1 / sigma;
      else sizes[offsets[b]! + i] = sigma;
    }
  });
  return { blocks, offsets, rows, weights, sizes };
}

/** Name of the block that a row belongs to. */
export function nameOfRow(side: Side, row: number): string {
  let b = side.blocks.length - 1;
  while (b > 0 && side.offsets[b]! > row) b--;
  return side.blocks[b]!.name;
}
