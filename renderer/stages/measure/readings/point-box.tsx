import { useId, useState } from 'react';
import type { Job } from '../../../../core/job';
import { matchPoints, pointLabels, pointNamed } from '../../../../core/survey';

interface Props {
  readonly cell: string;
  /** As a screen reader says it. */
  readonly label: string;
  readonly text: string;
  /** Taken on Enter in an empty box. */
  readonly again?: string;
  readonly points: Job['points'];
  readonly wrong: boolean;
  readonly describedBy?: string | undefined;
  onText(text: string): void;
  /** Enter: what stands in the box is meant, or what the list shows first. */
  onEnter(text: string): void;
}

/** Brings a list that opens low in the panel into sight. */
const seen = (list: HTMLUListElement | null): void => list?.scrollIntoView({ block: 'nearest' });

/** A point by the beginnings of its name's words; arrow keys choose among those that fit. */
export function PointBox(props: Props): React.JSX.Element {
  const { cell, label, text, again = '', points, wrong, describedBy, onText, onEnter } = props;
  const id = useId();
  const [open, setOpen] = useState(false);
  const [at, setAt] = useState(0);
  const labels = pointLabels(points);
  const options = matchPoints(
    text,
    points.map((p) => ({ id: p.id, name: labels.get(p.id)! })),
  );
  const settled = pointNamed(text, points) !== null;
  const shown = open && options.length > 0;
  const active = Math.min(at, options.length - 1);
  const meant = (): string => {
    if (text.trim() === '' && !(shown && at > 0)) return again;
    if (settled && !(shown && at > 0)) return text;
    return options[active]?.name ?? text;
  };
  const take = (name: string): void => {
    setOpen(false);
    setAt(0);
    onText(name);
  };
  return (
    <span className="point-box">
      <input
        role="combobox"
        aria-label={label}
        aria-expanded={shown}
        aria-controls={`${id}-list`}
        aria-autocomplete="list"
        aria-activedescendant={shown ? `${id}-${active}` : undefined}
        aria-invalid={wrong}
        aria-describedby={describedBy}
        data-cell={cell}
        value={text}
        placeholder={again}
        autoComplete="off"
        spellCheck={false}
        onFocus={(e) => e.target.select()}
        onChange={(e) => {
          onText(e.target.value);
          setAt(0);
          setOpen(e.target.value.trim() !== '');
        }}
        onBlur={() => {
          // leaving by Tab means what the list shows first; nothing typed means nothing
          if (open && text.trim() !== '' && !settled && options.length > 0) take(options[active]!.name);
          setOpen(false);
        }}
        onKeyDown={(e) => {
          if (e.key === 'ArrowDown' || (e.key === 'ArrowUp' && shown)) {
            e.preventDefault();
            e.stopPropagation();
            if (!shown) setOpen(true);
            else setAt((active + (e.key === 'ArrowDown' ? 1 : options.length - 1)) % options.length);
          } else if (e.key === 'Enter') {
            e.preventDefault();
            e.stopPropagation();
            const name = meant();
            take(name);
            onEnter(name);
          } else if (e.key === 'Escape' && shown) {
            e.stopPropagation();
            setOpen(false);
          }
        }}
      />
      {shown && (
        <ul ref={seen} className="point-list" role="listbox" id={`${id}-list`} aria-label={`Points for: ${label}`}>
          {options.map((p, i) => (
            <li
              key={p.id}
              id={`${id}-${i}`}
              role="option"
              aria-selected={i === active}
              onMouseDown={(e) => {
                e.preventDefault();
                take(p.name);
                onEnter(p.name);
              }}
            >
              {p.name}
            </li>
          ))}
        </ul>
      )}
      {open && text.trim() !== '' && options.length === 0 && <span className="wrong">No point is called so.</span>}
    </span>
  );
}
