import type { ResolvedJob } from '../../../core/job';
import { type Comparison, type Line, dimensionOf } from '../../../core/prove';
import { type ShownUnits, formatQuantity, shownUnit } from '../../../core/quantity';
import { quantityWords } from '../../ui/entry';
import { Mark } from '../../ui/mark';
import type { EntryColumn } from '../../ui/entry-table';
import { readEntry, shownText } from '../../ui/number-field';
import { enterValue, rawValue } from './readings';

const VERDICT_WORDS = {
  agrees: ['holds', 'agrees'],
  doubtful: ['watch', 'doubtful'],
  off: ['fails', 'off'],
  unknown: ['unknown', 'can’t be predicted'],
} as const;

/** A comma is taken as a decimal point where it can be nothing else. */
const plain = (text: string): string =>
  (/^\s*[-+−]?\d+,\d+\s*$/.test(text) ? text.replace(',', '.') : text).replace('−', '-');

/** A measurement of the fit-up plan with how it compares, once it is made. */
export interface FitUpRow {
  readonly line: Line;
  readonly found: Comparison | undefined;
}

const of = ({ line }: FitUpRow) => dimensionOf(line.probe.what);
/** Under its heading a hand force is told by its angle alone. */
const isShort = ({ line }: FitUpRow): boolean => line.item !== null && line.probe.what === 'hand-force';

export const aboutRow = (row: FitUpRow) => ({
  key: row.line.key,
  name: row.line.what,
  attributes: {
    className: isShort(row) ? 'line short' : 'line',
    'data-reading': row.line.key,
    'data-verdict': row.found?.verdict ?? 'open',
  },
});

/** What a measurement is, what is predicted, what was read, and how they stand to each other. */
export const fitUpColumns = (job: ResolvedJob, units: ShownUnits): readonly EntryColumn<FitUpRow>[] => [
  {
    isRowHead: true,
    tell: (row, field) => {
      const { what, probe } = row.line;
      if (!isShort(row)) return <label htmlFor={field}>{what}</label>;
      return (
        <label htmlFor={field} title={what}>
          <span className="unseen">{what}</span>
          <span aria-hidden="true">
            {probe.strutsOff ? (probe.way === 'closing' ? '▼ ' : '▲ ') : ''}
            {probe.angleDeg}°
          </span>
        </label>
      );
    },
  },
  {
    className: 'predicted',
    tell: (row) => {
      const { predicted = null, plusMinus = null } = row.found ?? row.line.item ?? {};
      const number = (v: number): string => formatQuantity(v, of(row), units);
      return (
        <>
          {predicted === null ? 'not known' : number(predicted)}
          {plusMinus !== null && <span className="pm"> ± {number(plusMinus).replace(/ \S+$/, '')}</span>}
        </>
      );
    },
  },
  {
    field: {
      label: ({ line }) => line.what,
      shown: (row) => shownText(rawValue(row.line), of(row)),
      take: (row, text) => enterValue(job, row.line, text.trim() === '' ? undefined : readEntry(plain(text), of(row))),
      words: (text, row) => quantityWords(plain(text), of(row!)),
      unit: (row) => shownUnit(of(row), units).sign,
    },
  },
  {
    className: ({ found }) => `verdict ${found?.verdict ?? ''}`,
    tell: ({ line, found }) => {
      if (!found) return line.reading?.use === false ? 'left out' : '';
      const [sign, words] = VERDICT_WORDS[found.verdict];
      return (
        <>
          <Mark state={sign} /> {words}
        </>
      );
    },
  },
];
