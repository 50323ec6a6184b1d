import { components } from './conflict';
import { Manifold } from './manifold';
import { System, nameOfRow } from './system';
import { type Problem, type SolveOptions, withSolveDefaults } from './types';

export const PROJECT_DEFAULTS = {
  /** Most steps along the surface towards the target. */
  mostSlides: 12,
  /** A slide shorter than this share of the largest variable ends the search. */
  slideTolerance: 1e-9,
} as const;

export interface Projected {
  /** True: every hard equation holds at `x`. False: x is the start, unchanged. */
  readonly held: boolean;
  /** The projector's own array: copy what must outlive the next call. */
  readonly x: Float64Array;
  /** Root of Σ weight·(x − target)². */
  readonly distance: number;
  readonly slides: number;
  /** Largest relative error of a hard equation where it ended, and the block it is in. */
  readonly hardError: number;
  readonly hardWorst: string | null;
}

/**
 * Keeps hard equations while something is dragged: the state nearest to a target, Σ weight·(x − target)² least, on which they
 * all hold. Soft equations are left out of account. All storage is made here, once; `project` allocates next to nothing.
 * Newton's step back to the surface and slides along it towards the target, halved until they bring it nearer.
 */
export class Projector {
  private readonly system: System;
  private readonly manifold: Manifold;
  private readonly scales: Float64Array;
  private readonly x: Float64Array;
  private readonly trial: Float64Array;
  private readonly slide: Float64Array;

  /**
   * `weights`, one a variable: how hard each is pulled to its target (1 where not given).
   * `moved`: variables that will be given new targets; only what hangs together with them can move.
   */
  constructor(
    problem: Problem,
    args: { readonly weights?: ArrayLike<number>; readonly moved?: readonly number[] } = {},
    options: SolveOptions = {},
  ) {
    const full = withSolveDefaults(options);
    const hard = problem.equations.filter((b) => b.kind === 'hard');
    const moved = args.moved && new Set(args.moved);
    const parts = components(problem, hard).filter(
      (part) => !moved || part.some((b) => b.variables.some((j) => moved.has(j))),
    );
    const near = new Set(parts.flatMap((part) => part.flatMap((b) => b.variables)));
    for (const j of args.moved ?? []) near.add(j);
    const fixed = moved ? Array.from(problem.variables, (_, j) => j).filter((j) => !near.has(j)) : [];
    this.system = new System({ ...problem, equations: parts.flat(), fixed: [...(problem.fixed ?? []), ...fixed] });
    this.manifold = new Manifold(this.system, full);
    this.scales = Float64Array.from(this.system.free, (j) => Math.sqrt(args.weights?.[j] ?? 1));
    this.x = new Float64Array(problem.variables.length);
    this.trial = new Float64Array(problem.variables.length);
    this.slide = new Float64Array(this.system.free.length);
  }

  /** From `start` (best the last state that held) to the nearest state to `target`; both have one entry a variable. */
  project(start: Float64Array, target: Float64Array): Projected {
    const { system, manifold, scales, x, trial, slide } = this;
    const n = system.free.length;
    x.set(start);
    // first straight to the target and down to the surface; where that fails, along the surface from the start
    for (const j of system.free) x[j] = target[j]!;
    if (!manifold.retract(x, scales)) {
      x.set(start);
      if (!manifold.retract(x, scales)) return this.end(false, start, target, 0);
    }
    let reach = 0;
    for (let k = 0; k < n; k++) reach = Math.max(reach, Math.abs(scales[k]! * target[system.free[k]!]!));
    let far = this.distance(x, target);
    let slides = 0;
    while (slides < PROJECT_DEFAULTS.mostSlides && system.hard.rows > 0) {
      manifold.measure(x);
      manifold.factor(scales);
      for (let k = 0; k < n; k++) {
        const j = system.free[k]!;
        slide[k] = (target[j]! - x[j]!) * scales[k]!;
      }
      manifold.applyQt(slide);
      let long = 0;
      for (let k = 0; k < n; k++) {
        if (k < manifold.rank) slide[k] = 0;
        long = Math.max(long, Math.abs(slide[k]!));
      }
      if (long <= PROJECT_DEFAULTS.slideTolerance * (reach || 1)) break;
      manifold.applyQ(slide);
      let nearer = false;
      for (let share = 1; share > 0.01 && !nearer; share /= 2) {
        trial.set(x);
        for (let k = 0; k < n; k++) {
          const j = system.free[k]!;
          trial[j] = x[j]! + (share * slide[k]!) / scales[k]!;
        }
        if (!manifold.retract(trial, scales)) continue;
        const now = this.distance(trial, target);
        nearer = now < far;
        if (nearer) far = now;
      }
      slides++;
      if (!nearer) break;
      x.set(trial);
    }
    return this.end(true, start, target, slides);
  }

  private distance(x: Float64Array, target: Float64Array): number {
    let sum = 0;
    for (let k = 0; k < this.scales.length; k++) {
      const j = this.system.free[k]!;
      sum += ((x[j]! - target[j]!) * this.scales[k]!) ** 2;
    }
    return Math.sqrt(sum);
  }

  private end(held: boolean, start: Float64Array, target: Float64Array, slides: number): Projected {
    const { system, manifold, x } = this;
    const hardError = manifold.measure(x);
    const hardWorst = system.hard.rows > 0 ? nameOfRow(system.hard, manifold.worstRow) : null;
    if (!held) x.set(start);
    return { held, x, distance: this.distance(x, target), slides, hardError, hardWorst };
  }
}
