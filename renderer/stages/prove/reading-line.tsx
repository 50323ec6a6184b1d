import { useEffect, useId, useState } from 'react';
import { LidwrightError } from '../../../core/error';
import type { JobProofReading, ResolvedJob } from '../../../core/job';
import { type Comparison, dimensionOf } from '../../../core/prove';
import { formatEntry, formatQuantity, shownUnit } from '../../../core/quantity';
import { useBench } from '../../state/use-bench';
import { readEntry } from '../../ui/number-field';
import { type Line, enterValue, rawValue } from './readings';

export const VERDICT_WORDS = {
  agrees: 'agrees',
  doubtful: 'doubtful',
  off: 'off',
  unknown: 'can’t be predicted',
} as const;
const SIGN = { agrees: '✓', doubtful: '?', off: '✗', unknown: '–' } as const;

/** Enter goes down the table; Shift and Enter up. */
function goOn(from: HTMLInputElement, by: 1 | -1): void {
  const all = [...(from.closest('.proof-table')?.querySelectorAll<HTMLInputElement>('input.reading') ?? [])];
  const next = all[all.indexOf(from) + by];
  if (next) {
    next.focus();
    next.select();
  }
}

/** One measurement: what it is, what is predicted, what was read, and how they stand to each other. */
export function ReadingLine({
  job,
  line,
  found,
}: {
  job: ResolvedJob;
  line: Line;
  found: Comparison | undefined;
}): React.JSX.Element {
  const id = useId();
  const units = useBench((s) => s.units);
  const dimension = dimensionOf(line.probe.what);
  const raw = rawValue(line);
  const shown =
    typeof raw === 'number'
      ? formatEntry(raw, dimension, units)
      : typeof raw === 'object' && raw !== null
        ? 'given' in raw
          ? String(raw.given)
          : String((raw as { expression: string }).expression)
        : '';
  const [text, setText] = useState<string | null>(null);
  const [wrong, setWrong] = useState('');
  useEffect(() => {
    setText(null);
    setWrong('');
  }, [raw, units, line.key]);

  const commit = (): boolean => {
    const typed = text?.trim() ?? null;
    if (typed === null || typed === shown) {
      setText(null);
      setWrong('');
      return true;
    }
    try {
      // a comma is taken as a decimal point where it can be nothing else
      const plain = /^[-+−]?\d+,\d+$/.test(typed) ? typed.replace(',', '.') : typed;
      const value: JobProofReading['valueMm'] =
        typed === '' ? undefined : readEntry(plain.replace('−', '-'), dimension);
      if (!enterValue(job, line, value)) return false;
      setText(null);
      setWrong('');
      return true;
    } catch (error) {
      if (!(error instanceof LidwrightError)) throw error;
      setWrong(`${error.what}. ${error.advice}`);
      return false;
    }
  };
  const predicted = found ? found.predicted : (line.item?.predicted ?? null);
  const plusMinus = found ? found.plusMinus : (line.item?.plusMinus ?? null);
  const number = (v: number): string => formatQuantity(v, dimension, units);
  const left = line.reading?.use === false;
  const verdict = found?.verdict;
  return (
    <tr className={verdict ?? 'open'} data-reading={line.key} data-verdict={verdict ?? 'open'}>
      <th scope="row">
        <label htmlFor={id}>{line.what}</label>
        {line.optional && !line.reading && <span className="if-can"> if it can be done safely</span>}
        {wrong && (
          <span className="wrong" role="alert">
            {wrong}
          </span>
        )}
      </th>
      <td className="predicted">
        {predicted === null ? '–' : number(predicted)}
        {plusMinus !== null && <span className="pm">± {number(plusMinus)}</span>}
      </td>
      <td>
        <span className="entry">
          <input
            id={id}
            className="reading"
            value={text ?? shown}
            autoComplete="off"
            spellCheck={false}
            aria-invalid={wrong !== ''}
            onChange={(e) => setText(e.target.value)}
            onBlur={commit}
            onKeyDown={(e) => {
              if (e.key === 'Enter') {
                e.preventDefault();
                if (commit()) goOn(e.currentTarget, e.shiftKey ? -1 : 1);
              } else if (e.key === 'Escape') {
                setText(null);
                setWrong('');
                e.stopPropagation();
              }
            }}
          />
          <span className="unit">{shownUnit(dimension, units).sign}</span>
        </span>
      </td>
      <td className="verdict">
        {verdict ? (
          <span className={verdict}>
            {SIGN[verdict]} {VERDICT_WORDS[verdict]}
          </span>
        ) : left ? (
          'left out'
        ) : (
          ''
        )}
      </td>
    </tr>
  );
}
