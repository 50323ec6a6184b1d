import { attempt, wordsOf } from '../../core/error';
import { type Job, type JobObservation, type Num, OBSERVATION_SHAPE, type ObservationKind } from '../../core/job';
import { type Dimension, type ShownUnits, formatEntry, shownUnit } from '../../core/quantity';
import {
  type NewReading,
  matchPoints,
  measureOf,
  numFrom,
  pointLabels,
  pointNamed,
  readingIssue,
} from '../../core/survey';

/** A reading while it is typed: what stands in its cells. */
export interface Draft {
  readonly kind: ObservationKind;
  readonly points: readonly string[];
  readonly axis: '' | 'x' | 'y' | 'z';
  readonly datum: string;
  readonly value: string;
  readonly sigma: string;
  readonly lid: string;
}

export type PointCell = 'p0' | 'p1' | 'p2' | 'p3';
export type CellName = 'kind' | PointCell | 'axis' | 'datum' | 'value' | 'sigma' | 'lid';
export const POINT_CELLS: readonly PointCell[] = ['p0', 'p1', 'p2', 'p3'];

export const emptyDraft = (kind: ObservationKind = 'tape'): Draft => ({
  kind,
  points: ['', '', '', ''],
  axis: '',
  datum: '',
  value: '',
  sigma: '',
  lid: '',
});

/** The entry for the next reading: the same kind, instrument, datum and lid; points and value open. */
export const nextDraft = (last: Draft): Draft => ({ ...last, points: ['', '', '', ''], value: '' });

/** The entry turned to another kind: points and lid stay, what the other instrument read does not. */
export const withKind = (draft: Draft, kind: ObservationKind): Draft => ({
  ...emptyDraft(kind),
  points: draft.points,
  lid: draft.lid,
});

/** Cells that a kind has, in the order in which they are filled. */
export function cellsOf(kind: ObservationKind): readonly CellName[] {
  const turned = kind === 'coordinate' || kind === 'mirror-twin';
  return [
    'kind',
    ...OBSERVATION_SHAPE[kind].points.map((_, k) => POINT_CELLS[k]!),
    ...(turned ? (['axis'] as const) : []),
    ...(measureOf(kind).hasValue ? (['value'] as const) : []),
    ...(turned ? (['datum'] as const) : []),
    'sigma',
    'lid',
  ];
}

export const textOf = (draft: Draft, cell: CellName): string =>
  cell.startsWith('p') ? (draft.points[Number(cell[1])] ?? '') : draft[cell as Exclude<CellName, PointCell>];

export const withText = (draft: Draft, cell: CellName, text: string): Draft =>
  cell.startsWith('p')
    ? { ...draft, points: draft.points.map((p, k) => (k === Number(cell[1]) ? text : p)) }
    : { ...draft, [cell]: text };

/** Cells that must hold something before the reading is whole. */
const needed = (draft: Draft): readonly CellName[] =>
  cellsOf(draft.kind).filter(
    (cell) => cell.startsWith('p') || cell === 'value' || (cell === 'axis' && draft.kind === 'coordinate'),
  );

/** The first cell still to be filled, or null when the reading is whole. */
export const firstGap = (draft: Draft): CellName | null =>
  needed(draft).find((cell) => textOf(draft, cell).trim() === '') ?? null;

/** What a typed point means: by its whole name or id, or by beginnings that only one point has. */
function pointMeant(text: string, job: Pick<Job, 'points'>): string | null {
  if (text.trim() === '') return null;
  const named = pointNamed(text, job.points);
  if (named !== null) return named;
  const labels = pointLabels(job.points);
  const found = matchPoints(
    text,
    job.points.map((p) => ({ id: p.id, name: labels.get(p.id)! })),
  );
  return found.length === 1 ? found[0]!.id : null;
}

export type DraftReading = { readonly reading: NewReading } | { readonly cell: CellName; readonly message: string };

const GAP_WORDS: Partial<Record<CellName, string>> = {
  value: 'Type what was read.',
  axis: 'Choose which coordinate: x, y or z.',
};

/** A draft as a reading, or which cell keeps it from being one, and why. Nothing half-typed passes. */
export function readDraft(draft: Draft, job: Job, units: ShownUnits): DraftReading {
  const gap = firstGap(draft);
  if (gap) return { cell: gap, message: GAP_WORDS[gap] ?? `Choose the point: ${pointWord(draft.kind, gap)}.` };
  const points: string[] = [];
  for (const [k] of OBSERVATION_SHAPE[draft.kind].points.entries()) {
    const text = draft.points[k]!;
    const id = pointMeant(text, job);
    if (id === null)
      return {
        cell: POINT_CELLS[k]!,
        message: `No one point is called “${text.trim()}”. Choose one of the list, or add it under Points.`,
      };
    points.push(id);
  }
  const { dimension, unit, hasValue } = measureOf(draft.kind);
  const nums: Partial<Record<CellName, Num>> = {};
  for (const cell of ['value', 'datum', 'sigma', 'lid'] as const) {
    const text = draft[cell].trim().replace(/^±\s*/, '');
    if (text === '' || !cellsOf(draft.kind).includes(cell)) continue;
    const of: Dimension = cell === 'lid' ? 'angle' : cell === 'datum' ? 'length' : dimension;
    const { value, error } = attempt(() => numFrom(text, of, job, shownUnit(of, units).unit));
    if (error) return { cell, message: wordsOf(error) };
    nums[cell] = value;
  }
  const axis = cellsOf(draft.kind).includes('axis') && draft.axis !== '' ? draft.axis : undefined;
  const reading: NewReading = {
    kind: draft.kind,
    points,
    ...(axis ? { axis } : {}),
    ...(nums.datum === undefined ? {} : { datumMm: nums.datum }),
    ...(hasValue ? { [unit === 'mm' ? 'valueMm' : 'valueDeg']: nums.value! } : {}),
    ...(nums.lid === undefined ? {} : { atDeg: nums.lid }),
    ...(nums.sigma === undefined ? {} : { [unit === 'mm' ? 'sigmaMm' : 'sigmaDeg']: nums.sigma }),
  };
  const issue = readingIssue(job, reading, 'The reading');
  if (!issue) return { reading };
  return { cell: cellOfKey(issue.where[2], issue.where[3]), message: wordsOf(issue) };
}

function cellOfKey(key: string | number | undefined, place: string | number | undefined): CellName {
  switch (key) {
    case 'points':
      return POINT_CELLS[Number(place ?? 0)] ?? 'p0';
    case 'axis':
      return 'axis';
    case 'datumMm':
      return 'datum';
    case 'sigmaMm':
    case 'sigmaDeg':
      return 'sigma';
    case 'atDeg':
      return 'lid';
    case undefined:
    default:
      return 'value';
  }
}

/** What a kind calls the point of a cell: "from", "line to". */
export const pointWord = (kind: ObservationKind, cell: CellName): string =>
  OBSERVATION_SHAPE[kind].points[Number(cell[1])] ?? '';

/** A number of the job as it stands in a cell. */
export function numText(raw: Num | undefined, dimension: Dimension, units: ShownUnits): string {
  if (raw === undefined) return '';
  if (typeof raw === 'number') return formatEntry(raw, dimension, units);
  if ('given' in raw) return raw.given;
  return raw.expression;
}

/** A reading of the job as a draft. */
export function draftOf(o: JobObservation, job: Pick<Job, 'points'>, units: ShownUnits): Draft {
  const labels = pointLabels(job.points);
  const { dimension, unit } = measureOf(o.kind);
  return {
    kind: o.kind,
    points: [0, 1, 2, 3].map((k) => (o.points[k] === undefined ? '' : (labels.get(o.points[k]) ?? o.points[k]))),
    axis: o.axis ?? '',
    datum: numText(o.datumMm, 'length', units),
    value: numText(unit === 'mm' ? o.valueMm : o.valueDeg, dimension, units),
    sigma: numText(unit === 'mm' ? o.sigmaMm : o.sigmaDeg, dimension, units),
    lid: numText(o.atDeg, 'angle', units),
  };
}

/** What changes a reading into the one typed: only what differs, and keys that fall away. */
export function patchOf(
  old: JobObservation,
  before: Draft,
  after: Draft,
  reading: NewReading,
): Partial<Omit<JobObservation, 'id'>> {
  // what was not touched stays to the last digit, and as the expression it was typed as
  const same = (cell: CellName): boolean => textOf(before, cell) === textOf(after, cell);
  const kept = measureOf(before.kind).unit === measureOf(after.kind).unit;
  const pick = <K extends keyof NewReading>(key: K, cell: CellName): NewReading[K] | undefined =>
    kept && same(cell) && reading[key] !== undefined ? old[key] : reading[key];
  return {
    kind: reading.kind,
    points: reading.points,
    axis: reading.axis,
    datumMm: pick('datumMm', 'datum'),
    valueMm: pick('valueMm', 'value'),
    valueDeg: pick('valueDeg', 'value'),
    sigmaMm: pick('sigmaMm', 'sigma'),
    sigmaDeg: pick('sigmaDeg', 'sigma'),
    atDeg: pick('atDeg', 'lid'),
  };
}
