import type { Issue } from '../error';
import { MM_OF, type NEWTONS_OF } from '../quantity';
import type { Table } from '../table';

/** Units that a supplier's list may be in. */
export type ListLength = keyof typeof MM_OF;
export type ListForce = keyof typeof NEWTONS_OF;

/** What the number in a column is. */
export type Measure = 'text' | 'length' | 'force' | 'number';

/** What a column of a list can hold. */
export const LIST_FIELDS = {
  name: { words: 'Order name', measure: 'text', needed: false },
  extendedMm: { words: 'Extended length', measure: 'length', needed: false },
  compressedMm: { words: 'Compressed length', measure: 'length', needed: false },
  strokeMm: { words: 'Stroke', measure: 'length', needed: false },
  rodMm: { words: 'Rod diameter', measure: 'length', needed: true },
  tubeMm: { words: 'Tube diameter', measure: 'length', needed: true },
  forceN: { words: 'Force (one)', measure: 'force', needed: false },
  forceMinN: { words: 'Least force', measure: 'force', needed: false },
  forceMaxN: { words: 'Greatest force', measure: 'force', needed: false },
  forceStepN: { words: 'Force step', measure: 'force', needed: false },
  ratio: { words: 'Force ratio F2/F1', measure: 'number', needed: false },
  frictionN: { words: 'Friction band', measure: 'force', needed: false },
  toleranceN: { words: 'Force tolerance ±', measure: 'force', needed: false },
  endThread: { words: 'End thread', measure: 'text', needed: false },
} as const satisfies Record<string, { words: string; measure: Measure; needed: boolean }>;
export type ListField = keyof typeof LIST_FIELDS;
const FIELDS = Object.keys(LIST_FIELDS) as ListField[];

/** Which column holds what, and how its numbers are written: the step between a file and a list. */
export interface ColumnMatch {
  /** Column index from 0 of each field; absent where the list has none. */
  readonly columns: Readonly<Partial<Record<ListField, number>>>;
  readonly hasHeader: boolean;
  readonly lengthUnit: ListLength;
  readonly forceUnit: ListForce;
  readonly decimal: '.' | ',';
}

const plain = (text: string): string =>
  text
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase()
    .replace(/ø|⌀|Ø/gi, ' dia ')
    .replace(/[^a-z0-9]+/g, ' ')
    .trim();

/** Headings by field, most telling first; words of the trade in English and German. Tried on the plain heading. */
const HEADINGS: readonly (readonly [ListField, RegExp])[] = [
  ['compressedMm', /\b(compressed|closed|retracted|eingefahren)\b/],
  ['extendedMm', /\b(extended|open|installation|ausgefahren|gesamtlange|overall)\b|^(length|lange|l1|el)\b/],
  ['strokeMm', /\b(stroke|hub|travel)\b/],
  ['rodMm', /\b(rod|stange|kolbenstange)\b/],
  ['tubeMm', /\b(tube|cylinder|body|rohr|zylinder)\b/],
  ['toleranceN', /\b(tol|tolerance|toleranz)\b/],
  ['forceStepN', /\b(step|stufe|increment)\b/],
  ['frictionN', /\b(friction|reibung|fr)\b/],
  ['ratio', /\b(ratio|progression|factor|f2 f1|verhaltnis|kennung)\b/],
  [
    'forceMinN',
    /\b(force|f1|kraft|f)\b.*\b(min|minimum|least|from|von)\b|\b(min|minimum|least|lowest)\b.*\b(force|f1|kraft)\b/,
  ],
  [
    'forceMaxN',
    /\b(force|f1|kraft|f)\b.*\b(max|maximum|most|to|bis)\b|\b(max|maximum|most|greatest|highest)\b.*\b(force|f1|kraft)\b/,
  ],
  ['forceN', /\b(force|f1|kraft|newton|n|nominal)\b/],
  ['endThread', /\b(thread|gewinde|end)\b/],
  ['name', /\b(name|part|article|artikel|order|number|nr|no|code|id|item|type|typ|bezeichnung)\b/],
];

const UNIT_IN_HEADING = /[[(]\s*(mm|cm|in|inch|"|n|kgf|kg|lbf|lbs?)\s*[\])]|[_\s](mm|cm|inch|kgf|lbf)\s*$/i;
/** The unit that a word stands for; null when it is none that lists use. */
export const unitName = (text: string): ListLength | ListForce | null => {
  const t = text.trim().toLowerCase();
  if (t === 'mm' || t === 'cm') return t;
  if (t === 'in' || t === 'inch' || t === '"' || t === '″') return 'in';
  if (t === 'n') return 'N';
  if (t === 'kgf' || t === 'kp') return 'kgf';
  if (t === 'lbf' || t === 'lb' || t === 'lbs') return 'lbf';
  return null;
};
const isLength = (unit: string): unit is ListLength => unit in MM_OF;

/** What the columns of a file most likely are; the person looks it over before anything is taken in. */
export function guessColumns(table: Table): ColumnMatch {
  const head = table.rows[0]?.cells ?? [];
  const hasHeader = head.some((cell) => /[a-zäöü]{2,}/i.test(cell) && HEADINGS.some(([, r]) => r.test(plain(cell))));
  const columns: Partial<Record<ListField, number>> = {};
  let lengthUnit: ListLength = 'mm';
  let forceUnit: ListForce = 'N';
  if (hasHeader) {
    const taken = new Set<number>();
    for (const [field, pattern] of HEADINGS) {
      const i = head.findIndex((cell, k) => !taken.has(k) && pattern.test(plain(cell)));
      if (i < 0) continue;
      taken.add(i);
      columns[field] = i;
      const found = UNIT_IN_HEADING.exec(head[i]!);
      const unit = found ? unitName(found[1] ?? found[2] ?? '') : null;
      if (unit && isLength(unit)) lengthUnit = unit;
      else if (unit) forceUnit = unit as ListForce;
    }
  }
  const cells = table.rows.slice(hasHeader ? 1 : 0).flatMap((r) => r.cells);
  const commas = cells.filter((c) => /^[^,.]*\d,\d{1,2}(\D|$)/.test(c) || /\d,\d{4,}/.test(c)).length;
  const points = cells.filter((c) => /^[^,.]*\d\.\d{1,2}(\D|$)/.test(c) || /\d\.\d{4,}/.test(c)).length;
  const decimal = commas > points ? ',' : '.';
  return { columns, hasHeader, lengthUnit, forceUnit, decimal };
}

/** What keeps a match from being used, before any row is read: fields that no column holds. */
export function matchIssues(match: ColumnMatch): Issue[] {
  const { columns } = match;
  const has = (field: ListField): boolean => columns[field] !== undefined;
  const issues: Issue[] = FIELDS.filter((f) => LIST_FIELDS[f].needed && !has(f)).map((f) => ({
    what: `no column is the ${LIST_FIELDS[f].words.toLowerCase()}`,
    where: ['columns', f],
    advice: 'Choose its column.',
  }));
  if ([has('extendedMm'), has('compressedMm'), has('strokeMm')].filter(Boolean).length < 2)
    issues.push({
      what: 'two of extended length, compressed length and stroke are needed',
      where: ['columns', 'extendedMm'],
      advice: 'Choose their columns: the third follows from two.',
    });
  if (!has('forceN') && !(has('forceMinN') && has('forceMaxN')))
    issues.push({
      what: 'no column is the force',
      where: ['columns', 'forceN'],
      advice: 'Choose the column of the one force, or those of the least and the greatest.',
    });
  const seen = new Map<number, ListField>();
  for (const field of FIELDS) {
    const i = columns[field];
    if (i === undefined) continue;
    const other = seen.get(i);
    if (other)
      issues.push({
        what: `column ${i + 1} stands for two things: ${LIST_FIELDS[other].words.toLowerCase()} and ${LIST_FIELDS[field].words.toLowerCase()}`,
        where: ['columns', field],
        advice: 'Choose another column for one of them.',
      });
    seen.set(i, field);
  }
  return issues;
}
