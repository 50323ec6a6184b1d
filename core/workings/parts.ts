import { attempt, type Result } from '../error';
import { type Job, type JobPart, type Resolution, type ResolvedJob, resolution } from '../job';
import type { ShownUnits } from '../quantity';

/**
 * Something that follows from a job: what it is made from, and how. `make` gets what `from` lists and can reach nothing else,
 * so a value made once holds as long as each of these is the same object. `from` may look at the workings (parts of the
 * resolved job, units, other parts), but must not change anything.
 */
export interface Part<W, T> {
  readonly name: string;
  readonly from: (workings: W, key: string) => readonly unknown[];
  readonly make: (from: readonly unknown[]) => T;
  /** Whether it takes longer than a step of a drag has time for. */
  readonly slow: (workings: W, key: string) => boolean;
  /** Made anew but the same by value, it stays the same object: what reads it is not made anew. For small plain data. */
  readonly byValue: boolean;
}

/** Declares a part. `key` says of which bracket, strut …, and is empty for what there is once a job. */
export const part = <W, I extends readonly unknown[] | [], T>(
  name: string,
  from: (workings: W, key: string) => I,
  make: (...from: I) => T,
  options: Partial<Pick<Part<W, T>, 'slow' | 'byValue'>> = {},
): Part<W, T> => ({
  ...{ name, from, slow: () => false, byValue: false, ...options },
  make: (inputs) => make(...(inputs as unknown as I)),
});

/** Some parts of the resolved job as one object: the same one while each part is the same. */
export const picked = <K extends JobPart>(...keys: readonly K[]): Part<Parts, Pick<ResolvedJob, K>> =>
  part(
    `job: ${keys.join()}`,
    (w: Parts): readonly unknown[] => keys.map((key) => w.job[key]),
    (...values) => Object.fromEntries(keys.map((key, i) => [key, values[i]])) as Pick<ResolvedJob, K>,
  );

/** What came of a part. */
type Kept = Result<unknown> & { readonly from: readonly unknown[] };

/** Whether two pieces of plain data hold the same. */
function alike(a: unknown, b: unknown): boolean {
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return Object.is(a, b);
  const [one, other] = [a as Record<string, unknown>, b as Record<string, unknown>];
  const keys = Object.keys(one);
  return keys.length === Object.keys(other).length && keys.every((key) => key in other && alike(one[key], other[key]));
}

function same(a: readonly unknown[], b: readonly unknown[]): boolean {
  for (let i = 0; i < a.length; i++) if (!Object.is(a[i], b[i])) return false;
  return a.length === b.length;
}

/** Stands for "that would take long": never leaves this file. */
const NOT_YET = Symbol('not yet');

let freeze = <T>(value: T): T => value;

/**
 * For development and tests: everything that workings give out is frozen, so that whoever writes into it fails at once.
 * Typed arrays can't be frozen, and frozen objects read slowly in Node, so nothing is where speed is measured.
 */
export function freezeWorkings(on: boolean): void {
  freeze = on ? deepFreeze : (value) => value;
}

function deepFreeze<T>(value: T): T {
  if (typeof value !== 'object' || value === null || Object.isFrozen(value) || ArrayBuffer.isView(value)) return value;
  Object.freeze(value);
  for (const inner of Object.values(value)) deepFreeze(inner);
  return value;
}

/** Works out parts of a job when they are asked for, and keeps what an earlier job's parts were made from alike. */
export class Parts {
  private readonly kept: Map<string, Kept>;
  /** Known to hold for this job. */
  private readonly sure = new Set<string>();
  private readonly shared: Resolution | undefined;
  private resolved: Result<Resolution> | null = null;
  private hurried = false;

  constructor(
    /** The job as in its file, or one whose numbers are worked out already. */
    private readonly source: { readonly raw: Job } | { readonly job: ResolvedJob },
    readonly units: ShownUnits,
    before?: Parts,
  ) {
    this.kept = new Map(before?.kept);
    this.shared = before?.resolved?.value ?? before?.shared;
  }

  /** The job as in its file, where that is what was given. */
  get raw(): Job | null {
    return 'raw' in this.source ? this.source.raw : null;
  }

  /** The job with its numbers worked out. Throws a LidwrightError where they can't be. */
  get job(): ResolvedJob {
    if ('job' in this.source) return freeze(this.source.job);
    const { raw } = this.source;
    this.resolved ??= attempt(() => resolution(freeze(raw), this.shared));
    return freeze(opened<Resolution>(this.resolved).job);
  }

  /** A part, worked out now if it is not known. Throws the LidwrightError that says why there is none. */
  of<T>(part: Part<this, T>, key = ''): T {
    const id = idOf(part, key);
    const known = this.kept.get(id);
    if (known && this.sure.has(id)) return opened(known);
    const from = part.from(this, key);
    if (known && same(known.from, from)) {
      this.sure.add(id);
      return opened(known);
    }
    if (this.hurried && part.slow(this, key)) throw NOT_YET;
    const fresh = attempt(() => freeze(part.make(from)));
    const unchanged = part.byValue && known && !known.error && !fresh.error && alike(known.value, fresh.value);
    const { value, error }: Result<unknown> = unchanged ? known : fresh;
    const made = { from, value, error } as Kept;
    this.kept.set(id, made);
    this.sure.add(id);
    return opened(made);
  }

  /** A part that depends on what is known, which may be more than when it was last asked for. */
  again<T>(part: Part<this, T>): T {
    this.sure.delete(idOf(part, ''));
    return this.of(part);
  }

  /** A part as far as it is known without working out anything slow; undefined where that would have to be. */
  known<T>(part: Part<this, T>, key = ''): T | undefined {
    const before = this.hurried;
    this.hurried = true;
    try {
      return this.of(part, key);
    } catch (error) {
      if (error === NOT_YET) return undefined;
      throw error;
    } finally {
      this.hurried = before;
    }
  }

  /** Takes what a part of this job comes to, as it was worked out elsewhere. */
  give<T>(part: Part<this, T>, key: string, value: T): void {
    this.kept.set(idOf(part, key), { from: part.from(this, key), value: freeze(value), error: null });
    // what was made without it may have more to say now
    this.sure.clear();
  }

  /** Takes over what other workings know: of it holds what was made from the same. */
  learn(other: this): void {
    for (const [id, kept] of other.kept) if (!this.sure.has(id)) this.kept.set(id, kept);
    this.sure.clear();
  }
}

const idOf = (part: { readonly name: string }, key: string): string =>
  key === '' ? part.name : `${part.name}: ${key}`;

function opened<T>({ value, error }: Result<unknown>): T {
  if (error) throw error;
  return value as T;
}
