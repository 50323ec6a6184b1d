import { useId, useState } from 'react';
import { type Job, type Path, setValue, valueAt } from '../../core/job';
import { edit } from '../state/store';
import { useBench } from '../state/use-bench';
import { useEntry } from './entry';

/** One text of the job. */
export function TextField({
  label,
  path,
  placeholder,
}: {
  label: string;
  path: Path;
  placeholder?: string;
}): React.JSX.Element {
  const id = useId();
  const raw = useBench((s) => valueAt(s.history.present, path));
  const shown = typeof raw === 'string' ? raw : '';
  const entry = useEntry({
    label,
    shown,
    value: raw,
    at: path.join('.'),
    take: (text) =>
      edit(`Set ${label.toLowerCase()}`, (job) =>
        setValue(job, { path, value: text === '' ? undefined : text.slice(0, 200) }),
      ),
  });
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <span className="entry">
        <input
          {...entry.field}
          id={id}
          name={path.join('.')}
          className="wide"
          placeholder={placeholder}
          title={shown}
        />
      </span>
    </div>
  );
}

interface ChoiceProps {
  readonly label: string;
  readonly path: Path;
  readonly options: readonly (readonly [value: string | number, words: string])[];
  readonly fallback?: string | number;
  /** What has to be in the job before the value is put there. */
  readonly ensure?: (job: Job) => Job;
}

/** One of a few values of the job. */
export function ChoiceField({ label, path, options, fallback, ensure }: ChoiceProps): React.JSX.Element {
  const id = useId();
  const raw = useBench((s) => valueAt(s.history.present, path)) ?? fallback ?? '';
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <span className="entry">
        <select
          id={id}
          name={path.join('.')}
          value={String(raw)}
          title={options.find(([value]) => value === raw)?.[1]}
          onChange={(e) => {
            const chosen = options.find(([value]) => String(value) === e.target.value);
            if (chosen)
              edit(`Set ${label.toLowerCase()}`, (job) => setValue(ensure?.(job) ?? job, { path, value: chosen[0] }));
          }}
        >
          {options.map(([value, words]) => (
            <option key={value} value={value}>
              {words}
            </option>
          ))}
        </select>
      </span>
    </div>
  );
}

/** A panel part that can be folded; open by default. */
export function Part({
  title,
  children,
  folded,
}: {
  title: string;
  children: React.ReactNode;
  folded?: boolean;
}): React.JSX.Element {
  return (
    <details className="part" open={!folded}>
      <summary>{title}</summary>
      {children}
    </details>
  );
}

/** A folded part whose content is made only while it is open: for what takes time to make. */
export function LatePart({ title, children }: { title: string; children: React.ReactNode }): React.JSX.Element {
  const [open, setOpen] = useState(false);
  return (
    <details className="part" open={open} onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>{title}</summary>
      {open && children}
    </details>
  );
}
