/** One place where something is wrong: what, where, and what to do about it. */
export interface Issue {
  /** What is wrong, in plain words with the value that came. */
  readonly what: string;
  /** Where: keys into the job document, outermost first; empty when the whole file is meant. */
  readonly where: readonly (string | number)[];
  /** What the person can do. */
  readonly advice: string;
}

/**
 * The only error type that core throws on purpose. It carries the first issue's fields, and every further
 * issue found in the same go in `also`.
 */
export class LidwrightError extends Error implements Issue {
  readonly what: string;
  readonly where: readonly (string | number)[];
  readonly advice: string;
  readonly also: readonly Issue[];

  constructor(first: Issue, also: readonly Issue[] = []) {
    super(describeIssue(first));
    this.name = 'LidwrightError';
    this.what = first.what;
    this.where = first.where;
    this.advice = first.advice;
    this.also = also;
  }

  /** All issues, the first one included. */
  get issues(): readonly Issue[] {
    return [{ what: this.what, where: this.where, advice: this.advice }, ...this.also];
  }

  /** The same error seen from one level further out: every path gets `segments` in front. */
  within(...segments: (string | number)[]): LidwrightError {
    const move = (issue: Issue): Issue => ({ ...issue, where: [...segments, ...issue.where] });
    return new LidwrightError(move(this), this.also.map(move));
  }
}

/** "points[3].at[0]" from ["points", 3, "at", 0]; "" for the whole file. */
export function formatPath(where: readonly (string | number)[]): string {
  let text = '';
  for (const part of where) {
    if (typeof part === 'number') text += `[${part}]`;
    else text += text === '' ? part : `.${part}`;
  }
  return text;
}

/** "points[3].at[0]: not a number. Type the length in mm." */
export function describeIssue(issue: Issue): string {
  const path = formatPath(issue.where);
  const what = /[.!?…]$/.test(issue.what) || issue.advice === '' ? issue.what : `${issue.what}.`;
  return `${path === '' ? '' : `${path}: `}${what}${issue.advice === '' ? '' : ` ${issue.advice}`}`;
}

/** Throws a LidwrightError; an expression, so that it can stand after `??`. */
export function fail(what: string, where: readonly (string | number)[], advice: string): never {
  throw new LidwrightError({ what, where, advice });
}

/** "not a number. Type the length in mm.": an issue without its place, for whoever stands before it already. */
export const wordsOf = ({ what, advice }: Issue): string => describeIssue({ what, where: [], advice });

/** What came of a run: its value, or the error that says why there is none. */
export type Result<T> =
  | { readonly value: T; readonly error: null }
  | { readonly value: null; readonly error: LidwrightError };

/** Runs; a LidwrightError comes back as a value, anything else is a fault of the program and is thrown on. */
export function attempt<T>(run: () => T): Result<T> {
  try {
    return { value: run(), error: null };
  } catch (error) {
    if (!(error instanceof LidwrightError)) throw error;
    return { value: null, error };
  }
}
