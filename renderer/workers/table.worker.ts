// Reads tables piece by piece, away from the page.
import { fail } from '../../core/error';
import type { Job } from '../../core/job';
import {
  type ColumnMatch,
  LIST_LIMITS,
  type RowError,
  type StrutListEntry,
  guessColumns,
  importSteps,
  matchIssues,
} from '../../core/strut';
import { type ParsedReadings, parseReadings, readingsLimits } from '../../core/survey';
import {
  type Encoding,
  type Separator,
  type Table,
  type TableLimits,
  TableReader,
  checkTableSize,
} from '../../core/table';
import { answerBy } from './answer';

/** Bytes of one piece. */
const PIECE = 256 * 1024;
/** Faults that are sent back; the others are counted. */
const MOST_FAULTS = 30;

interface TableFile {
  readonly name: string;
  readonly file: Blob;
}

export type ListQuestion = TableFile & {
  readonly of: 'list';
  /** Which column holds what; null: as it seems. */
  readonly match: ColumnMatch | null;
};

export interface ListAnswer {
  readonly of: 'list';
  readonly encoding: Encoding;
  readonly separator: Separator;
  /** The first row. */
  readonly head: readonly string[];
  /** Cells of the widest row. */
  readonly width: number;
  readonly rows: number;
  readonly match: ColumnMatch;
  readonly entries: readonly StrutListEntry[];
  readonly errors: readonly RowError[];
  /** All faults, those that are not sent too. */
  readonly faults: number;
}

export type ReadingsQuestion = TableFile & { readonly of: 'readings'; readonly job: Job };
export type ReadingsAnswer = ParsedReadings & { readonly of: 'readings' };

/** The table in a file; yields the share that is read. Throws a LidwrightError at a limit, before more is read. */
async function* rowsOf({ name, file }: TableFile, limits: TableLimits): AsyncGenerator<number, Table> {
  checkTableSize(name, file.size, limits);
  const reader = new TableReader(name, limits);
  for (let at = 0; at < file.size; at += PIECE) {
    const piece = await file.slice(at, at + PIECE).arrayBuffer().catch(() =>
      fail(`"${name}" can't be read`, [], 'It may have changed, moved or gone since: choose it again.'),
    ); // prettier-ignore
    reader.add(new Uint8Array(piece));
    yield at / file.size;
  }
  return reader.end();
}

async function* listOf(question: ListQuestion): AsyncGenerator<number, ListAnswer> {
  const half = (share: number): number => share / 2;
  const reading = rowsOf(question, LIST_LIMITS);
  let step = await reading.next();
  for (; !step.done; step = await reading.next()) yield half(step.value);
  const table = step.value;
  const match = question.match ?? guessColumns(table);
  const steps = matchIssues(match).length === 0 ? importSteps(table, match) : null;
  let taken = steps?.next();
  for (; taken && !taken.done; taken = steps!.next()) yield 0.5 + half(taken.value);
  const { entries, errors } = taken?.value ?? { entries: [], errors: [] };
  return {
    of: 'list',
    encoding: table.encoding,
    separator: table.separator,
    head: table.rows[0]?.cells ?? [],
    width: table.rows.reduce((most, { cells }) => Math.max(most, cells.length), 0),
    rows: table.rows.length,
    match,
    entries,
    errors: errors.slice(0, MOST_FAULTS),
    faults: errors.length,
  };
}

async function* readingsOf(question: ReadingsQuestion): AsyncGenerator<number, ReadingsAnswer> {
  const table = yield* rowsOf(question, readingsLimits(question.job));
  return { of: 'readings', ...parseReadings(table, question.job) };
}

answerBy((question: ListQuestion | ReadingsQuestion): AsyncGenerator<number, ListAnswer | ReadingsAnswer> =>
  question.of === 'list' ? listOf(question) : readingsOf(question),
);
