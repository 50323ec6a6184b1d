/**
 * A block of equations over a few variables. All of its residuals are 0 when it holds.
 * `residual` and `jacobian` see only the block's own variables, in the order listed.
 */
export interface EquationBlock {
  /** What a message calls it. Blocks that share a name stand and fall together. */
  readonly name: string;
  /** soft: held as well as its sigma asks; hard: held exactly. */
  readonly kind: 'soft' | 'hard';
  /** Indices into the problem's variables. */
  readonly variables: readonly number[];
  /** How many residuals it has. */
  readonly size: number;
  /**
   * soft: standard deviation of each residual, in the residual's unit (1 where not given).
   * hard: the size against which "exactly" is judged; where not given, gradient × largest variable.
   */
  readonly sigma?: number | ArrayLike<number>;
  /** Writes `size` residuals, computed − wanted, for the values v of the listed variables. */
  residual(v: Float64Array, out: Float64Array): void;
  /** Writes ∂residual/∂v row by row (size × variables.length); differences of the residual where it is left out. */
  jacobian?(v: Float64Array, rows: Float64Array): void;
}

export interface Problem {
  /** Start values, one a variable. Never changed. */
  readonly variables: Float64Array;
  readonly equations: readonly EquationBlock[];
  /** Indices of variables that stay as they start. */
  readonly fixed?: readonly number[];
  /** Typical size of each variable; helps differences and tolerances where a start value is 0. */
  readonly scale?: ArrayLike<number>;
}

/** Every default of this room, in one place. */
export const SOLVE_DEFAULTS = {
  /** Most Levenberg–Marquardt steps tried, refused ones included. */
  mostSteps: 400,
  /** Converged when a scaled step is under this share of the scaled variables … */
  stepTolerance: 1e-12,
  /** … or the largest cosine between the residual and a column of the Jacobian is under this … */
  gradientTolerance: 1e-11,
  /** … or the step promises, and brings, less than this share of the sum of squares. */
  reductionTolerance: 1e-16,
  /** Where damping over 1 made the step short, that counts only with a gradient under this; otherwise it is stalled. */
  noiseGradient: 1e-6,
  /** … and a refused step that promised less than this share, with such a gradient, was refused by rounding: converged. */
  noiseReduction: 1e-12,
  /** With more free directions than this, steps come from the normal matrix. */
  normalFrom: 48,
  /** Hard equations hold when every residual is under this share of its size. */
  hardTolerance: 1e-10,
  /** Most steps to bring hard equations back to 0 after a step. */
  mostRestoreSteps: 40,
  /** A direction counts as free when its scaled pivot is under this share of the largest. */
  rankTolerance: 1e-8,
  /** Damping at the start, in units of the scaled normal matrix (whose diagonal is at most 1). */
  firstDamping: 1e-3,
  /** More damping than this means no step helps. */
  mostDamping: 1e20,
} as const;

export type SolveOptions = { readonly [K in keyof typeof SOLVE_DEFAULTS]?: number };
export type FullOptions = { readonly [K in keyof typeof SOLVE_DEFAULTS]: number };

/** Given options over the defaults. */
export const withSolveDefaults = (options: SolveOptions = {}): FullOptions => ({ ...SOLVE_DEFAULTS, ...options });
