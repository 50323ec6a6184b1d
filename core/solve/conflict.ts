import { solve } from './least-squares';
import type { EquationBlock, Problem, SolveOptions } from './types';

export interface ConflictOptions extends SolveOptions {
  /** Names to keep in the named set if at all possible: they are tried for removal last. */
  readonly keep?: readonly string[];
  /** Starts beside the given one, each shaken further; more finds a way round more often and costs more. */
  readonly restarts?: number;
}

export interface Conflict {
  /** A set of hard equations that can't hold together; leave any one of them out and the others of the set can. */
  readonly names: readonly string[];
  /** Names whose removal alone lets every hard equation of the problem hold. Shorter than names where there is more than one conflict. */
  readonly correctionSet: readonly string[];
}

/**
 * Looks for a state in which all hard equations hold: from the start, then from starts shaken about it (repeatably).
 * Null where none was found, which for nonlinear equations is strong evidence and no proof.
 */
export function findState(problem: Problem, options: ConflictOptions = {}): Float64Array | null {
  const hard = problem.equations.filter((b) => b.kind === 'hard');
  const x = Float64Array.from(problem.variables);
  for (const part of components(problem, hard)) {
    const found = findPart(problem, part, options);
    if (!found) return null;
    for (const block of part) for (const j of block.variables) x[j] = found[j]!;
  }
  return x;
}

/**
 * A smallest set of hard equations that can't hold together, by the deletion filter: each in turn is left out for good if the
 * rest still can't hold. Null when all can hold. Source: Chinneck & Dravnieks, "Locating minimal infeasible constraint sets
 * in linear programs" (1991), from memory; here with a nonlinear search in place of the linear programme.
 */
export function findConflict(problem: Problem, options: ConflictOptions = {}): Conflict | null {
  const hard = problem.equations.filter((b) => b.kind === 'hard');
  const broken = components(problem, hard).filter((part) => findPart(problem, part, options) === null);
  const first = broken[0];
  if (!first) return null;
  const keep = new Set(options.keep ?? []);
  const names = [...new Set(first.map((b) => b.name))];
  const some = (wanted: ReadonlySet<string>): EquationBlock[] => first.filter((b) => wanted.has(b.name));
  const can = (wanted: ReadonlySet<string>): boolean =>
    components(problem, some(wanted)).every((part) => findPart(problem, part, options) !== null);
  // equations that a least-squares compromise leaves unhurt pull at nothing: most often the conflict is among the others
  const hurt = violatedSet(problem, first, options);
  const left = new Set(hurt.size < names.length && hurt.size > 0 && !can(hurt) ? hurt : names);
  const order = [...names.filter((n) => !keep.has(n)), ...names.filter((n) => keep.has(n))].filter((n) => left.has(n));
  for (const name of order) {
    left.delete(name);
    if (can(left)) left.add(name);
  }
  const correctionSet =
    broken.length > 1 ? [] : [...left].filter((name) => can(new Set(names.filter((other) => other !== name))));
  return { names: [...left], correctionSet };
}

/** Hard blocks in groups that share no free variable. */
export function components(problem: Problem, blocks: readonly EquationBlock[]): EquationBlock[][] {
  const held = new Set(problem.fixed ?? []);
  const parent = blocks.map((_, i) => i);
  const root = (i: number): number => {
    while (parent[i] !== i) i = parent[i] = parent[parent[i]!]!;
    return i;
  };
  const seen = new Map<number | string, number>();
  blocks.forEach((block, i) => {
    // blocks of one name go together, as they are named and left out together
    for (const key of [block.name, ...block.variables]) {
      if (typeof key === 'number' && held.has(key)) continue;
      const other = seen.get(key);
      if (other === undefined) seen.set(key, i);
      else parent[root(i)] = root(other);
    }
  });
  const groups = new Map<number, EquationBlock[]>();
  blocks.forEach((block, i) => {
    const r = root(i);
    const group = groups.get(r);
    if (group) group.push(block);
    else groups.set(r, [block]);
  });
  return [...groups.values()];
}

/** Names of the blocks that carry a residual where the sum of all squared residuals is least. */
function violatedSet(problem: Problem, part: readonly EquationBlock[], options: ConflictOptions): Set<string> {
  const { x } = solve({ ...problem, ...onlyUsed(problem, part), equations: soften(problem, part) }, options);
  const errors = part.map((block) => {
    const out = new Float64Array(block.size);
    block.residual(
      Float64Array.from(block.variables, (j) => x[j]!),
      out,
    );
    const sizes = sizesOf(block, problem.variables, problem);
    return Math.max(...out.map((v, i) => Math.abs(v) / sizes[i]!));
  });
  const most = Math.max(...errors);
  return new Set(part.filter((_, i) => errors[i]! > 1e-4 * most).map((b) => b.name));
}

const soften = (problem: Problem, part: readonly EquationBlock[]): EquationBlock[] =>
  part.map((b) => ({ ...b, kind: 'soft', sigma: sizesOf(b, problem.variables, problem) }));

/** All variables held but those that a part uses. */
function onlyUsed(problem: Problem, part: readonly EquationBlock[]): { used: Set<number>; fixed: number[] } {
  const held = new Set(problem.fixed ?? []);
  const used = new Set(part.flatMap((b) => b.variables).filter((j) => !held.has(j)));
  return { used, fixed: Array.from(problem.variables, (_, j) => j).filter((j) => !used.has(j)) };
}

function findPart(problem: Problem, part: readonly EquationBlock[], options: ConflictOptions): Float64Array | null {
  const { used, fixed } = onlyUsed(problem, part);
  const softened = soften(problem, part);
  let reach = 0;
  for (const j of new Set(part.flatMap((b) => b.variables))) reach = Math.max(reach, Math.abs(problem.variables[j]!));
  if (reach === 0) reach = 1;
  let seed = 20250207;
  const random = (): number => (seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0) / 2 ** 32 - 0.5;
  for (let restart = 0; restart <= (options.restarts ?? 4); restart++) {
    const start = Float64Array.from(problem.variables);
    if (restart > 0)
      for (const j of used)
        start[j] =
          start[j]! + random() * 2 * (problem.scale?.[j] ?? reach) * [0, 0.01, 0.1, 0.3, 1][Math.min(restart, 4)]!;
    const base = { variables: start, fixed, scale: problem.scale };
    const direct = solve({ ...base, equations: part }, options);
    if (direct.reason !== 'contradictory') return direct.x;
    // least squares of the equations themselves gets past states where Gauss–Newton cycles or sticks
    const near = solve({ ...base, equations: softened }, { ...options, mostSteps: 60 });
    const polished = solve({ ...base, variables: near.x, equations: part }, options);
    if (polished.reason !== 'contradictory') return polished.x;
  }
  return null;
}

/** Rough size of each residual of a block: its change when its variables change by their own reach. */
function sizesOf(block: EquationBlock, x: Float64Array, problem: Problem): Float64Array {
  if (block.sigma !== undefined)
    return Float64Array.from({ length: block.size }, (_, i) =>
      typeof block.sigma === 'number' ? block.sigma : block.sigma![i]!,
    );
  const v = Float64Array.from(block.variables, (j) => x[j]!);
  let reach = 0;
  for (let l = 0; l < v.length; l++)
    reach = Math.max(reach, Math.abs(v[l]!), problem.scale?.[block.variables[l]!] ?? 0);
  reach = reach || 1;
  const out = new Float64Array(block.size);
  const low = new Float64Array(block.size);
  const sizes = new Float64Array(block.size);
  for (let l = 0; l < v.length; l++) {
    const keep = v[l]!;
    v[l] = keep + 1e-4 * reach;
    block.residual(v, out);
    v[l] = keep - 1e-4 * reach;
    block.residual(v, low);
    v[l] = keep;
    for (let i = 0; i < block.size; i++) sizes[i] = Math.max(sizes[i]!, Math.abs(out[i]! - low[i]!) / 2e-4);
  }
  return sizes.map((s) => (s > 0 && Number.isFinite(s) ? s : reach));
}
