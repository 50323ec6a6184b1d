import { useState } from 'react';
import { attempt, fail, wordsOf } from '../../core/error';
import { type Dimension, evaluateQuantity, formatEntry, shownUnit } from '../../core/quantity';
import { useBench } from '../state/use-bench';
import { whole } from './whole';

/** A quantity typed for a tool, outside the job: taken on Enter and when the field is left; empty gives null. */
export function Typed({
  label,
  shown = label,
  value,
  dimension,
  onValue,
  autoFocus,
  sign,
  over0 = false,
  assumed = false,
}: {
  label: string;
  /** Shorter words where the place around it says the rest. */
  shown?: string;
  value: number | null;
  dimension: Dimension;
  onValue(v: number | null): void;
  autoFocus?: boolean;
  /** Unit shown where the dimension has none. */
  sign?: string;
  /** It must be more than nothing, and an emptied field goes back to what it held. */
  over0?: boolean;
  /** Nobody has stated the value. */
  assumed?: boolean;
}): React.JSX.Element {
  const units = useBench((s) => s.units);
  const [text, setText] = useState<string | null>(null);
  const [wrong, setWrong] = useState('');
  const unit = shownUnit(dimension, units);
  const commit = (): void => {
    if (text === null) return;
    const { error } = attempt(() => {
      const read = text.trim() === '' ? null : evaluateQuantity(text, dimension, new Map(), unit.unit);
      if (over0 && read !== null && !(read > 0)) fail('it must be more than nothing', [], 'Type it again.');
      setText(null);
      if (read !== null || !over0) onValue(read);
    });
    setWrong(error ? wordsOf(error) : '');
  };
  return (
    <div className="field">
      <label>
        {shown}
        <span className="entry">
          <input
            aria-label={label}
            className={assumed ? 'assumed' : undefined}
            {...whole}
            value={text ?? (value === null ? '' : formatEntry(value, dimension, units))}
            autoFocus={autoFocus}
            autoComplete="off"
            onChange={(e) => setText(e.target.value)}
            onBlur={commit}
            onKeyDown={(e) => e.key === 'Enter' && commit()}
          />
          <span className="unit">{sign ?? unit.sign}</span>
          {assumed && <span className="assumed-word">assumed</span>}
        </span>
      </label>
      {wrong && (
        <span className="wrong" role="alert">
          {wrong}
        </span>
      )}
    </div>
  );
}

/** As `Typed`, for what must be more than nothing. */
export function TypedOver0({
  onValue,
  ...rest
}: Omit<React.ComponentProps<typeof Typed>, 'onValue' | 'over0'> & { onValue(v: number): void }): React.JSX.Element {
  return <Typed {...rest} over0 onValue={(v) => v !== null && onValue(v)} />;
}
