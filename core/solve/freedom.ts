import { PivotedQr, norm2 } from './qr';
import { type Side, System } from './system';
import { type Problem, type SolveOptions, withSolveDefaults } from './types';

export interface Freedom {
  /** Directions in which variables can still move to first order while the equations hold. */
  readonly degrees: number;
  /** Those directions, orthonormal in the metric of the problem's scales; each has one entry a variable (0 for fixed ones). */
  readonly directions: readonly Float64Array[];
  /** 0 held … 1 entirely free, one a variable: share of its unit step that lies in the free directions, root of the sum of squares. */
  readonly mobility: Float64Array;
  /** Hard blocks that add nothing to those named before them (to first order at x): each with the blocks that already say it. */
  readonly redundant: readonly { readonly name: string; readonly saidBy: readonly string[] }[];
}

/**
 * Which variables can still move at x, and which hard equations say what others already say.
 * `count`: 'hard' looks at the hard equations only, 'all' counts readings too (whatever their sigma). First order: a state in
 * which parts happen to lie in line can show more freedom, or less, than one beside it.
 */
export function freedom(
  problem: Problem,
  x: Float64Array,
  count: 'hard' | 'all' = 'hard',
  options: SolveOptions = {},
): Freedom {
  const { rankTolerance } = withSolveDefaults(options);
  const system = new System(problem);
  const n = system.free.length;
  const scale = (k: number): number => problem.scale?.[system.free[k]!] ?? 1;
  const scaledRows = (side: Side): Float64Array => {
    const rows = new Float64Array(side.rows * n);
    system.jacobian(side, x, rows);
    for (let i = 0; i < side.rows; i++) {
      for (let k = 0; k < n; k++) rows[i * n + k] = rows[i * n + k]! * scale(k);
      const norm = norm2(rows, i * n, n);
      if (norm > 0) for (let k = 0; k < n; k++) rows[i * n + k] = rows[i * n + k]! / norm;
    }
    return rows;
  };
  const hard = scaledRows(system.hard);
  const redundant = repeated(system.hard, hard, n);
  const soft = count === 'all' ? scaledRows(system.soft) : new Float64Array(0);
  const all = new Float64Array(hard.length + soft.length);
  all.set(hard);
  all.set(soft, hard.length);
  const qr = new PivotedQr();
  const rank = n > 0 && all.length > 0 ? qr.factor(all, n, all.length / n, rankTolerance).rank : 0;
  const directions: Float64Array[] = [];
  const mobility = new Float64Array(x.length);
  for (let d = rank; d < n; d++) {
    const e = new Float64Array(n);
    e[d] = 1;
    if (rank > 0) qr.applyQ(e);
    const direction = new Float64Array(x.length);
    for (let k = 0; k < n; k++) {
      direction[system.free[k]!] = e[k]! * scale(k);
      mobility[system.free[k]!] = mobility[system.free[k]!]! + e[k]! ** 2;
    }
    directions.push(direction);
  }
  for (let v = 0; v < x.length; v++) mobility[v] = mobility[v]! < 1e-14 ? 0 : Math.sqrt(Math.min(1, mobility[v]!));
  return { degrees: n - rank, directions, mobility, redundant };
}

/** Rows taken in order; one that lies in the span of the rows before it repeats them (Gram–Schmidt, twice over). */
function repeated(side: Side, rows: Float64Array, n: number): Freedom['redundant'] {
  const basis: { vector: Float64Array; mix: Map<number, number> }[] = [];
  const found = new Map<string, Set<string>>();
  const owner = side.blocks.flatMap((block) => Array.from({ length: block.size }, () => block.name));
  const fresh = new Set<string>();
  for (let i = 0; i < side.rows; i++) {
    const v = rows.slice(i * n, (i + 1) * n);
    const mix = new Map<number, number>([[i, 1]]);
    for (let round = 0; round < 2; round++)
      for (const b of basis) {
        let along = 0;
        for (let k = 0; k < n; k++) along += v[k]! * b.vector[k]!;
        if (along === 0) continue;
        for (let k = 0; k < n; k++) v[k] = v[k]! - along * b.vector[k]!;
        for (const [row, share] of b.mix) mix.set(row, (mix.get(row) ?? 0) - along * share);
      }
    const left = norm2(v, 0, n);
    if (left > 1e-7) {
      for (let k = 0; k < n; k++) v[k] = v[k]! / left;
      for (const [row, share] of mix) mix.set(row, share / left);
      basis.push({ vector: v, mix });
      fresh.add(owner[i]!);
    } else {
      const said = found.get(owner[i]!) ?? new Set<string>();
      for (const [row, share] of mix) if (row !== i && Math.abs(share) > 1e-6) said.add(owner[row]!);
      found.set(owner[i]!, said);
    }
  }
  // a block of which one part is new is not redundant
  return [...found]
    .filter(([name]) => !fresh.has(name))
    .map(([name, said]) => ({ name, saidBy: [...said].filter((other) => other !== name) }));
}
