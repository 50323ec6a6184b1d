import { type Reason, solve } from '../solve';
import { inverted } from './linear';

/** Residuals, and their Jacobian where asked for: r[i] and jac[i] (a row over the parameters) are to be set. */
export type Model = (x: readonly number[], r: number[], jac: number[][] | null) => void;

/** Where a refinement came to rest. */
export interface Refined {
  readonly x: readonly number[];
  readonly sumOfSquares: number;
  readonly reason: Reason;
  /** (JᵀJ)⁻¹ at the end: covariance of x for residuals of variance 1. Entries are not finite where JᵀJ is singular. */
  readonly cofactor: readonly (readonly number[])[];
}

/** Least squares of `rows` residuals from a start, by the solver's Levenberg–Marquardt; steps 0 only takes stock. */
export function refine(
  start: readonly number[],
  rows: number,
  model: Model,
  options: { readonly steps?: number; readonly scale?: readonly number[]; readonly fixed?: readonly number[] } = {},
): Refined {
  const n = start.length;
  const r: number[] = new Array<number>(rows).fill(0);
  const jac: number[][] = Array.from({ length: rows }, () => new Array<number>(n).fill(0));
  let x: readonly number[] = start;
  let reason: Reason = 'converged';
  if (options.steps !== 0) {
    const solution = solve({
      variables: Float64Array.from(start),
      fixed: options.fixed,
      scale: options.scale,
      equations: [
        {
          name: 'marks',
          kind: 'soft',
          variables: start.map((_, j) => j),
          size: rows,
          residual(v, out) {
            model(Array.from(v.subarray(0, n)), r, null);
            for (let i = 0; i < rows; i++) out[i] = r[i]!;
          },
          jacobian(v, out) {
            model(Array.from(v.subarray(0, n)), r, jac);
            for (let i = 0; i < rows; i++) for (let j = 0; j < n; j++) out[i * n + j] = jac[i]![j]!;
          },
        },
      ],
    });
    x = Array.from(solution.x);
    reason = solution.reason;
  }
  model(x, r, jac);
  return {
    x,
    reason,
    sumOfSquares: r.reduce((s, v) => s + v * v, 0),
    cofactor: cofactorOf(jac, n, new Set(options.fixed ?? [])),
  };
}

/** (JᵀJ)⁻¹ over the free parameters, rows and columns of fixed ones 0. Columns are scaled to length 1 first. */
export function cofactorOf(jac: readonly (readonly number[])[], n: number, fixed: ReadonlySet<number>): number[][] {
  const free = Array.from({ length: n }, (_, j) => j).filter((j) => !fixed.has(j));
  const size = free.map((j) => Math.sqrt(jac.reduce((s, row) => s + row[j]! ** 2, 0)) || 1);
  const normal = free.map((a, ia) =>
    free.map((b, ib) => jac.reduce((s, row) => s + (row[a]! / size[ia]!) * (row[b]! / size[ib]!), 0)),
  );
  const full = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  let inv: number[][];
  try {
    inv = inverted(normal);
  } catch {
    inv = normal.map((row) => row.map(() => Infinity));
  }
  free.forEach((a, ia) => free.forEach((b, ib) => (full[a]![b] = inv[ia]![ib]! / (size[ia]! * size[ib]!))));
  return full;
}
