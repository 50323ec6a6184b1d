import type { z } from 'zod';
import { attempt, fail, type Issue, LidwrightError } from '../error';
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
import { caseName } from './case-name';
import { type NumberField, numberFieldOf } from './number-field';
import { jobSchema } from './schema';
import type { Job, LoadCase, ResolvedJob } from './types';

/** Where the number fields of a part of the schema lie: 'each' stands for every item of a list. */
type FieldTree =
  | NumberField
  | { readonly keys: ReadonlyMap<string | number, FieldTree>; readonly fill: Fill | undefined }
  | { readonly each: FieldTree };

/** Fills what a file may leave out of one object whose numbers are worked out; `raw` is that object in its file. */
type Fill = (part: Readonly<Record<string, unknown>>, raw: Readonly<Record<string, unknown>>) => object;

const NONE: readonly never[] = [];
export const DEFAULT_LIMITS = { handOpenN: 150, handCloseN: 200, reserveMm: 5, holdOpenNm: 5, clearanceMm: 3 } as const;

/** What a file may leave out, by path; every default is one a person would expect (none, level, 20 °C, one strut). */
const FILLS: Readonly<Record<string, Fill>> = {
  hinge: (hinge) => ({ ...hinge, frictionNm: hinge['frictionNm'] ?? 0 }),
  limits: (limits) => ({ ...DEFAULT_LIMITS, ...limits }),
  'struts.each': (s) => ({ ...s, quantity: s['quantity'] ?? 1 }),
  'struts.each.spec': (spec, raw) => ({
    ...spec,
    frictionN: spec['frictionN'] ?? 0,
    toleranceN: spec['toleranceN'] ?? NO_TOLERANCE,
    unstated: UNSTATED[raw['frictionN'] === undefined ? 1 : 0]![raw['toleranceN'] === undefined ? 1 : 0]!,
  }),
  'springs.each': (s) => ({ ...s, quantity: s['quantity'] ?? 1 }),
  'loadCases.each.wind': (wind) => ({ ...wind, coefficient: wind['coefficient'] ?? FLAT_PLATE }),
  'loadCases.each': (c) => ({
    ...c,
    name: c['name'] ?? '',
    off: c['off'] ?? NONE,
    pitchDeg: c['pitchDeg'] ?? 0,
    rollDeg: c['rollDeg'] ?? 0,
    tempC: c['tempC'] ?? 20,
    force: c['force'] ?? 'nominal',
    ageLossPercent: c['ageLossPercent'] ?? 0,
    accelG: c['accelG'] ?? NO_ACCELERATION,
    lost: c['lost'] ?? NONE,
    mustHold: c['mustHold'] ?? ((c['lost'] ?? NONE) as readonly string[]).length === 0,
  }),
};
const NO_TOLERANCE = [0, 0] as const;
/** By whether friction and tolerance are missing. */
const UNSTATED = [
  [[], ['toleranceN']],
  [['frictionN'], ['frictionN', 'toleranceN']],
] as const;
const NO_ACCELERATION = [0, 0, 0] as const;
/**
 * Force coefficient of a plate for wind: over 1.17–1.18 of a square one (Matthews, Aeronautical Engineer's Data Book, fig.
 * 5.13), 1.8 of a signboard (EN 1991-1-4 7.4.3, from memory) and, with the sine law, over what an inclined plate gets.
 */
const FLAT_PLATE = 2;
/** Sections that are empty lists where a file leaves them out. */
const LISTS = ['outline', 'springs', 'photos', 'brackets', 'obstacles', 'zones', 'observations', 'relations'] as const;

interface ZodDef {
  readonly type: string;
  readonly shape?: Record<string, z.ZodType>;
  readonly element?: z.ZodType;
  readonly innerType?: z.ZodType;
  readonly items?: z.ZodType[];
  readonly options?: z.ZodType[];
}

/** Reads the tree of number fields off the schema once, so that a field is declared in one place only. */
function fieldTree(schema: z.ZodType, path: readonly (string | number)[] = []): FieldTree | null {
  const field = numberFieldOf(schema);
  if (field) return field;
  const def = (schema as unknown as { _zod: { def: ZodDef } })._zod.def;
  const branch = (entries: [string | number, z.ZodType][]): FieldTree | null => {
    const keys = new Map<string | number, FieldTree>();
    for (const [key, child] of entries) {
      const tree = fieldTree(child, [...path, key]);
      if (tree) keys.set(key, tree);
    }
    return keys.size > 0 ? { keys, fill: FILLS[path.join('.')] } : null;
  };
  if (def.shape) return branch(Object.entries(def.shape));
  // of alternatives at most one holds numbers
  if (def.options) return def.options.map((option) => fieldTree(option, path)).find((tree) => tree !== null) ?? null;
  if (def.items) return branch(def.items.map((item, i) => [i, item]));
  if (def.element) {
    const each = fieldTree(def.element, [...path, 'each']);
    return each ? { each } : null;
  }
  return def.innerType ? fieldTree(def.innerType, path) : null;
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
  for (const name of index.keys()) issues.push(...(attempt(() => visit(name, [])).error?.issues ?? []));
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

/** A part of an earlier job: as it stood in its file, and worked out. */
interface Earlier {
  readonly raw: unknown;
  readonly plain: unknown;
}

/** Works out the number fields of one job; what an earlier job had alike comes out as the same object. */
class Resolver {
  readonly issues: Issue[] = [];

  constructor(
    private readonly scope: Scope,
    /** Every given has the value that it had in the earlier job. */
    private readonly sameScope: boolean,
  ) {}

  /** A copy of `raw` with every number worked out and defaults filled in; `raw` itself where that changes nothing. */
  resolve(raw: unknown, tree: FieldTree, where: readonly (string | number)[], earlier?: Earlier): unknown {
    if (earlier && this.sameScope && raw === earlier.raw) return earlier.plain;
    if ('dimension' in tree) return raw === undefined ? raw : this.number(raw, tree, where);
    if (typeof raw !== 'object' || raw === null) return raw;
    const source = raw as Record<string | number, unknown>;
    let copy: Record<string | number, unknown> | null = null;
    const put = (key: string | number, child: FieldTree, before: Earlier | undefined): void => {
      const next = this.resolve(source[key], child, [...where, key], before);
      if (next !== source[key])
        (copy ??= (Array.isArray(raw) ? [...raw] : { ...source }) as Record<string | number, unknown>)[key] = next;
    };
    if ('each' in tree) {
      const find = itemsOf(earlier);
      (raw as unknown[]).forEach((item, i) => put(i, tree.each, find(item, i)));
    } else for (const [key, child] of tree.keys) put(key, child, memberOf(earlier, key));
    const numbers = (copy as typeof copy | object) ?? raw;
    const plain =
      'keys' in tree && tree.fill ? tree.fill(numbers as Readonly<Record<string, unknown>>, source) : numbers;
    return earlier && raw === earlier.raw && alike(plain, earlier.plain) ? earlier.plain : plain;
  }

  private number(raw: unknown, field: NumberField, where: readonly (string | number)[]): number {
    const { value, error } = attempt(() => numberFrom(raw, field, this.scope));
    if (error) this.issues.push(...error.within(...where).issues);
    return value ?? NaN;
  }
}

function memberOf(earlier: Earlier | undefined, key: string | number): Earlier | undefined {
  const { raw, plain } = earlier ?? {};
  if (typeof raw !== 'object' || raw === null) return undefined;
  return { raw: (raw as Record<typeof key, unknown>)[key], plain: (plain as Record<typeof key, unknown>)[key] };
}

/** Finds an item of a list in the list as it was: the same object wherever it stood, else what stood in its place. */
function itemsOf(earlier: Earlier | undefined): (item: unknown, i: number) => Earlier | undefined {
  if (!earlier || !Array.isArray(earlier.raw)) return () => undefined;
  const { raw } = earlier;
  return (item, i) => {
    const same = raw[i] === item ? i : raw.indexOf(item);
    return memberOf(earlier, same < 0 ? i : same);
  };
}

/** Whether two copies of one object hold the same. */
function alike(a: unknown, b: unknown): boolean {
  if (typeof a !== 'object' || typeof b !== 'object') return Object.is(a, b);
  const entries = Object.entries(a as object);
  return (
    entries.length === Object.keys(b as object).length &&
    entries.every(([key, value]) => Object.is(value, (b as Record<string, unknown>)[key]))
  );
}

/** Whether every given has the same value in both. */
function sameValues(a: Scope, b: Scope): boolean {
  // JSON of a quantity is its exact value and its unit
  const same = (x: Value, y: Value | undefined): boolean => Object.is(x, y) || JSON.stringify(x) === JSON.stringify(y);
  return a.size === b.size && [...a].every(([name, value]) => same(value, b.get(name)));
}

/** A job with its numbers worked out, and what the next one needs to share with it. */
export interface Resolution {
  readonly raw: Job;
  readonly scope: Scope;
  readonly job: ResolvedJob;
}

/**
 * Works out every number of a job (mm, kg, N, degrees, °C) and fills in defaults. What is the same object in `earlier.raw` and
 * uses no given that changed is the same object in the result, too.
 * Throws a LidwrightError that lists every expression that can't be read and every value out of bounds.
 */
export function resolution(job: Job, earlier?: Resolution): Resolution {
  if (earlier?.raw === job) return earlier;
  const scope = earlier && earlier.raw.givens === job.givens ? earlier.scope : resolveGivens(job);
  const sameScope = earlier !== undefined && (scope === earlier.scope || sameValues(scope, earlier.scope));
  const resolver = new Resolver(scope, sameScope);
  const [now, before] = [withLimits(job), earlier && { raw: withLimits(earlier.raw), plain: earlier.job }];
  const plain: Record<string, unknown> = { ...now };
  for (const [key, tree] of TREE)
    if (now[key] !== undefined) plain[key] = resolver.resolve(now[key], tree, [key], memberOf(before, key));
  for (const key of LISTS) plain[key] ??= NONE;
  plain['loadCases'] = withNames(job, plain as unknown as ResolvedJob, earlier?.job.loadCases ?? NONE);
  const [first, ...also] = resolver.issues;
  if (first) throw new LidwrightError(first, also);
  return { raw: job, scope, job: plain as unknown as ResolvedJob };
}
/** Load cases that their file names not are called after their values; what comes out as it was is the same object. */
function withNames(raw: Job, job: ResolvedJob, earlier: readonly LoadCase[]): readonly LoadCase[] {
  const named = job.loadCases.map((c, i) => {
    const name = raw.loadCases[i]!.name ?? caseName(c, job);
    const full = name === c.name ? c : { ...c, name };
    return earlier[i] && alike(full, earlier[i]) ? earlier[i] : full;
  });
  const as = (list: readonly LoadCase[]): boolean =>
    list.length === named.length && named.every((c, i) => c === list[i]);
  return as(earlier) ? earlier : as(job.loadCases) ? job.loadCases : named;
}

/** A file may leave all limits out. */
const withLimits = (job: Job): Readonly<Record<string, unknown>> => ({ ...job, limits: job.limits ?? NO_LIMITS });
const NO_LIMITS = {};

/** A job's numbers worked out, with nothing to share: see `resolution`. */
export const resolveJob = (job: Job): ResolvedJob => resolution(job).job;
