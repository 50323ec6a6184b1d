import { attempt, type Issue } from '../error';
import {
  type Job,
  type JobObservation,
  type JobPoint,
  type Num,
  OBSERVATION_KINDS,
  OBSERVATION_SHAPE,
  type ObservationKind,
  jobIssues,
  resolveGivens,
  resolveJob,
} from '../job';
import { type Dimension, evaluateQuantity, namesIn } from '../quantity';

/** A reading as it is typed: without the id that the job gives it. */
export type NewReading = Omit<JobObservation, 'id'>;

/** Kinds of reading that are typed, in a table's order; marks on photos are clicked. */
export const TYPED_KINDS: readonly ObservationKind[] = OBSERVATION_KINDS.filter(
  (kind) => (kind as string) !== 'photo-mark',
);

/** A kind of reading in plain words, as tables and lists of readings call it. */
export const KIND_WORDS: Readonly<Record<string, string>> = {
  tape: 'tape',
  coordinate: 'coordinate',
  'height-difference': 'height over',
  'on-line': 'on a line',
  'on-plane': 'on a plane',
  'angle-level': 'angle to level',
  'angle-between': 'angle between lines',
  'mirror-twin': 'mirror twin',
  'square-corner': 'square corner',
  rectangle: 'flat rectangle',
  'known-length': 'known length',
  'photo-mark': 'mark on a photo',
};

/** One spelling for all: small letters, single blanks, no hyphens. @example plainly('  Known-Length ') // 'known length' */
export const plainly = (text: string): string =>
  text
    .toLowerCase()
    .replace(/[-_\s\u00a0]+/g, ' ')
    .trim();

const KIND_NAMES = new Map<string, ObservationKind>([
  ...TYPED_KINDS.flatMap((kind): [string, ObservationKind][] => [
    [plainly(kind), kind],
    [plainly(KIND_WORDS[kind]!), kind],
  ]),
  ['distance', 'tape'],
  ['height', 'height-difference'],
  ['height difference', 'height-difference'],
  ['line', 'on-line'],
  ['plane', 'on-plane'],
  ['angle', 'angle-level'],
  ['angle between', 'angle-between'],
  ['mirror', 'mirror-twin'],
  ['twin', 'mirror-twin'],
]);

/** The kind that a word means, or null. @example kindOf('Height over') // 'height-difference' */
export const kindOf = (word: string): ObservationKind | null => KIND_NAMES.get(plainly(word)) ?? null;

type Named = Pick<JobPoint, 'id' | 'name'>;

/** What a table calls each point: its name, and its id beside it where two have the same name. */
export function pointLabels(points: readonly Named[]): ReadonlyMap<string, string> {
  const count = new Map<string, number>();
  for (const p of points) count.set(plainly(p.name ?? p.id), (count.get(plainly(p.name ?? p.id)) ?? 0) + 1);
  return new Map(
    points.map((p) => [p.id, count.get(plainly(p.name ?? p.id)) === 1 ? (p.name ?? p.id) : `${p.name} (${p.id})`]),
  );
}

/** The one point that a typed name or id means; null where none or more than one has it. */
export function pointNamed(text: string, points: readonly Named[]): string | null {
  const wanted = plainly(text);
  const labels = pointLabels(points);
  const named = points.filter((p) => plainly(labels.get(p.id)!) === wanted);
  if (named.length === 1) return named[0]!.id;
  const called = points.filter((p) => plainly(p.name ?? p.id) === wanted);
  if (called.length > 1) return null;
  return points.find((p) => p.id === text.trim())?.id ?? null;
}

/**
 * Points that what has been typed so far can mean, best first: every word typed begins a word of the name. All where
 * nothing is typed.
 */
export function matchPoints<P extends Named>(typed: string, points: readonly P[]): P[] {
  const words = plainly(typed).split(/[ ,]+/).filter(Boolean);
  const rank = (p: P): number => {
    const label = plainly(p.name ?? p.id);
    if (words.length === 0) return 1;
    if (label === plainly(typed)) return 0;
    const parts = [...label.split(/[ ,()]+/), plainly(p.id)];
    if (!words.every((w) => parts.some((part) => part.startsWith(w)))) return -1;
    return label.startsWith(words[0]!) ? 1 : 2;
  };
  return points
    .map((p, i) => ({ p, i, r: rank(p) }))
    .filter((m) => m.r >= 0)
    .sort((a, b) => a.r - b.r || a.i - b.i)
    .map((m) => m.p);
}

/**
 * A typed number as the job keeps it: a number in the file's unit, or an expression where it uses givens. `unit` is that of
 * numbers written without one. Throws a LidwrightError for what can't be read.
 */
export function numFrom(text: string, dimension: Dimension, job: Job, unit: string): Num {
  const scope = resolveGivens(job);
  const value = evaluateQuantity(text, dimension, scope, unit);
  const names = namesIn(text).filter((name) => scope.has(name));
  if (names.length === 0) return value;
  const only = text.trim();
  return only === names[0] ? { given: only } : { expression: only, unit };
}

/** What is wrong with a reading, `called` so, beside the job's points, or null: nothing half-typed may reach the job. */
export function readingIssue(job: Job, reading: NewReading, called: string): Issue | null {
  const alone = { ...job, observations: [{ id: 'reading', ...reading }], relations: [] } as Job;
  const { value, error } = attempt(() => jobIssues(resolveJob(alone), called));
  return (value ?? error.issues).find((issue) => issue.where[0] === 'observations') ?? error?.issues[0] ?? null;
}

/** Dimension and file unit of a kind's value and of its σ. */
export const measureOf = (
  kind: ObservationKind,
): { readonly dimension: 'length' | 'angle'; readonly unit: 'mm' | 'deg'; readonly hasValue: boolean } => {
  const { unit } = OBSERVATION_SHAPE[kind];
  return unit === 'deg'
    ? { dimension: 'angle', unit: 'deg', hasValue: true }
    : { dimension: 'length', unit: 'mm', hasValue: unit === 'mm' };
};
