import { useEffect, useId, useRef, useState } from 'react';
import { attempt, wordsOf } from '../../../core/error';
import type { ResolvedJob } from '../../../core/job';
import { type Comparison, dimensionOf } from '../../../core/prove';
import { formatEntry, formatQuantity, shownUnit } from '../../../core/quantity';
import { useBench } from '../../state/use-bench';
import { readEntry } from '../../ui/number-field';
import type { Line } from '../../../core/prove';
import { enterValue, rawValue } from './readings';

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
  const [text, showText] = useState<string | null>(null);
  // what is typed and not yet entered: a blur that Enter brings about must not enter it twice
  const typedText = useRef<string | null>(null);
  const setText = (next: string | null): void => {
    typedText.current = next;
    showText(next);
  };
  const [wrong, setWrong] = useState('');
  useEffect(() => {
    typedText.current = null;
    showText(null);
    setWrong('');
  }, [raw, units, line.key]);

  const commit = (): boolean => {
    const typed = typedText.current?.trim() ?? null;
    if (typed === null || typed === shown) {
      setText(null);
      setWrong('');
      return true;
    }
    // a comma is taken as a decimal point where it can be nothing else
    const plain = /^[-+−]?\d+,\d+$/.test(typed) ? typed.replace(',', '.') : typed;
    const { value: taken, error } = attempt(() =>
      enterValue(job, line, typed === '' ? undefined : readEntry(plain.replace('−', '-'), dimension)),
    );
    if (error) setWrong(wordsOf(error));
    if (!taken) return false;
    setText(null);
    setWrong('');
    return true;
  };
  const predicted = found ? found.predicted : (line.item?.predicted ?? null);
  const plusMinus = found ? found.plusMinus : (line.item?.plusMinus ?? null);
  const number = (v: number): string => formatQuantity(v, dimension, units);
  const left = line.reading?.use === false;
  const verdict = found?.verdict;
  // under its heading a hand force is told by its angle alone
  const short = line.item !== null && line.probe.what === 'hand-force';
  return (
    <div className={short ? 'line short' : 'line'} data-reading={line.key} data-verdict={verdict ?? 'open'}>
      <label htmlFor={id} title={short ? line.what : undefined}>
        {short ? (
          <>
            <span className="unseen">{line.what}</span>
            <span aria-hidden="true">
              {line.probe.strutsOff ? (line.probe.way === 'closing' ? '▼ ' : '▲ ') : ''}
              {line.probe.angleDeg}°
            </span>
          </>
        ) : (
          line.what
        )}
      </label>
      <span className="predicted" id={`${id}-predicted`}>
        {predicted === null ? 'not known' : number(predicted)}
        {plusMinus !== null && <span className="pm"> ± {number(plusMinus).replace(/ \S+$/, '')}</span>}
      </span>
      <span className="entry">
        <input
          id={id}
          className="reading"
          value={text ?? shown}
          autoComplete="off"
          spellCheck={false}
          aria-invalid={wrong !== ''}
          aria-describedby={`${id}-predicted ${id}-verdict`}
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
      <span className={`verdict ${verdict ?? ''}`} id={`${id}-verdict`}>
        {verdict ? (
          <>
            <span aria-hidden="true">{SIGN[verdict]} </span>
            {VERDICT_WORDS[verdict]}
          </>
        ) : left ? (
          'left out'
        ) : (
          ''
        )}
      </span>
      {wrong && (
        <span className="wrong" role="alert">
          {wrong}
        </span>
      )}
    </div>
  );
}
