// Keys of a job that nothing here reads: what they stand in, and which key they may be misspelt from.
import type { z } from 'zod';
import { jobSchema } from './schema';

/** A key that the format does not have, which is kept and counts for nothing. */
export interface StrangeKey {
  readonly key: string;
  /** What it stands in, in words: "the strut “Port strut”". */
  readonly within: string;
  /** A key that it probably stands for; null where none is like it. */
  readonly meant: string | null;
}

type Path = readonly (string | number)[];

const ITEMS: Readonly<Record<string, string>> = {
  givens: 'given',
  points: 'point',
  masses: 'mass',
  struts: 'strut',
  springs: 'spring',
  loadCases: 'load case',
  photos: 'photo',
  brackets: 'bracket',
  obstacles: 'obstacle',
  zones: 'zone',
  observations: 'reading',
  relations: 'relation',
};

const short = (text: string): string => (text.length > 40 ? `${text.slice(0, 37)}…` : text);

/** A place in a job's document by names, not by a path: "the spec of the strut “Port strut”". */
export function placeWords(document: unknown, path: Path): string {
  let node: unknown = document;
  let words = '';
  path.forEach((step, i) => {
    const holder = path[i - 1];
    node = (node as Record<string | number, unknown> | null | undefined)?.[step];
    const { name, id } = (typeof node === 'object' && node !== null ? node : {}) as Record<string, unknown>;
    const own = [name, id].find((word): word is string => typeof word === 'string' && word.trim() !== '');
    if (typeof step === 'number')
      words =
        i === 1 && typeof holder === 'string' && ITEMS[holder] !== undefined
          ? `the ${ITEMS[holder]} ${own === undefined ? step + 1 : `“${short(own)}”`}`
          : `no. ${step + 1} of ${words}`;
    else words = words === '' ? `“${short(step)}”` : `“${short(step)}” of ${words}`;
  });
  return words === '' ? 'the job' : words;
}

/** Fewest letters put in, left out, changed or swapped with their neighbour that make one of the other (optimal string alignment). */
function lettersApart(a: string, b: string): number {
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = a[i - 1] === b[j - 1] ? 0 : 1;
      let least = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + change);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) least = Math.min(least, before[j - 2]! + 1);
      row.push(least);
    }
    [before, last] = [last, row];
  }
  return last[b.length]!;
}

/** A key for comparing: case, hyphens and the like are no difference. */
const bare = (key: string): string => key.toLowerCase().replace(/[^a-z0-9]/g, '');
const LONGEST_LIKE = 40;

/** The known key that is most like this one; null where none is like it. */
export function likeKey(key: string, known: readonly string[]): string | null {
  if (key.length > LONGEST_LIKE) return null;
  const apart = known.map((other) => {
    const [a, b] = [bare(key), bare(other)];
    if (a === b) return { other, letters: 0 };
    const length = Math.max(a.length, b.length);
    const letters = lettersApart(a, b);
    // in short words few letters are another word
    return { other, letters: letters <= (length < 3 ? 0 : length < 6 ? 1 : 2) ? letters : Infinity };
  });
  const best = apart.reduce((x, y) => (y.letters < x.letters ? y : x), { other: '', letters: Infinity });
  return best.letters === Infinity ? null : best.other;
}

interface Def {
  readonly shape?: Record<string, z.ZodType>;
  readonly element?: z.ZodType;
  readonly innerType?: z.ZodType;
  readonly items?: z.ZodType[];
  readonly options?: z.ZodType[];
}
const defOf = (schema: z.ZodType): Def => (schema as unknown as { _zod: { def: Def } })._zod.def;

type Shape = Readonly<Record<string, z.ZodType>>;

/** Calls `found` with each object of the document that the schema knows, and what it may hold. */
function eachObject(
  node: unknown,
  schema: z.ZodType,
  path: Path,
  found: (object: object, shape: Shape, path: Path) => void,
): void {
  if (typeof node !== 'object' || node === null) return;
  const { shape, element, innerType, items, options } = defOf(schema);
  if (innerType) return eachObject(node, innerType, path, found);
  if (options) {
    const fitting = options.find((option) => option.safeParse(node).success);
    if (fitting) eachObject(node, fitting, path, found);
    return;
  }
  if (Array.isArray(node)) {
    node.forEach((item, i) => {
      const of = element ?? items?.[i];
      if (of) eachObject(item, of, [...path, i], found);
    });
    return;
  }
  if (!shape) return;
  found(node, shape, path);
  for (const key in node) {
    const inner = (node as Record<string, unknown>)[key];
    // a drag asks at every step: most of what a job holds are numbers and words
    if (typeof inner === 'object' && Object.hasOwn(shape, key)) eachObject(inner, shape[key]!, [...path, key], found);
  }
}

/** What is strange in one section of a job, in the order of the document; in its own keys without a section. */
export function strangeKeys(job: object, section: string | null): readonly StrangeKey[] {
  const shape = defOf(jobSchema).shape!;
  const keys: StrangeKey[] = [];
  const look = (object: object, known: Shape, path: Path): void => {
    for (const key of Object.keys(object))
      if (!Object.hasOwn(known, key))
        keys.push({ key, within: placeWords(job, path), meant: likeKey(key, Object.keys(known)) });
  };
  if (section === null) look(job, shape, []);
  else if (Object.hasOwn(shape, section))
    eachObject((job as Record<string, unknown>)[section], shape[section]!, [section], look);
  return keys;
}
