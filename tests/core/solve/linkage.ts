// Small geometry for the solver's tests: points as three (or two) variables each, and equations between them.
import type { EquationBlock, Problem } from '../../../core/solve';

export type Kind = 'soft' | 'hard';

/** Repeatable numbers 0 … 1 (mulberry32). */
export function seeded(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), a | 1);
    t = (t + Math.imul(t ^ (t >>> 7), t | 61)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** Standard normal numbers (Box–Muller). */
export const normal = (random: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

/** Points of a space of `dimension` coordinates; their variables and equations. */
export class Linkage {
  readonly values: number[] = [];
  readonly equations: EquationBlock[] = [];
  readonly fixed: number[] = [];

  constructor(readonly dimension: 2 | 3 = 3) {}

  point(...at: number[]): number {
    this.values.push(...at);
    return this.values.length / this.dimension - 1;
  }

  pin(p: number): this {
    this.fixed.push(...this.of(p));
    return this;
  }

  of(...points: number[]): number[] {
    return points.flatMap((p) => Array.from({ length: this.dimension }, (_, k) => p * this.dimension + k));
  }

  at(x: ArrayLike<number>, p: number): number[] {
    return this.of(p).map((j) => x[j]!);
  }

  distance(a: number, b: number, length: number, kind: Kind = 'hard', sigma?: number, name = `d${a}-${b}`): this {
    const n = this.dimension;
    this.equations.push({
      name,
      kind,
      variables: this.of(a, b),
      size: 1,
      ...(sigma === undefined ? {} : { sigma }),
      residual: (v, out) => {
        let sum = 0;
        for (let k = 0; k < n; k++) sum += (v[n + k]! - v[k]!) ** 2;
        out[0] = Math.sqrt(sum) - length;
      },
      jacobian: (v, rows) => {
        let sum = 0;
        for (let k = 0; k < n; k++) sum += (v[n + k]! - v[k]!) ** 2;
        const d = Math.sqrt(sum) || 1;
        for (let k = 0; k < n; k++) rows[k] = -(rows[n + k] = (v[n + k]! - v[k]!) / d);
      },
    });
    return this;
  }

  /** Coordinate `axis` of a point at a value. */
  coordinate(
    p: number,
    axis: number,
    value: number,
    kind: Kind = 'hard',
    sigma?: number,
    name = `c${p}.${axis}`,
  ): this {
    this.equations.push({
      name,
      kind,
      variables: [p * this.dimension + axis],
      size: 1,
      ...(sigma === undefined ? {} : { sigma }),
      residual: (v, out) => void (out[0] = v[0]! - value),
    });
    return this;
  }

  /** Coordinate `axis` the same at two points. */
  same(a: number, b: number, axis: number, name = `same${a}-${b}.${axis}`): this {
    this.equations.push({
      name,
      kind: 'hard',
      variables: [a * this.dimension + axis, b * this.dimension + axis],
      size: 1,
      residual: (v, out) => void (out[0] = v[1]! - v[0]!),
    });
    return this;
  }

  problem(scale?: number): Problem {
    return {
      variables: Float64Array.from(this.values),
      equations: this.equations,
      fixed: this.fixed,
      ...(scale === undefined ? {} : { scale: new Float64Array(this.values.length).fill(scale) }),
    };
  }
}
