// Bytes of a table to text, piece by piece. Which letters they are is found from the bytes themselves: a byte order mark,
// the zeros of UTF-16, and else UTF-8 until the first byte that is none.
import { fail } from '../error';

/** How the bytes of a table are read. */
export type Encoding = 'UTF-8' | 'UTF-16 LE' | 'UTF-16 BE' | 'Windows-1252';

const LABELS = { 'UTF-8': 'utf-8', 'UTF-16 LE': 'utf-16le', 'UTF-16 BE': 'utf-16be', 'Windows-1252': 'windows-1252' };

/** Bytes that the guess at the letters wants to see, unless the file is shorter. */
const SNIFF = 4096;
/** Share of the pairs that have a zero in one place, and most that may have one in the other: UTF-16 of Latin letters. */
const ZEROS = { most: 0.4, least: 0.05 };

/** What files that are no text begin with. */
const NO_TEXT: readonly (readonly [readonly number[], string, string])[] = [
  [[0x50, 0x4b, 0x03, 0x04], 'a packed file', 'If it is a spreadsheet, save it there as CSV and choose that file.'],
  [
    [0xd0, 0xcf, 0x11, 0xe0],
    'a program’s own file',
    'If it is a spreadsheet, save it there as CSV and choose that file.',
  ],
  [
    [0x25, 0x50, 0x44, 0x46],
    'a PDF',
    'Ask for the list as CSV, or copy its table into a spreadsheet and save it as CSV.',
  ],
  [[0xff, 0xfe, 0x00, 0x00], 'written in UTF-32', 'Save it as CSV in UTF-8.'],
  [[0x00, 0x00, 0xfe, 0xff], 'written in UTF-32', 'Save it as CSV in UTF-8.'],
];

/** How many of the bytes are whole UTF-8 letters: the rest is the beginning of one that goes on in the next piece. */
function wholeLetters(bytes: Uint8Array): number {
  for (let back = 1; back <= Math.min(3, bytes.length); back++) {
    const byte = bytes[bytes.length - back]!;
    if (byte < 0x80) break;
    if (byte < 0xc0) continue;
    const length = byte >= 0xf0 ? 4 : byte >= 0xe0 ? 3 : 2;
    return length > back ? bytes.length - back : bytes.length;
  }
  return bytes.length;
}

/** A byte order mark or the zeros of UTF-16; null where the bytes show neither. */
function shown(bytes: Uint8Array): { encoding: Encoding; mark: number } | null {
  const [a, b, c] = bytes;
  if (a === 0xef && b === 0xbb && c === 0xbf) return { encoding: 'UTF-8', mark: 3 };
  if (a === 0xff && b === 0xfe) return { encoding: 'UTF-16 LE', mark: 2 };
  if (a === 0xfe && b === 0xff) return { encoding: 'UTF-16 BE', mark: 2 };
  const pairs = Math.floor(Math.min(bytes.length, SNIFF) / 2);
  let [even, odd] = [0, 0];
  for (let i = 0; i < pairs; i++) {
    if (bytes[2 * i] === 0) even++;
    if (bytes[2 * i + 1] === 0) odd++;
  }
  if (pairs > 0 && odd >= ZEROS.most * pairs && even <= ZEROS.least * pairs) return { encoding: 'UTF-16 LE', mark: 0 };
  if (pairs > 0 && even >= ZEROS.most * pairs && odd <= ZEROS.least * pairs) return { encoding: 'UTF-16 BE', mark: 0 };
  return null;
}

const joined = (a: Uint8Array, b: Uint8Array): Uint8Array => {
  if (a.length === 0) return b;
  const both = new Uint8Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
};

/**
 * What Windows-1252 has at 0x80 to 0x9f (WHATWG Encoding Standard, index windows-1252; a blank: nothing). Some decoders
 * give these bytes as ISO-8859-1 does.
 */
const HIGH = '€ ‚ƒ„…†‡ˆ‰Š‹Œ Ž  ‘’“”•–—˜™š›œ žŸ';
const withHigh = (text: string): string =>
  text.replace(/[\u0080-\u009f]/g, (c) => {
    const own = HIGH[c.charCodeAt(0) - 0x80]!;
    return own === ' ' ? c : own;
  });

/** Letters of UTF-8 read as Windows-1252: Ã¤ for ä, Â° for °. */
const MIXED = new RegExp(`[ÂÃ][\u0080-\u00bf${HIGH.replaceAll(' ', '')}]`);

/**
 * Where a cell holds what no letter stands for in the file's own letters, or what another program has lost before: the
 * words for it, else null.
 */
export function unreadIn(cell: string, encoding: Encoding): string | null {
  if (cell.includes('\ufffd')) return `it holds bytes that are no letter in ${encoding}`;
  if (encoding !== 'Windows-1252') return null;
  // bytes that Windows-1252 leaves open come out as these
  if (/[\u0080-\u009f]/.test(cell)) return `it holds bytes that are no letter in ${encoding}`;
  return MIXED.test(cell) ? 'it is in UTF-8, and lines before it are not' : null;
}

/** Reads bytes as text, piece by piece, in whatever pieces they come. Nothing is left out or put in: see `unreadIn`. */
export class Letters {
  /** Known once the first letter outside ASCII has come; UTF-8 until then. */
  encoding: Encoding = 'UTF-8';
  #held: Uint8Array = new Uint8Array();
  #begun = false;
  #certain = false;
  #ascii = true;
  #decoder = new TextDecoder('utf-8', { ignoreBOM: true });

  /** The text of the bytes so far, as far as it is whole. Throws a LidwrightError for what is no text at all. */
  add(bytes: Uint8Array, last: boolean): string {
    const all = joined(this.#held, bytes);
    if (!this.#begun && all.length < SNIFF && !last) {
      this.#held = all.slice();
      return '';
    }
    this.#held = new Uint8Array();
    return this.#text(this.#begun ? all : this.#begin(all), last);
  }

  #begin(all: Uint8Array): Uint8Array {
    this.#begun = true;
    for (const [start, what, advice] of NO_TEXT)
      if (all.length >= start.length && start.every((byte, i) => all[i] === byte))
        fail(`it is ${what}, not a table of text`, [], advice);
    const found = shown(all);
    if (found) this.#settle(found.encoding);
    return all.subarray(found?.mark ?? 0);
  }

  #settle(encoding: Encoding): void {
    this.encoding = encoding;
    this.#certain = true;
    this.#decoder = new TextDecoder(LABELS[encoding], { ignoreBOM: true });
  }

  #text(bytes: Uint8Array, last: boolean): string {
    if (this.encoding === 'Windows-1252') return withHigh(this.#decoder.decode(bytes));
    if (this.encoding !== 'UTF-8') return this.#decoder.decode(bytes, { stream: !last });
    const whole = last ? bytes.length : wholeLetters(bytes);
    const text = this.#decoder.decode(bytes.subarray(0, whole));
    if (!this.#certain && this.#ascii) {
      // all up to here reads alike in both: the first letter beyond ASCII tells which it is
      const first = text.search(/[^\0-\x7f]/);
      const own = first >= 0 && bytes[first] === 0xef && bytes[first + 1] === 0xbf && bytes[first + 2] === 0xbd;
      if (first >= 0 && text[first] === '\ufffd' && !own) {
        this.#settle('Windows-1252');
        return withHigh(this.#decoder.decode(bytes));
      }
      this.#ascii = first < 0;
    }
    this.#held = bytes.slice(whole);
    return text;
  }
}
