// Strut lists on the command line, read as the page reads them.
import { type FileHandle, open } from 'node:fs/promises';
import path from 'node:path';
import { fail } from '../../core/error';
import { type ColumnMatch, LIST_FIELDS, LIST_LIMITS, type ListField, type ListImport, guessColumns, importList } from '../../core/strut'; // prettier-ignore
import { type Table, type TableLimits, TableReader, checkTableSize } from '../../core/table';
import { asLidwrightError } from '../errors';
import type { Io } from './io';
import type { ListCommand } from './options';
import { plain } from './table';

/** Bytes that are read at a time. */
const PIECE = 256 * 1024;

/** The table in a file that the command line names. Throws a LidwrightError at a limit, before more is read. */
async function tableNamed(name: string, limits: TableLimits, io: Io): Promise<Table> {
  let file: FileHandle | null = null;
  try {
    file = await open(path.resolve(io.cwd, name));
    const facts = await file.stat();
    if (facts.isDirectory()) fail(`"${name}" is a folder.`, [], 'Name a table: a CSV file.');
    checkTableSize(name, facts.size, limits);
    const reader = new TableReader(name, limits);
    const piece = new Uint8Array(PIECE);
    for (;;) {
      const { bytesRead } = await file.read(piece, 0, PIECE);
      if (bytesRead === 0) return reader.end();
      reader.add(piece.subarray(0, bytesRead));
    }
  } catch (error) {
    throw asLidwrightError(error, name);
  } finally {
    await file?.close();
  }
}

export interface NamedList extends ListImport {
  readonly table: Table;
  readonly match: ColumnMatch;
}

/** The strut list that the command line names, its columns told from its heading. Throws a LidwrightError where that can't be. */
export async function listNamed(name: string, io: Io): Promise<NamedList> {
  const table = await tableNamed(name, LIST_LIMITS, io);
  if (table.rows.length === 0) fail(`"${name}" is empty.`, [], 'Name a table: a CSV file.');
  const match = guessColumns(table);
  return { table, match, ...importList(table, match) };
}

const SEPARATOR_WORDS = { ',': 'commas', ';': 'semicolons', '\t': 'tabs' } as const;

/** Prints what was read and what was not, and gives the exit code. Throws a LidwrightError for what is no list. */
export async function list({ job: name, json }: ListCommand, io: Io): Promise<number> {
  const { table, match, entries, errors } = await listNamed(name, io);
  const { encoding, separator, rows } = table;
  if (json) io.out(`${JSON.stringify({ encoding, separator, match, entries, errors })}\n`);
  else {
    const head = rows[0]!.cells;
    io.out(`${plain(name)}: ${rows.length} rows, ${encoding}, ${SEPARATOR_WORDS[separator]} between the cells\n`);
    for (const [field, i] of Object.entries(match.columns) as [ListField, number][])
      io.out(`  ${LIST_FIELDS[field].words}: ${plain(head[i] ?? '')}\n`);
    io.out(`${entries.length} struts read\n`);
    for (const { line, heading, what, advice } of errors)
      io.out(`line ${line}${heading === '' ? '' : `, ${plain(heading)}`}: ${plain(what)}\n    ${plain(advice)}\n`);
  }
  return errors.length > 0 ? 1 : 0;
}
