import { useId } from 'react';
import type { ResolvedJob } from '../../../core/job';
import { type Comparison, dimensionOf } from '../../../core/prove';
import { formatQuantity, shownUnit } from '../../../core/quantity';
import { useBench } from '../../state/use-bench';
import { ReadAs, quantityWords, useEntry } from '../../ui/entry';
import { readEntry, shownText } from '../../ui/number-field';
import type { Line } from '../../../core/prove';
import { enterValue, rawValue } from './readings';

const VERDICT_WORDS = {
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

/** A comma is taken as a decimal point where it can be nothing else. */
const plain = (text: string): string =>
  (/^\s*[-+−]?\d+,\d+\s*$/.test(text) ? text.replace(',', '.') : text).replace('−', '-');

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
  const entry = useEntry({
    label: line.what,
    shown: shownText(raw, dimension),
    value: raw,
    at: line.key,
    take: (text) => enterValue(job, line, text.trim() === '' ? undefined : readEntry(plain(text), dimension)),
  });
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
          {...entry.field}
          id={id}
          className="reading"
          aria-describedby={`${id}-predicted ${id}-read ${id}-verdict`}
          onKeyDown={(e) => {
            if (e.key !== 'Enter') return entry.field.onKeyDown!(e);
            e.preventDefault();
            if (entry.commit()) goOn(e.currentTarget, e.shiftKey ? -1 : 1);
          }}
        />
        <ReadAs id={`${id}-read`} text={entry.text} words={(text) => quantityWords(plain(text), dimension)} />
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
      {entry.wrong && (
        <span className="wrong" role="alert">
          {entry.wrong}
        </span>
      )}
    </div>
  );
}
