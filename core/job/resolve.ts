import type { z } from 'zod';
import { type Issue, LidwrightError, fail } from '../error';
import {
  type Scope,
  type Value,
  FILE_UNIT,
  evaluateQuantity,
  evaluateValue,
  isFreeName,
  namesIn,
  toFileNumber,
} from '../quantity';
import { type NumberField, numberFieldOf } from './number-field';
import { jobSchema } from './schema';
import type { Job, ResolvedJob } from './types';

/** Where the number fields of a part of the schema lie: '*' stands for every item of a list. */
type FieldTree =
  NumberField | { readonly keys: ReadonlyMap<string | number, FieldTree> } | { readonly each: FieldTree };

interface ZodDef {
  readonly type: string;
  readonly shape?: Record<string, z.ZodType>;
  readonly element?: z.ZodType;
  readonly innerType?: z.ZodType;
  readonly items?: z.ZodType[];
}

/** Reads the tree of number fields off the schema once, so that a field is declared in one place only. */
function fieldTree(schema: z.ZodType): FieldTree | null {
  const field = numberFieldOf(schema);
  if (field) return field;
  const def = (schema as unknown as { _zod: { def: ZodDef } })._zod.def;
  const branch = (entries: [string | number, z.ZodType][]): FieldTree | null => {
    const keys = new Map<string | number, FieldTree>();
    for (const [key, child] of entries) {
      const tree = fieldTree(child);
      if (tree) keys.set(key, tree);
    }
    return keys.size > 0 ? { keys } : null;
  };
  if (def.shape) return branch(Object.entries(def.shape));
  if (def.items) return branch(def.items.map((item, i) => [i, item]));
  if (def.element) {
    const each = fieldTree(def.element);
    return each ? { each } : null;
  }
  return def.innerType ? fieldTree(def.innerType) : null;
}

const TREE = (fieldTree(jobSchema) as { keys: ReadonlyMap<string, FieldTree> }).keys;

/**
 * Values of all givens, by name; a given may use others. Cycles are reported by name, never followed.
 * Throws a LidwrightError with every given that can't be worked out.
 */
export function resolveGivens(job: Job): Scope {
  const givens = job.givens ?? [];
  const issues: Issue[] = [];
  const values = new Map<string, Value>();
  const index = new Map<string, number>();
  givens.forEach((given, i) => {
    if (!isFreeName(given.name))
      issues.push({
        what: `"${given.name}" can't be the name of a given`,
        where: ['givens', i, 'name'],
        advice: 'Use a letter first, then letters, digits or _; units and functions are taken.',
      });
    else if (index.has(given.name))
      issues.push({
        what: `the given "${given.name}" stands twice`,
        where: ['givens', i, 'name'],
        advice: 'Rename one of the two.',
      });
    else index.set(given.name, i);
  });
  const state = new Map<string, 'open' | 'done'>();
  const visit = (name: string, trail: string[]): void => {
    const i = index.get(name);
    if (i === undefined || state.get(name) === 'done') return;
    if (state.get(name) === 'open') {
      const loop = [...trail.slice(trail.indexOf(name)), name];
      const shown = loop.length > 8 ? [...loop.slice(0, 4), `${loop.length - 6} more`, ...loop.slice(-2)] : loop;
      return fail(
        `givens run in a circle: ${shown.join(' → ')}`,
        ['givens', i, 'expression'],
        'Give one of them a value of its own.',
      );
    }
    state.set(name, 'open');
    try {
      const text = givens[i]!.expression;
      for (const needed of namesIn(text)) visit(needed, [...trail, name]);
      values.set(name, evaluateValue(text, values));
    } catch (error) {
      if (!(error instanceof LidwrightError)) throw error;
      throw error.where.length > 0 ? error : error.within('givens', i, 'expression');
    } finally {
      state.set(name, 'done');
    }
  };
  for (const name of index.keys()) {
    try {
      visit(name, []);
    } catch (error) {
      if (!(error instanceof LidwrightError)) throw error;
      issues.push(...error.issues);
    }
  }
  const [first, ...also] = issues;
  if (first) throw new LidwrightError(first, also);
  return values;
}

function numberFrom(raw: unknown, field: NumberField, scope: Scope): number {
  const unit = FILE_UNIT[field.dimension];
  let value: number;
  if (typeof raw === 'number') value = raw;
  else if (typeof raw === 'object' && raw !== null && 'given' in raw) {
    const name = String(raw.given);
    const given = scope.get(name);
    if (given === undefined) return fail(`there is no given "${name}"`, [], 'Add it to the givens, or type a number.');
    value = toFileNumber(given, field.dimension, unit, name);
  } else {
    const { expression, unit: bare } = raw as { expression: string; unit?: string };
    value = evaluateQuantity(expression, field.dimension, scope, bare ?? unit);
  }
  const { min = -Infinity, max = Infinity, open = false } = field;
  const inside = open ? value > min && value < max : value >= min && value <= max;
  if (!inside) {
    const sign = unit === '' ? '' : ` ${unit}`;
    return fail(
      `${Number(value.toPrecision(7))}${sign} is out of bounds`,
      [],
      max === Infinity || (Math.abs(max) >= 1e5 && value <= max)
        ? `It must be ${open ? 'over' : 'at least'} ${min}${sign}.`
        : `It must lie between ${min} and ${max}${sign}.`,
    );
  }
  return value;
}

/** Copies `raw` with every number field worked out; returns `raw` itself where nothing changes. */
function resolveTree(
  raw: unknown,
  tree: FieldTree,
  scope: Scope,
  issues: Issue[],
  where: (string | number)[],
): unknown {
  if ('dimension' in tree) {
    if (raw === undefined) return raw;
    try {
      return numberFrom(raw, tree, scope);
    } catch (error) {
      if (!(error instanceof LidwrightError)) throw error;
      issues.push(...error.within(...where).issues);
      return NaN;
    }
  }
  if (typeof raw !== 'object' || raw === null) return raw;
  if ('each' in tree) {
    let copy: unknown[] | null = null;
    (raw as unknown[]).forEach((item, i) => {
      const next = resolveTree(item, tree.each, scope, issues, [...where, i]);
      if (next !== item) (copy ??= [...(raw as unknown[])])[i] = next;
    });
    return copy ?? raw;
  }
  let copy: Record<string | number, unknown> | null = null;
  const source = raw as Record<string | number, unknown>;
  for (const [key, child] of tree.keys) {
    const item = source[key];
    const next = resolveTree(item, child, scope, issues, [...where, key]);
    if (next !== item)
      (copy ??= (Array.isArray(raw) ? [...raw] : { ...source }) as Record<string | number, unknown>)[key] = next;
  }
  return copy ?? raw;
}

export const DEFAULT_LIMITS = { handOpenN: 150, handCloseN: 200, reserveMm: 5, holdOpenNm: 5, clearanceMm: 3 } as const;

/** Fills what a file may leave out; every default is one a person would expect (none, level, 20 °C, one strut). */
function withDefaults(plain: Record<string, unknown>): ResolvedJob {
  const job = plain as unknown as ResolvedJob;
  return {
    ...job,
    hinge: { ...job.hinge, frictionNm: job.hinge.frictionNm ?? 0 },
    outline: job.outline ?? [],
    struts: job.struts.map((s) => ({
      ...s,
      quantity: s.quantity ?? 1,
      spec: { ...s.spec, frictionN: s.spec.frictionN ?? 0, toleranceN: s.spec.toleranceN ?? [0, 0] },
    })),
    springs: (job.springs ?? []).map((s) => ({ ...s, quantity: s.quantity ?? 1 })),
    loadCases: job.loadCases.map((c) => ({
      ...c,
      name: c.name ?? c.id,
      off: c.off ?? [],
      pitchDeg: c.pitchDeg ?? 0,
      rollDeg: c.rollDeg ?? 0,
      tempC: c.tempC ?? 20,
      force: c.force ?? 'nominal',
      ageLossPercent: c.ageLossPercent ?? 0,
      lost: c.lost ?? [],
      mustHold: c.mustHold ?? (c.lost ?? []).length === 0,
    })),
    limits: { ...DEFAULT_LIMITS, ...job.limits },
    photos: job.photos ?? [],
    brackets: job.brackets ?? [],
    obstacles: job.obstacles ?? [],
    observations: job.observations ?? [],
    relations: job.relations ?? [],
  } as ResolvedJob;
}

/**
 * A job with every number worked out (mm, kg, N, degrees, °C) and defaults filled in.
 * Throws a LidwrightError that lists every expression that can't be read and every value out of bounds.
 */
export function resolveJob(job: Job): ResolvedJob {
  const scope = resolveGivens(job);
  const issues: Issue[] = [];
  const plain: Record<string, unknown> = { ...job };
  for (const [key, tree] of TREE) {
    const raw = (job as unknown as Record<string, unknown>)[key];
    if (raw !== undefined) plain[key] = resolveTree(raw, tree, scope, issues, [key]);
  }
  const [first, ...also] = issues;
  if (first) throw new LidwrightError(first, also);
  return withDefaults(plain);
}
