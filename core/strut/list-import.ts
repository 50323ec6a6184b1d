import { fail } from '../error';
import { MM_OF, NEWTONS_OF } from '../quantity';
import { type Separator, type Table, type TableLimits, writeTable } from '../table';
import { specIssues } from './gas';
import {
  type ColumnMatch,
  LIST_FIELDS,
  type ListField,
  type ListForce,
  type ListLength,
  type Measure,
  matchIssues,
  unitName,
} from './list-columns';
import { type StrutListEntry, specOf } from './lists';

/** The largest strut list that is read: some thousand times what one supplier sells. */
export const LIST_LIMITS: TableLimits = { bytes: 20_000_000, rows: 50_001 };

/** One thing wrong in a file: line and column from 1, as a spreadsheet shows them. */
export interface RowError {
  readonly line: number;
  readonly column: number | null;
  /** The column's heading, or the field's plain name. */
  readonly heading: string;
  readonly what: string;
  readonly advice: string;
}

export interface ListImport {
  readonly entries: readonly StrutListEntry[];
  /** File line of each entry, same order. */
  readonly lines: readonly number[];
  /** Rows that were left out, and why; good rows are kept. */
  readonly errors: readonly RowError[];
}

/** Numbers by their decimal mark; the other mark, a blank or an apostrophe groups three digits. */
const SHAPES = {
  '.': /^[+-]?(\d+|\d{1,3}([ '’,]\d{3})+)?(\.\d+)?$/,
  ',': /^[+-]?(\d+|\d{1,3}([ '’.]\d{3})+)?(,\d+)?$/,
};

/** A number as lists write it: grouping, a unit behind it, a fraction of an inch; null when it is none. */
export function readListNumber(text: string, decimal: '.' | ','): { value: number; unit: string | null } | null {
  let t = text
    .replace(/[\u00a0\u202f\u2009]/g, ' ')
    .trim()
    .replace(/^(±|\+\s*\/\s*[-−])\s*/, '')
    .replace(/−/g, '-');
  let unit: string | null = null;
  const tail = /^(.*?\d)\s*([a-z%"″]+)\.?$/i.exec(t);
  if (tail) {
    t = tail[1]!;
    unit = unitName(tail[2]!) ?? tail[2]!;
  }
  const mixed = /^(\d+)[ -](\d+)\/(\d+)$/.exec(t) ?? /^()(\d+)\/(\d+)$/.exec(t);
  if (mixed && Number(mixed[3]) > 0)
    return { value: Number(mixed[1] || 0) + Number(mixed[2]) / Number(mixed[3]), unit };
  const group = decimal === '.' ? ',' : '.';
  if (!/\d/.test(t) || !SHAPES[decimal].test(t)) return null;
  const value = Number(t.replace(/[ '’]/g, '').split(group).join('').replace(decimal, '.'));
  return Number.isFinite(value) ? { value, unit } : null;
}

/** Rows from one look at the clock to the next. */
const STRIDE = 200;

/**
 * Takes a supplier's list in by a column match, and tells the share that is done on the way: good rows become entries, every other row is told with line, column and
 * what to do. Throws a LidwrightError when the match itself can't be used (see matchIssues).
 */
export function* importSteps(table: Table, match: ColumnMatch): Generator<number, ListImport> {
  const [unusable] = matchIssues(match);
  if (unusable) return fail(unusable.what, unusable.where, unusable.advice);
  const header = match.hasHeader ? (table.rows[0]?.cells ?? []) : [];
  const entries: StrutListEntry[] = [];
  const lines: number[] = [];
  const errors: RowError[] = [];
  const heading = (field: ListField): string => header[match.columns[field] ?? -1]?.trim() || LIST_FIELDS[field].words;
  for (let row = match.hasHeader ? 1 : 0; row < table.rows.length; row++) {
    const { line, cells, fault } = table.rows[row]!;
    if (row % STRIDE === 0) yield row / table.rows.length;
    if (fault) {
      const { column } = fault;
      errors.push({
        ...{ line: fault.line, column: column === null ? null : column + 1 },
        ...{ heading: header[column ?? -1]?.trim() ?? '', what: fault.what, advice: fault.advice },
      });
      continue;
    }
    const wrong: RowError[] = [];
    const say = (field: ListField, what: string, advice: string): void => {
      const i = match.columns[field];
      wrong.push({ line, column: i === undefined ? null : i + 1, heading: heading(field), what, advice });
    };
    const text = (field: ListField): string => (cells[match.columns[field] ?? -1] ?? '').trim();
    const number = (field: ListField): number | undefined => {
      const raw = text(field);
      if (match.columns[field] === undefined || raw === '' || raw === '-' || raw === '–') return undefined;
      const measure: Measure = LIST_FIELDS[field].measure;
      const found = readListNumber(raw, match.decimal);
      if (!found) {
        const other = readListNumber(raw, match.decimal === '.' ? ',' : '.');
        say(
          field,
          `"${raw.slice(0, 40)}" is no number`,
          other
            ? `Is its decimal mark a ${match.decimal === '.' ? 'comma' : 'point'}? Change it above, or in this cell.`
            : 'Write one number, with or without its unit.',
        );
        return NaN;
      }
      const units: Record<string, number> = measure === 'length' ? MM_OF : measure === 'force' ? NEWTONS_OF : {};
      const unit = found.unit ?? (measure === 'length' ? match.lengthUnit : measure === 'force' ? match.forceUnit : '');
      const factor = unit === '' ? 1 : units[unit];
      if (factor === undefined) {
        say(
          field,
          `"${raw.slice(0, 40)}" is in ${unit}, which is no unit of ${measure === 'number' ? 'a plain number' : `a ${measure}`}`,
          measure === 'number' ? 'Write the bare number.' : `Write it in ${Object.keys(units).join(', ')}.`,
        );
        return NaN;
      }
      // a millionth of a mm or N: what conversion leaves over is no part of the list
      return Math.round(found.value * factor * 1e6) / 1e6;
    };
    const needed = (field: ListField, value: number | undefined): number => {
      if (value === undefined) {
        say(field, 'is empty', `Give the ${LIST_FIELDS[field].words.toLowerCase()}.`);
        return NaN;
      }
      return value;
    };
    let [extended, stroke] = [number('extendedMm'), number('strokeMm')];
    const compressed = number('compressedMm');
    if (stroke === undefined && extended !== undefined && compressed !== undefined)
      stroke = Math.round((extended - compressed) * 1e6) / 1e6;
    if (extended === undefined && compressed !== undefined && stroke !== undefined) extended = compressed + stroke;
    const extendedMm = needed('extendedMm', extended);
    const strokeMm = needed('strokeMm', stroke);
    if (compressed !== undefined && Math.abs(extendedMm - strokeMm - compressed) > 1 + 1e-9)
      say(
        'compressedMm',
        `the compressed length is ${shown(compressed)} mm, but extended less stroke is ${shown(extendedMm - strokeMm)} mm`,
        'Correct one of the three.',
      );
    const one = number('forceN');
    let [least, most] = [number('forceMinN') ?? one, number('forceMaxN') ?? one];
    if (least === undefined && most !== undefined) least = most;
    if (most === undefined && least !== undefined) most = least;
    const forceField: ListField = match.columns.forceN !== undefined ? 'forceN' : 'forceMinN';
    const forceMinN = needed(forceField, least);
    const forceMaxN = least === undefined ? NaN : (most as number);
    if (forceMaxN < forceMinN) say('forceMaxN', 'the greatest force is under the least', 'Swap them, or correct one.');
    const [ratio, frictionN, toleranceN] = [number('ratio'), number('frictionN'), number('toleranceN')];
    const thread = text('endThread');
    const entry: StrutListEntry = {
      name: text('name') || `line ${line}`,
      extendedMm,
      strokeMm,
      rodMm: needed('rodMm', number('rodMm')),
      tubeMm: needed('tubeMm', number('tubeMm')),
      forceMinN,
      forceMaxN,
      forceStepN: number('forceStepN') ?? 0,
      ...(ratio === undefined ? {} : { ratio }),
      ...(frictionN === undefined ? {} : { frictionN }),
      ...(toleranceN === undefined ? {} : { toleranceN }),
      ...(thread === '' ? {} : { endThread: thread }),
    };
    if (entry.forceStepN < 0) say('forceStepN', 'a force step under 0', 'Give the step between two forces, or 0.');
    // a spec no strut has is told against the column it comes from
    if (wrong.length === 0)
      for (const issue of specIssues(specOf(entry, entry.forceMinN))) {
        const field = issue.where[0] as ListField;
        say(field === 'forceN' && match.columns.forceN === undefined ? 'forceMinN' : field, issue.what, issue.advice);
      }
    if (wrong.length > 0) errors.push(...wrong);
    else {
      entries.push(entry);
      lines.push(line);
    }
  }
  return { entries, lines, errors };
}

/** The same in one go. */
export function importList(table: Table, match: ColumnMatch): ListImport {
  const steps = importSteps(table, match);
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
  }
}

const shown = (n: number): string => String(Number(n.toPrecision(6)));

/** A list as separated values, in the units asked for; importList with guessColumns reads it back. */
export function exportList(
  entries: readonly StrutListEntry[],
  options: {
    readonly lengthUnit?: ListLength;
    readonly forceUnit?: ListForce;
    readonly separator?: Separator;
    readonly decimal?: '.' | ',';
  } = {},
): string {
  const { lengthUnit = 'mm', forceUnit = 'N', separator = ',', decimal = '.' } = options;
  const keys = [
    'name',
    'extendedMm',
    'strokeMm',
    'rodMm',
    'tubeMm',
    'forceMinN',
    'forceMaxN',
    'forceStepN',
    'ratio',
    'frictionN',
    'toleranceN',
    'endThread',
  ] as const;
  const unitOf = (key: ListField): string =>
    LIST_FIELDS[key].measure === 'length'
      ? ` (${lengthUnit})`
      : LIST_FIELDS[key].measure === 'force'
        ? ` (${forceUnit})`
        : '';
  const cell = (entry: StrutListEntry, key: (typeof keys)[number]): string => {
    const value = entry[key];
    if (typeof value !== 'number') return value ?? '';
    const measure: Measure = LIST_FIELDS[key].measure;
    const factor = measure === 'length' ? MM_OF[lengthUnit] : measure === 'force' ? NEWTONS_OF[forceUnit] : 1;
    return String(Number((value / factor).toPrecision(12))).replace('.', decimal);
  };
  return writeTable(
    [
      keys.map((key) => `${LIST_FIELDS[key].words}${unitOf(key)}`),
      ...entries.map((e) => keys.map((key) => cell(e, key))),
    ],
    separator,
  );
}
