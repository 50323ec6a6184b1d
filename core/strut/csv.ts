/** One cell of a table of text with its place in the file, both from 1. */
export interface CsvCell {
  readonly text: string;
  readonly line: number;
}

export interface CsvTable {
  readonly separator: ',' | ';' | '\t';
  /** Rows that are not empty; each with the file's line it starts on. */
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[];
  /** Line where a quote opens that never closes; null when all close. */
  readonly openQuoteLine: number | null;
}

/** The separator that splits the first lines most evenly: the one that gives most columns, the same in most lines. */
function guessSeparator(text: string): CsvTable['separator'] {
  let best: CsvTable['separator'] = ',';
  let bestScore = -1;
  for (const separator of [';', '\t', ','] as const) {
    const { rows } = split(text.slice(0, 20_000), separator);
    const widths = rows.slice(0, 20).map((r) => r.cells.length);
    const head = widths[0] ?? 1;
    const same = widths.filter((w) => w === head).length / Math.max(1, widths.length);
    const score = head > 1 ? same * 100 + Math.min(head, 40) : 0;
    if (score > bestScore) [best, bestScore] = [separator, score];
  }
  return best;
}

function split(text: string, separator: CsvTable['separator']): Omit<CsvTable, 'separator'> {
  const rows: { line: number; cells: string[] }[] = [];
  let cells: string[] = [];
  let cell = '';
  let quoted = false;
  let wasQuoted = false;
  let line = 1;
  let rowLine = 1;
  let openQuoteLine: number | null = null;
  const endCell = (): void => {
    cells.push(wasQuoted ? cell : cell.trim());
    cell = '';
    wasQuoted = false;
  };
  const endRow = (): void => {
    endCell();
    if (cells.some((c) => c.trim() !== '')) rows.push({ line: rowLine, cells });
    cells = [];
  };
  for (let i = 0; i < text.length; i++) {
    const ch = text[i]!;
    if (quoted) {
      if (ch === '"' && text[i + 1] === '"') {
        cell += '"';
        i++;
      } else if (ch === '"') {
        quoted = false;
        openQuoteLine = null;
      } else {
        if (ch === '\n') line++;
        cell += ch;
      }
    } else if (ch === '"' && cell.trim() === '' && !wasQuoted) {
      quoted = true;
      wasQuoted = true;
      openQuoteLine = line;
      cell = '';
    } else if (ch === separator) endCell();
    else if (ch === '\n' || ch === '\r') {
      if (ch === '\r' && text[i + 1] === '\n') i++;
      endRow();
      line++;
      rowLine = line;
    } else if (!wasQuoted || ch.trim() !== '') cell += ch;
  }
  if (cell !== '' || wasQuoted || cells.length > 0) endRow();
  return { rows, openQuoteLine };
}

/**
 * A table of separated values (RFC 4180): commas, semicolons or tabs, found by themselves or given; quotes, doubled
 * quotes, line breaks inside quotes, any line ends, a byte order mark. Empty rows are left out.
 */
export function readCsv(text: string, separator?: CsvTable['separator']): CsvTable {
  const body = text.startsWith('\uFEFF') ? text.slice(1) : text;
  const used = separator ?? guessSeparator(body);
  return { separator: used, ...split(body, used) };
}

const quote = (cell: string, separator: string): string =>
  /["\r\n]/.test(cell) || cell.includes(separator) || cell !== cell.trim() ? `"${cell.replace(/"/g, '""')}"` : cell;

/** Rows as separated values (RFC 4180), each line ended by CR LF. */
export const writeCsv = (rows: readonly (readonly string[])[], separator: CsvTable['separator'] = ','): string =>
  rows.map((row) => `${row.map((cell) => quote(cell, separator)).join(separator)}\r\n`).join('');
