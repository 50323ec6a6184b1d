// What reading a job's file changes or fills in, in words: nothing is changed in silence.
import { showValue } from './number-field';
import { DEFAULT_LIMITS } from './resolve';
import { VERSION } from './schema';
import { placeWords } from './strange-keys';

/**
 * A word about a file that was read: something that stands in it is not in the job; it was of an older version; or it leaves
 * out what is then taken as usual.
 */
export interface ReadingNote {
  readonly kind: 'lost' | 'older' | 'filled';
  readonly text: string;
}

/** Most of one kind that are told one by one. */
const MOST_TOLD = 5;
/** Digits that a number of a file can have; more are rounded away (IEEE 754 double, 17 tell any two apart). */
const MOST_DIGITS = 17;

interface Open {
  /** Where each key's value begins; null: a list. */
  readonly values: Map<string, number> | null;
  /** The key or the index that is being read. */
  at: string | number;
}

const VALUE = /"(?:[^"\\]|\\.)*"|-?[\d.eE+-]+|true|false|null/y;
const NUMBER = /-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?/y;

/** The value that begins there, as it can stand in a message. */
function valueAt(text: string, offset: number): string {
  VALUE.lastIndex = offset + /^\s*/.exec(text.slice(offset, offset + 200))![0].length;
  const found = VALUE.exec(text)?.[0];
  return found === undefined ? (text[VALUE.lastIndex] === '[' ? 'a list' : 'an object') : showValue(JSON.parse(found));
}

/** End of the text in quotes that begins at an offset. */
function endOfText(text: string, from: number): number {
  for (let i = text.indexOf('"', from + 1); ; i = text.indexOf('"', i + 1)) {
    let escapes = 0;
    while (text[i - 1 - escapes] === '\\') escapes++;
    if (escapes % 2 === 0) return i;
  }
}

/**
 * What of a JSON text, which must be one, its parsed document does not hold: keys that stand twice in one object, whose
 * first values are dropped, and digits that no number keeps.
 */
function lostIn(text: string, document: unknown): string[] {
  const doubled: string[] = [];
  let cut = 0;
  const open: Open[] = [];
  let wantsKey = false;
  for (let i = 0; i < text.length; i++) {
    const char = text[i]!;
    const top = open.at(-1);
    if (char === '"') {
      const end = endOfText(text, i);
      if (wantsKey && top?.values) {
        const key = JSON.parse(text.slice(i, end + 1)) as string;
        const value = text.indexOf(':', end) + 1;
        const first = top.values.get(key);
        if (first !== undefined) {
          const within = placeWords(document, open.slice(0, -1).map(({ at }) => at)); // prettier-ignore
          doubled.push(`“${key.slice(0, 40)}” stands twice in ${within}: ${valueAt(text, first)} is dropped, ${valueAt(text, value)} counts`); // prettier-ignore
        }
        top.values.set(key, value);
        top.at = key;
        wantsKey = false;
      }
      i = end;
    } else if (char === '{') {
      open.push({ values: new Map(), at: '' });
      wantsKey = true;
    } else if (char === '[') {
      open.push({ values: null, at: 0 });
      wantsKey = false;
    } else if (char === '}' || char === ']') {
      open.pop();
      wantsKey = false;
    } else if (char === ',') {
      if (top && typeof top.at === 'number') top.at++;
      wantsKey = top?.values != null;
    } else if (char === '-' || (char >= '0' && char <= '9')) {
      NUMBER.lastIndex = i;
      const number = NUMBER.exec(text)![0];
      const digits = number.replace(/[eE].*$/, '').replace(/[-.]/g, '').replace(/^0+|0+$/g, ''); // prettier-ignore
      if (digits.length > MOST_DIGITS || (digits !== '' && Number(number) === 0)) cut++;
      i += number.length - 1;
    }
  }
  const more = doubled.length - MOST_TOLD;
  return [
    ...doubled.slice(0, MOST_TOLD),
    ...(more > 0 ? [`${more} more keys stand twice, and the last value of each counts`] : []),
    ...(cut > 0
      ? [`${cut === 1 ? 'one number has' : `${cut} numbers have`} more digits than can be kept, and ${cut === 1 ? 'is' : 'are'} rounded`] // prettier-ignore
      : []),
  ];
}

const LIMIT_WORDS: Readonly<Record<keyof typeof DEFAULT_LIMITS, readonly [string, string]>> = {
  handOpenN: ['hand force to open', 'N'],
  handCloseN: ['hand force to shut', 'N'],
  reserveMm: ['stroke reserve', 'mm'],
  holdOpenNm: ['moment to stay open', 'N·m'],
  clearanceMm: ['clearance', 'mm'],
};

interface Read {
  readonly version?: unknown;
  readonly hinge?: { readonly frictionNm?: unknown };
  readonly limits?: Readonly<Record<string, unknown>>;
  readonly loadCases?: readonly { readonly wind?: { readonly coefficient?: unknown } }[];
}

/** What the judgement counts with that the file leaves out; friction and tolerance of a strut have a finding of their own. */
function filledIn(document: Read): string[] {
  const limits = (Object.keys(DEFAULT_LIMITS) as (keyof typeof DEFAULT_LIMITS)[]).filter(
    (key) => document.limits?.[key] === undefined,
  );
  const filled = [
    ...limits.map((key) => `${LIMIT_WORDS[key][0]} ${DEFAULT_LIMITS[key]} ${LIMIT_WORDS[key][1]}`),
    ...(document.hinge?.frictionNm === undefined ? ['friction of the hinge 0 N·m'] : []),
    ...(document.loadCases?.some(({ wind }) => wind && wind.coefficient === undefined) ? ['wind coefficient 2'] : []),
  ];
  return filled.length === 0 ? [] : [`taken as usual, for the file leaves it out: ${filled.join(', ')}`];
}

/** What is to be said of a job's text that was read: `document` is it parsed, `job` what came of it. */
export function readingNotes(text: string, document: unknown, job: object): readonly ReadingNote[] {
  const { version } = document as Read;
  const older = version === VERSION ? [] : [`it is of version ${String(version)} and was brought up to ${VERSION}`];
  const notes = (kind: ReadingNote['kind'], texts: readonly string[]): ReadingNote[] =>
    texts.map((words) => ({ kind, text: words }));
  return [
    ...notes('lost', lostIn(text, document)),
    ...notes('older', older),
    ...notes('filled', filledIn(job as Read)),
  ];
}
