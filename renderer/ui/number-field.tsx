import { useId } from 'react';
import { type Job, type Num, type Path, isAssumed, resolveGivens, setValue, stated, valueAt } from '../../core/job';
import { type Dimension, evaluateQuantity, formatEntry, formatQuantity, namesIn, shownUnit } from '../../core/quantity';
import { bench, edit } from '../state/store';
import { useTold } from '../state/told';
import { useBench } from '../state/use-bench';
import { ReadAs, quantityWords, useEntry } from './entry';
import { whole } from './whole';

interface Props {
  readonly label: string;
  readonly path: Path;
  readonly dimension: Dimension;
  /** Shown when the key is absent: what the default is. */
  readonly fallback?: number;
  readonly compact?: boolean;
  /** What has to be in the job before the value is put there. */
  readonly ensure?: (job: Job) => Job;
  /** True: emptied, the key is taken away again. */
  readonly optional?: boolean;
  /** How the value is put into the job, where that changes more than itself. */
  readonly put?: (job: Job, value: Num) => Job;
}

/** What stands in a field for a raw value of the file. */
export function shownText(raw: unknown, dimension: Dimension, fallback?: number): string {
  const { units } = bench.getState();
  if (typeof raw === 'number') return formatEntry(raw, dimension, units);
  if (typeof raw === 'object' && raw !== null && 'given' in raw) return String(raw.given);
  if (typeof raw === 'object' && raw !== null && 'expression' in raw) return String(raw.expression);
  return fallback === undefined ? '' : formatEntry(fallback, dimension, units);
}

/** A typed text as it goes into the file: a number, or an expression when it uses givens. Throws a LidwrightError. */
export function readEntry(text: string, dimension: Dimension): Num {
  const { history, units } = bench.getState();
  const unit = shownUnit(dimension, units).unit;
  const scope = resolveGivens(history.present);
  const value = evaluateQuantity(text, dimension, scope, unit);
  const names = namesIn(text).filter((name) => scope.has(name));
  if (names.length === 0) return value;
  const only = text.trim();
  return only === names[0] ? { given: only } : { expression: only, unit };
}

/** One number of the job: takes units and expressions, one undo step a change. */
export function NumberField({
  label,
  path,
  dimension,
  fallback,
  compact,
  ensure,
  optional,
  put,
}: Props): React.JSX.Element {
  const id = useId();
  const raw = useTold((s) => valueAt(s.history.present, path));
  const units = useBench((s) => s.units);
  const resolved = useTold((s) => valueAt(s.resolved as never, path));
  const assumed = useTold((s) => isAssumed(s.history.present, path));
  const shown = shownText(raw, dimension, fallback);
  const key = path.join('.');
  const entry = useEntry({
    label,
    shown,
    value: raw,
    at: key,
    take: (text) => {
      if (text.trim() === '')
        return optional && raw !== undefined
          ? edit(`Take ${label.toLowerCase()} away`, (job) => setValue(job, { path, value: undefined }))
          : undefined;
      const value = readEntry(text, dimension);
      return edit(
        `Set ${label.toLowerCase()}`,
        (job) => put?.(job, value) ?? setValue(ensure?.(job) ?? job, { path, value }),
      );
    },
  });

  const unit = shownUnit(dimension, units).sign;
  const isExpression = typeof raw === 'object' && raw !== null;
  const taken = raw === undefined && fallback !== undefined;
  return (
    <div className={compact ? 'field compact' : 'field'}>
      <label htmlFor={id}>{label}</label>
      <span className="entry">
        <input
          {...entry.field}
          id={id}
          name={key}
          className={taken || assumed ? 'assumed' : undefined}
          title={
            assumed
              ? 'Nobody has stated this: type it, or press Enter if it is right'
              : taken
                ? 'Taken where nothing is typed'
                : undefined
          }
          aria-describedby={entry.wrong ? `${id}-wrong ${id}-read` : `${id}-read`}
          {...whole}
          onKeyDown={(e) => {
            if (e.key === 'Enter' && assumed && (entry.text ?? shown).trim() === shown.trim())
              edit(`State ${label.toLowerCase()}`, (job) => stated(job, path));
            entry.field.onKeyDown!(e);
            if (e.key === 'Enter') e.currentTarget.select();
          }}
        />
        <ReadAs id={`${id}-read`} text={entry.text} words={(text) => quantityWords(text, dimension)} />
        {!isExpression && unit && <span className="unit">{unit}</span>}
        {assumed && <span className="assumed-word">assumed</span>}
      </span>
      {isExpression && typeof resolved === 'number' && (
        <span className="worked">= {formatQuantity(resolved, dimension, units, 2)}</span>
      )}
      {entry.wrong && (
        <span className="wrong" id={`${id}-wrong`} role="alert">
          {entry.wrong}
        </span>
      )}
    </div>
  );
}
