import { useId } from 'react';
import { fail } from '../../core/error';
import { type Dimension, evaluateQuantity, formatEntry, formatExact, shownUnit } from '../../core/quantity';
import { useBench } from '../state/use-bench';
import { ReadAs, useEntry } from './entry';
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
  const id = useId();
  const units = useBench((s) => s.units);
  const unit = shownUnit(dimension, units);
  const read = (text: string): number => evaluateQuantity(text, dimension, new Map(), unit.unit);
  const entry = useEntry({
    label,
    shown: value === null ? '' : formatEntry(value, dimension, units),
    value,
    again: assumed,
    take: (text) => {
      const now = text.trim() === '' ? null : read(text);
      if (over0 && now !== null && !(now > 0)) fail('it must be more than nothing', [], 'Type it again.');
      if (now !== null || !over0) onValue(now);
    },
  });
  return (
    <div className="field">
      <label>
        {shown}
        <span className="entry">
          <input
            {...entry.field}
            {...whole}
            onKeyDown={(e) => {
              entry.field.onKeyDown?.(e);
              // what is typed next takes its place
              if (e.key === 'Enter') e.currentTarget.select();
            }}
            className={assumed ? 'assumed' : undefined}
            aria-label={label}
            aria-describedby={`${id}-read`}
            autoFocus={autoFocus}
          />
          <ReadAs
            id={`${id}-read`}
            text={entry.text}
            words={(text) => `${formatExact(read(text), dimension, units)}${sign ? ` ${sign}` : ''}`}
          />
          <span className="unit">{sign ?? unit.sign}</span>
          {assumed && <span className="assumed-word">assumed</span>}
        </span>
      </label>
      {entry.wrong && (
        <span className="wrong" role="alert">
          {entry.wrong}
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
