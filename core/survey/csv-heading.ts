import { plainly } from './entry';

export const POINT_COLUMNS = ['point1', 'point2', 'point3', 'point4'] as const;
/** What a column can hold. */
export type Column =
  | (typeof POINT_COLUMNS)[number]
  | 'kind'
  | 'axis'
  | 'datum'
  | 'value'
  | 'unit'
  | 'sigma'
  | 'lid'
  | 'use'
  | 'name';

export interface Heading {
  /** What each column holds; null: nothing that is known here. */
  readonly columns: readonly (Column | null)[];
  /** The words over each column, small, without a unit. */
  readonly words: readonly string[];
  /** Units that stand in the heading, such as "value (in)". */
  readonly units: Partial<Record<Column, string>>;
  readonly ignored: readonly string[];
}

const WORDS: Readonly<Record<Column, readonly string[]>> = {
  kind: ['kind', 'reading', 'kind of reading', 'type', 'what'],
  point1: ['point', 'point 1', 'from', 'line from', 'line 1 from', 'first point', 'start', 'corner', 'corner 1'],
  point2: ['point 2', 'to', 'twin', 'line to', 'line 1 to', 'plane 1', 'second point', 'end', 'side to', 'corner 2'],
  point3: ['point 3', 'line 2 from', 'plane 2', 'third point', 'other side to', 'corner 3'],
  point4: ['point 4', 'line 2 to', 'plane 3', 'fourth point', 'corner 4'],
  axis: ['axis', 'coordinate', 'which coordinate'],
  datum: ['datum', 'datum at', 'datum plane'],
  value: ['value', 'reads', 'read', 'measured', 'length', 'distance', 'angle', 'height', 'result'],
  unit: ['unit', 'units'],
  sigma: ['sigma', 'σ', '±', '+/ ', 'how sure', 'sure to', 'standard deviation', 'std'],
  lid: ['lid at', 'lid', 'lid angle', 'opening', 'opening angle'],
  use: ['use', 'used', 'in use', 'on'],
  name: ['name', 'note', 'remark', 'called'],
};
const MEANING = new Map(Object.entries(WORDS).flatMap(([column, words]) => words.map((w) => [w, column as Column])));
const UNIT_AT_END =
  /^(.*?)\s*(?:[([]\s*([^)\]]+?)\s*[)\]]|(?:,|\bin\b)\s*(mm|cm|m|inch|inches|in|ft|deg|degrees|°)|\s(mm|cm|inch|inches|deg|degrees|°))$/i;

/** The heading of a table of readings in plain words, or null where the first line is none. */
export function readHeading(cells: readonly string[]): Heading | null {
  const units: Partial<Record<Column, string>> = {};
  const words: string[] = [];
  const ignored: string[] = [];
  const columns = cells.map((cell) => {
    const unit = UNIT_AT_END.exec(cell.trim());
    const whole = plainly(cell);
    const plain = MEANING.has(whole) || !unit ? whole : plainly(unit[1]!);
    words.push(plain);
    const column = MEANING.get(plain) ?? null;
    if (column && unit && plain !== whole) units[column] = unit[2] ?? unit[3] ?? unit[4]!;
    if (!column && cell.trim() !== '') ignored.push(cell.trim());
    return column;
  });
  const known = columns.filter((c) => c !== null).length;
  const numbers = cells.some((c) => /^\s*[±+-]?\d/.test(c));
  if (known < 2 || numbers) return null;
  // words of one kind's own may share a column with others': "point, line from, line to"
  return { columns: spread(columns), words, units, ignored };
}

/** Point columns that would fall on one another take the next free place, in their order. */
function spread(columns: readonly (Column | null)[]): (Column | null)[] {
  const points = POINT_COLUMNS as readonly string[];
  const taken = new Set<string>();
  return columns.map((c) => {
    if (c === null || !points.includes(c)) return c;
    const free = taken.has(c) ? POINT_COLUMNS.find((p) => !taken.has(p)) : (c as (typeof POINT_COLUMNS)[number]);
    if (free === undefined) return null;
    taken.add(free);
    return free;
  });
}
