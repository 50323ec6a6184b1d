// Tables of separated values (RFC 4180), read piece by piece and written so that a spreadsheet takes no text for a formula.
import Papa from 'papaparse';
import { fail } from '../error';
import { type Encoding, Letters, unreadIn } from './letters';

export type Separator = ',' | ';' | '\t';

/** What keeps a row from being taken as it stands. */
export interface RowFault {
  /** Column from 0; null: the row as a whole. */
  readonly column: number | null;
  /** The line where it begins, from 1. */
  readonly line: number;
  readonly what: string;
  readonly advice: string;
  /** The file's own text from the row on, where a quotation mark that never closes makes one cell of the rest. */
  readonly rest?: string;
}

export interface TableRow {
  /** The file's line it starts on, from 1. */
  readonly line: number;
  readonly cells: readonly string[];
  readonly fault?: RowFault;
}

export interface Table {
  readonly separator: Separator;
  readonly encoding: Encoding;
  /** Rows that are not empty. */
  readonly rows: readonly TableRow[];
}

export interface TableLimits {
  readonly bytes: number;
  /** Rows that are not empty, the heading among them. */
  readonly rows: number;
  /** What to do where there are more; how a table is made shorter without it. */
  readonly advice?: string;
}

/** Letters of one row; a longer one is no row of a table, or a quotation mark was never closed. */
const LONGEST_ROW = 1_000_000;
/** Letters of the beginning that separator and line ends are told from. */
const BEGINNING = 20_000;

const NO_LIMITS: TableLimits = { bytes: Infinity, rows: Infinity };

const mega = (bytes: number): string => `${Number((bytes / 1e6).toFixed(1))} MB`;

/** Throws a LidwrightError when a file of this size is larger than such a table may be: to be asked before it is read. */
export function checkTableSize(name: string, sizeBytes: number, limits: TableLimits): void {
  if (sizeBytes > limits.bytes)
    fail(
      `"${name}" is over ${mega(limits.bytes)}, the most that such a table may be`,
      [],
      'Is it the right file? If it is, split it.',
    );
}

/**
 * The separator: a tab in the first line always is one; else what parts the first lines evenly, semicolons before commas,
 * which numbers may hold too.
 */
function guessSeparator(beginning: string, newline: '\n' | '\r'): Separator {
  if (/^\s*[^\r\n]*\t/.test(beginning)) return '\t';
  let best: { separator: Separator; share: number } = { separator: ',', share: 0 };
  for (const delimiter of [';', ','] as const) {
    const { data } = Papa.parse<string[]>(beginning, { delimiter, newline, preview: 20, skipEmptyLines: true });
    const width = data[0]?.length ?? 1;
    const share = width > 1 ? data.filter((row) => row.length === width).length / data.length : 0;
    if (share >= 0.9) return delimiter;
    if (share > best.share) best = { separator: delimiter, share };
  }
  return best.separator;
}

/** What `Papa.Parser` gives of a piece of text; its own types leave it open. */
interface Parsed {
  readonly data: string[][];
  readonly errors: readonly { readonly code: string; readonly row: number }[];
  readonly meta: { readonly cursor: number };
}

const breaksIn = (cell: string): number => cell.match(/\r\n|\n|\r/g)?.length ?? 0;

/**
 * Reads a table from its bytes as they come, in pieces of any size, and tells a limit as soon as it is passed. `name` is
 * what messages call it. Quotes, doubled quotes, line breaks inside quotes, any line ends, any letters that `Letters`
 * knows; separator found by itself or given.
 */
export class TableReader {
  readonly #name: string;
  readonly #limits: TableLimits;
  readonly #letters = new Letters();
  readonly #rows: TableRow[] = [];
  #separator: Separator | null;
  #parser: Papa.Parser | null = null;
  #pending = '';
  #bytes = 0;
  #line = 1;

  constructor(name: string, limits: TableLimits = NO_LIMITS, separator: Separator | null = null) {
    this.#name = name;
    this.#limits = limits;
    this.#separator = separator;
  }

  /** Throws a LidwrightError at the first limit that is passed, and for what is no text. */
  add(bytes: Uint8Array): void {
    this.#bytes += bytes.length;
    checkTableSize(this.#name, this.#bytes, this.#limits);
    this.#take(this.#letters.add(bytes, false), false);
  }

  /** The table, when all bytes have come. Throws as `add` does. */
  end(): Table {
    return this.endWith(this.#letters.add(new Uint8Array(), true));
  }

  /** The same of a last piece of text that is letters already. */
  endWith(text: string): Table {
    this.#take(text, true);
    return { separator: this.#separator ?? ',', encoding: this.#letters.encoding, rows: this.#rows };
  }

  #take(text: string, last: boolean): void {
    this.#pending += text;
    if (this.#pending === '' || (!this.#parser && !last && this.#pending.length < BEGINNING)) return;
    this.#parser ??= this.#begin();
    this.#parse(this.#parser, false);
    if (this.#pending.length > LONGEST_ROW)
      this.#refuse(
        `line ${this.#line} is over ${LONGEST_ROW.toLocaleString('en')} letters long`,
        'Is it a table? A quotation mark that is opened there and never closed does this, too.',
      );
    if (last) this.#parse(this.#parser, true);
  }

  #begin(): Papa.Parser {
    const beginning = this.#pending.slice(0, BEGINNING);
    const newline = beginning.includes('\n') || !beginning.slice(0, -1).includes('\r') ? '\n' : '\r';
    this.#separator ??= guessSeparator(beginning, newline);
    return new Papa.Parser({ delimiter: this.#separator, newline });
  }

  /** Takes the rows that are whole; with `last`, what is left too. */
  #parse(parser: Papa.Parser, last: boolean): void {
    const { data, errors, meta } = parser.parse(this.#pending, 0, !last) as Parsed;
    const wrong = new Map(errors.map((e) => [e.row, e.code]));
    data.forEach((cells, i) => {
      const code = wrong.get(i);
      if (code === 'MissingQuotes' && data.length === 1) this.#row(cells, OPEN, this.#pending);
      else this.#row(cells, code === undefined ? null : code === 'MissingQuotes' ? OPEN : INSIDE);
    });
    this.#pending = last ? '' : this.#pending.slice(meta.cursor);
  }

  #row(read: readonly string[], wrong: Wrong | null, rest?: string): void {
    const line = this.#line;
    const end = read.length - 1;
    const bare = read.map((cell, i) => (i === end && cell.endsWith('\r') ? cell.slice(0, -1) : cell));
    const breaks = bare.map(breaksIn);
    const lineOf = (column: number): number => breaks.slice(0, column).reduce((sum, n) => sum + n, line);
    this.#line = lineOf(read.length) + 1;
    if (bare.every((cell) => cell.trim() === '')) return;
    if (bare.some((cell) => cell.includes('\0')))
      this.#refuse(`line ${line} holds a zero byte, which no table of text does`, 'Save it as CSV in UTF-8.');
    if (this.#rows.length >= this.#limits.rows)
      this.#refuse(
        `it has more than ${this.#limits.rows.toLocaleString('en')} lines, so that it was not read on`,
        this.#limits.advice ?? 'Split it, or take out lines that are not needed.',
      );
    const { encoding } = this.#letters;
    const unread = bare.findIndex((cell) => unreadIn(cell, encoding) !== null);
    const fault: RowFault | null = wrong
      ? { ...wrong, column: wrong === OPEN ? end : null, line: wrong === OPEN ? lineOf(end) : line }
      : unread >= 0
        ? { what: unreadIn(bare[unread]!, encoding)!, advice: UNREAD, column: unread, line: lineOf(unread) }
        : null;
    this.#rows.push({
      line,
      cells: bare.map(unguarded),
      ...(fault ? { fault: rest === undefined ? fault : { ...fault, rest } } : {}),
    });
  }

  #refuse(what: string, advice: string): never {
    return fail(`"${this.#name}": ${what}`, [], advice);
  }
}

type Wrong = Pick<RowFault, 'what' | 'advice'>;
const OPEN: Wrong = {
  what: "a quotation mark opens here and never closes, so it can't be told where the cell ends",
  advice: 'Close it or remove it.',
};
const INSIDE: Wrong = {
  what: 'a cell in quotation marks goes on behind its closing mark',
  advice: 'Write a mark inside such a cell twice, or take the marks round it away.',
};
const UNREAD = 'Save the table as CSV in UTF-8 and choose it again, or type this cell anew.';

/** A table whose text is here already. */
export const readTable = (text: string, separator: Separator | null = null): Table =>
  new TableReader('what was pasted', NO_LIMITS, separator).endWith(text.replace(/^\ufeff/, ''));

/**
 * What a spreadsheet would take for a formula and is no number; behind quotes too, so that taking one away gives back
 * what was written.
 */
const FORMULA = /^(?![+-]?\d+([.,]\d+)?(e[+-]?\d+)?$)'*[=+\-@\t\r]/i;
const unguarded = (cell: string): string => (cell.startsWith("'") && FORMULA.test(cell) ? cell.slice(1) : cell);

/**
 * Rows as separated values (RFC 4180), each line ended by CR LF. A text that a spreadsheet would take for a formula gets
 * a quote in front, which reading takes away again; numbers stay numbers.
 */
export const writeTable = (rows: readonly (readonly string[])[], separator: Separator = ','): string =>
  rows.length === 0
    ? ''
    : `${Papa.unparse(rows as string[][], { delimiter: separator, newline: '\r\n', escapeFormulae: FORMULA })}\r\n`;
