/** How far two numbers may lie apart. They agree when either bound holds. Nothing has a default: 0 means exact. */
export interface Tolerance {
  /** Absolute, in `unit`. */
  readonly abs: number;
  /** Relative to the expected value. */
  readonly rel: number;
  /** What the numbers are in, for the message: "mm", "N", "1". */
  readonly unit: string;
}

/** An absolute tolerance in a unit. */
export const within = (abs: number, unit: string): Tolerance => ({ abs, rel: 0, unit });

/** A tolerance that is met absolutely or relatively. */
export const withinEither = (abs: number, rel: number, unit: string): Tolerance => ({ abs, rel, unit });

/** Numbers, nulls, and lists of them to any depth. */
export type Values = number | null | ArrayLike<number> | readonly Values[];

const isList = (value: unknown): value is ArrayLike<Values> =>
  Array.isArray(value) || ArrayBuffer.isView(value as ArrayBufferView);

/** What keeps `actual` from agreeing with `expected`, in words; null when they agree. */
export function difference(actual: unknown, expected: Values, tolerance: Tolerance, at = ''): string | null {
  if (!(tolerance.abs >= 0 && tolerance.rel >= 0) || !Number.isFinite(tolerance.abs + tolerance.rel))
    throw new TypeError('a tolerance must be finite and 0 or more');
  if (typeof tolerance.unit !== 'string' || tolerance.unit === '') throw new TypeError('a tolerance needs its unit');
  const place = at === '' ? '' : `${at}: `;
  if (isList(expected)) {
    if (!isList(actual)) return `${place}${String(actual)} is no list`;
    if (actual.length !== expected.length) return `${place}${actual.length} values, expected ${expected.length}`;
    for (let i = 0; i < expected.length; i++) {
      const found = difference(actual[i], expected[i] as Values, tolerance, `${at}[${i}]`);
      if (found !== null) return found;
    }
    return null;
  }
  if (expected === null) return actual === null ? null : `${place}${String(actual)}, expected null`;
  if (typeof actual !== 'number' || !Number.isFinite(actual)) return `${place}${String(actual)} is no finite number`;
  if (typeof expected !== 'number' || !Number.isFinite(expected))
    return `${place}expected value ${String(expected)} is no finite number`;
  const off = Math.abs(actual - expected);
  if (off <= tolerance.abs || off <= tolerance.rel * Math.abs(expected)) return null;
  return `${place}${actual} ${tolerance.unit}, expected ${expected} ${tolerance.unit}: off by ${off}, allowed ${tolerance.abs} or ${tolerance.rel} of it`;
}

/** Throws unless every number agrees, null only with null, lists length by length. */
export function expectClose(actual: unknown, expected: Values, tolerance: Tolerance, what = ''): void {
  const found = difference(actual, expected, tolerance);
  if (found !== null) throw new Error(what === '' ? found : `${what}: ${found}`);
}
