import { attempt, fail, type Issue } from '../error';
import { type Job, type JobObservation, type Num, OBSERVATION_SHAPE, type ObservationKind, resolveJob } from '../job';
import { type Table, type TableLimits, type TableRow, writeTable } from '../table';
import { type Column, type Heading, POINT_COLUMNS, readHeading } from './csv-heading';
import {
  KIND_WORDS,
  type NewReading,
  TYPED_KINDS,
  kindOf,
  measureOf,
  numFrom,
  plainly,
  pointLabels,
  pointNamed,
  readingIssue,
} from './entry';

/** A line that was not taken, and why. */
export interface LineProblem extends Issue {
  /** In the pasted text, from 1. */
  readonly line: number;
  readonly text: string;
}

export interface ParsedReadings {
  readonly readings: readonly NewReading[];
  readonly problems: readonly LineProblem[];
  /** Heading and the lines that were not taken, to be put right and taken in again; empty when all were. */
  readonly rest: string;
  /** Headings that mean nothing here, with what stood under them left out. */
  readonly ignored: readonly string[];
}

/** The largest table of readings that is looked at, bytes. */
const LARGEST_TABLE = 2_000_000;
/** Readings that a job file holds. */
export const MOST_READINGS = 500;

/** What a table of readings may hold that this job has room for; to be told before it is read. */
export function readingsLimits(job: Job): TableLimits {
  const count = job.observations?.length ?? 0;
  return {
    bytes: LARGEST_TABLE,
    rows: Math.max(0, MOST_READINGS - count) + 1,
    advice: `A job holds ${MOST_READINGS} readings at most, and ${count === 0 ? 'has none yet' : `has ${count} now`}.`,
  };
}

const COLUMNS = [
  'kind', 'point 1', 'point 2', 'point 3', 'point 4', 'axis', 'datum', 'value', 'unit', 'sigma', 'lid at', 'use', 'name',
] as const; // prettier-ignore

/** A number as it goes into a cell of a row whose plain numbers are in `rowUnit`; `unit` is its own in the file. */
function cellOf(raw: Num | undefined, worked: number | undefined, unit: string, rowUnit: string): string {
  if (raw === undefined) return '';
  if (typeof raw === 'object' && 'given' in raw) return raw.given;
  if (typeof raw === 'object' && (raw.unit ?? unit) === rowUnit) return raw.expression;
  const value = typeof raw === 'number' ? raw : worked!;
  return unit === rowUnit ? String(value) : `${value} ${unit}`;
}

/**
 * The job's typed readings as separated values (RFC 4180, comma, decimal point), lengths in mm and angles in degrees:
 * `parseReadings` gives them back as they were. Marks on photos are no part of it.
 */
export function formatReadings(job: Job): string {
  const labels = pointLabels(job.points);
  const resolved = resolveJob(job).observations;
  const rows = (job.observations ?? []).flatMap((o, i): string[][] => {
    if (!TYPED_KINDS.includes(o.kind)) return [];
    const r = resolved[i]!;
    const { unit } = measureOf(o.kind);
    const raw = unit === 'mm' ? o.valueMm : o.valueDeg;
    // an expression brings the unit of its plain numbers with it
    const rowUnit = typeof raw === 'object' && 'expression' in raw ? (raw.unit ?? unit) : unit;
    return [
      [
        KIND_WORDS[o.kind]!,
        ...[0, 1, 2, 3].map((k) => labels.get(o.points[k] ?? '') ?? o.points[k] ?? ''),
        o.axis ?? '',
        cellOf(o.datumMm, r.datumMm, 'mm', rowUnit),
        cellOf(raw, unit === 'mm' ? r.valueMm : r.valueDeg, unit, rowUnit),
        rowUnit,
        cellOf(
          ...(unit === 'mm' ? ([o.sigmaMm, r.sigmaMm] as const) : ([o.sigmaDeg, r.sigmaDeg] as const)),
          unit,
          rowUnit,
        ),
        cellOf(o.atDeg, r.atDeg, 'deg', 'deg'),
        o.use === false ? 'no' : 'yes',
        o.name ?? '',
      ],
    ];
  });
  return writeTable([[...COLUMNS], ...rows]);
}

/**
 * Readings from a pasted or opened table: tab, semicolon or comma; decimal point or comma; a heading in plain words, or
 * none (then kind, its points, value, σ in this order; a coordinate's axis beside its point). A value may bear a unit
 * and may be an expression. Good lines are taken; every other line is named with what is wrong, and kept in `rest`.
 */
export function parseReadings(table: Table, job: Job): ParsedReadings {
  if (table.rows.length === 0) return { readings: [], problems: [], rest: '', ignored: [] };
  const heading = readHeading(table.rows[0]!.cells);
  const body = heading ? table.rows.slice(1) : table.rows;
  const comma = meaningOfComma(body, table.separator);
  const readings: NewReading[] = [];
  const problems: LineProblem[] = [];
  const kept: TableRow[] = [];
  for (const row of body) {
    const { line, cells, fault } = row;
    const read = attempt(() => readRow(heading ? byHeading(cells, heading) : byPlace(cells, job), job, comma));
    const issue = fault ?? read.error ?? readingIssue(job, read.value, 'it');
    if (issue) {
      const text = cells.join(' · ').slice(0, LONGEST_SHOWN);
      problems.push({ line: fault?.line ?? line, text, what: issue.what, where: [], advice: issue.advice });
      kept.push(row);
    } else readings.push(read.value!);
  }
  const head = heading ? [table.rows[0]!.cells] : [];
  const whole = kept.filter(({ fault }) => fault?.rest === undefined).map(({ cells }) => cells);
  const open = kept.find(({ fault }) => fault?.rest !== undefined)?.fault?.rest ?? '';
  return {
    readings,
    problems,
    rest:
      kept.length === 0
        ? ''
        : writeTable([...head, ...whole], table.separator).replace(/\r\n/g, '\n') + open.replace(/\r\n/g, '\n'),
    ignored: heading?.ignored ?? [],
  };
}

/** Letters of a line that are shown of it. */
const LONGEST_SHOWN = 200;

type Row = Partial<Record<Column, string>> & { readonly units?: Heading['units'] };

function byHeading(cells: readonly string[], heading: Heading): Row {
  if (cells.slice(heading.columns.length).some((c) => c.trim() !== ''))
    fail(
      `the line has ${cells.length} cells and the heading ${heading.columns.length}`,
      [],
      'Put a name with a comma in it between quotation marks.',
    );
  const row: Row = { units: heading.units };
  const kind = kindOf(cells[heading.columns.findIndex((c) => c === 'kind')] ?? '');
  heading.columns.forEach((column, i) => {
    const cell = (cells[i] ?? '').trim();
    if (cell === '' || column === null) return;
    const own = kind ? OBSERVATION_SHAPE[kind].points.indexOf(heading.words[i]!) : -1;
    const at = own >= 0 && (POINT_COLUMNS as readonly string[]).includes(column) ? POINT_COLUMNS[own]! : column;
    if (row[at] !== undefined)
      fail(`"${row[at]}" and "${cell}" stand for the same thing`, [], 'Leave one of the two cells empty.');
    row[at] = cell;
  });
  return row;
}

/** A line without a heading: kind, points, value, σ, lid angle; a tape where the kind is left out. */
function byPlace(cells: readonly string[], job: Job): Row {
  const first = (cells[0] ?? '').trim();
  let kind = kindOf(first);
  let rest = cells.slice(1).map((c) => c.trim());
  if (!kind && pointNamed(first, job.points) !== null) {
    kind = 'tape';
    rest = [first, ...rest];
  }
  if (!kind)
    return fail(
      `"${first}" is no kind of reading`,
      [],
      `Begin the line with one of: ${TYPED_KINDS.map((k) => KIND_WORDS[k]).join(', ')}.`,
    );
  const row: Row = { kind };
  if (kind === 'coordinate') {
    const at = rest.slice(0, 2).findIndex((c) => /^[xyz]$/i.test(c));
    if (at >= 0) row.axis = rest.splice(at, 1)[0]!;
  }
  OBSERVATION_SHAPE[kind].points.forEach((_, k) => (row[POINT_COLUMNS[k]!] = rest.shift() ?? ''));
  if (measureOf(kind).hasValue) row.value = rest.shift() ?? '';
  row.sigma = rest.shift() ?? '';
  row.lid = rest.shift() ?? '';
  if (rest.some((c) => c !== ''))
    fail(
      `"${rest.find((c) => c !== '')}" is one cell too many`,
      [],
      'Write a heading above the lines, or take the cell away.',
    );
  return row;
}

/** Builds a reading from the cells of a line. */
function readRow(row: Row, job: Job, comma: CommaMeaning): NewReading {
  const cell = (key: Column): string => (row[key] ?? '').trim();
  const filled = POINT_COLUMNS.filter((c) => cell(c) !== '').length;
  const kind: ObservationKind | null = cell('kind') === '' ? (filled === 2 ? 'tape' : null) : kindOf(cell('kind'));
  if (!kind)
    return fail(
      cell('kind') === ''
        ? 'the line does not say what kind of reading it is'
        : `"${cell('kind')}" is no kind of reading`,
      [],
      `Write one of: ${TYPED_KINDS.map((k) => KIND_WORDS[k]).join(', ')}.`,
    );
  const needs = OBSERVATION_SHAPE[kind].points;
  if (filled !== needs.length)
    fail(
      `it names ${filled} points, and "${KIND_WORDS[kind]}" takes ${needs.length}`,
      [],
      `Name: ${needs.join(', ')}.`,
    );
  const points = POINT_COLUMNS.slice(0, needs.length).map((c) => {
    if (cell(c) === '') return fail('a point is left out between the others', [], `Name: ${needs.join(', ')}.`);
    return (
      pointNamed(cell(c), job.points) ??
      fail(`there is no one point called "${cell(c)}"`, [], 'Write its name as under Points.')
    );
  });
  const { dimension, unit, hasValue } = measureOf(kind);
  const columnUnit = cell('unit') || row.units?.value;
  const num = (key: Column, of: 'length' | 'angle', bare: string): Num | undefined => {
    const text = cell(key).replace(/^±\s*/, '');
    return text === '' ? undefined : numFrom(numberText(text, comma), of, job, bare);
  };
  const fit = (wanted: string | undefined, of: 'length' | 'angle'): string =>
    unitWord(wanted, of) ?? (of === 'length' ? 'mm' : 'deg');
  if (cell('unit') !== '' && unitWord(cell('unit'), dimension) === null)
    fail(
      `"${cell('unit')}" is no unit of ${dimension === 'length' ? 'length' : 'angle'}`,
      [],
      `Write ${unit}, or leave it empty.`,
    );
  const value = num('value', dimension, fit(columnUnit, dimension));
  if (!hasValue && value !== undefined)
    fail(`"${KIND_WORDS[kind]}" takes no value, and "${cell('value')}" stands there`, [], 'Leave the cell empty.');
  if (hasValue && value === undefined) fail('no value stands there', [], 'Type what was read.');
  const sigma = num('sigma', dimension, fit(cell('unit') || (row.units?.sigma ?? row.units?.value), dimension));
  const atDeg = num('lid', 'angle', 'deg');
  const datumMm = num('datum', 'length', fit(cell('unit') || (row.units?.datum ?? row.units?.value), 'length'));
  const axis = cell('axis').toLowerCase();
  if (axis !== '' && !/^[xyz]$/.test(axis)) fail(`"${cell('axis')}" is no axis`, [], 'Write x, y or z.');
  const use = plainly(cell('use'));
  if (use !== '' && !YES.has(use) && !NO.has(use))
    fail(`"${cell('use')}" is neither yes nor no`, [], 'Write yes or no, or leave it empty.');
  const keep = <K extends keyof JobObservation>(key: K, v: JobObservation[K] | undefined): Partial<JobObservation> =>
    v === undefined ? {} : { [key]: v };
  return {
    kind,
    points,
    ...keep('name', cell('name') || undefined),
    ...keep('axis', (axis || undefined) as JobObservation['axis']),
    ...keep('datumMm', datumMm),
    ...keep(unit === 'mm' ? 'valueMm' : 'valueDeg', value),
    ...keep('atDeg', atDeg),
    ...keep(unit === 'mm' ? 'sigmaMm' : 'sigmaDeg', sigma),
    ...(NO.has(use) ? { use: false } : {}),
  };
}

const YES = new Set(['yes', 'y', 'on', 'true', '1', 'x', '✓']);
const NO = new Set(['no', 'n', 'off', 'false', '0']);

/** The unit as expressions spell it, where it measures the dimension; null otherwise. */
function unitWord(word: string | undefined, dimension: 'length' | 'angle'): string | null {
  const plain = (word ?? '').trim().replace(/\.$/, '').toLowerCase();
  const lengths: Record<string, string> = {
    mm: 'mm',
    cm: 'cm',
    m: 'm',
    in: 'in',
    inch: 'in',
    inches: 'in',
    '"': 'in',
    ft: 'ft',
  };
  const angles: Record<string, string> = { deg: 'deg', degrees: 'deg', '°': 'deg', rad: 'rad' };
  const of = dimension === 'length' ? lengths : angles;
  return Object.hasOwn(of, plain) ? of[plain]! : null;
}

type CommaMeaning = 'decimal' | 'thousands' | 'unsaid';

/** What a comma in a number means, from those numbers of the table that can be read one way only. */
function meaningOfComma(rows: Table['rows'], separator: string): CommaMeaning {
  const cells = rows.flatMap((r) => r.cells).filter((c) => /^\s*[±+-]?[\d.,]*\d\s*[a-z°]*\s*$/i.test(c));
  if (cells.some((c) => /\d,(\d{1,2}|\d{4,})(?!\d)/.test(c))) return 'decimal';
  if (cells.some((c) => /\d\.\d/.test(c))) return 'thousands';
  // between semicolons a comma is not needed to part cells: whoever writes one there writes decimals with it
  return separator === ';' ? 'decimal' : 'unsaid';
}

/** A number with its comma made plain; what stays open is refused where it is read. */
function numberText(text: string, comma: CommaMeaning): string {
  if (comma === 'unsaid' || !/^[+\-−]?[\d.,\s\u00a0]+(\s*[a-z°"]+)?$/i.test(text)) return text;
  if (comma === 'decimal') return text.replace(/(\d)\.(?=\d{3},)/g, '$1').replace(/(\d),(\d+)(?!\d)/, '$1.$2');
  return text.replace(/(\d),(?=\d{3}(?!\d))/g, '$1');
}
