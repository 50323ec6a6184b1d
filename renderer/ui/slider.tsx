import { useEffect, useRef } from 'react';
import type { Job } from '../../core/job';
import { cancelDrag, dispatch, finishDrag } from '../state/store';

interface Props {
  readonly label: string;
  readonly value: number;
  readonly min: number;
  readonly max: number;
  readonly step: number;
  /** What the undo entry is called. */
  readonly name: string;
  readonly edit: (job: Job, value: number) => Job;
}

/**
 * A number of the job on a slider: a pull of the pointer, or an arrow key held, is one gesture and so one undo step. Escape
 * goes back to where it began.
 */
export function Slider({ label, value, min, max, step, name, edit }: Props): React.JSX.Element {
  const input = useRef<HTMLInputElement>(null);
  /** Where the gesture under way began; null: none is. */
  const from = useRef<number | null>(null);
  /** A pointer or a key holds the slider. */
  const held = useRef(false);
  const end = (): void => {
    held.current = false;
    if (from.current !== null) finishDrag(name);
    from.current = null;
  };
  const latest = useRef(end);
  useEffect(() => {
    latest.current = end;
  });
  useEffect(() => {
    // a value set without pointer or key, as by an aid for access, ends where it is
    const element = input.current!;
    const settled = (): void => void (held.current || latest.current());
    element.addEventListener('change', settled);
    return () => {
      element.removeEventListener('change', settled);
      latest.current();
    };
  }, []);
  return (
    <input
      ref={input}
      type="range"
      aria-label={label}
      {...{ min, max, step, value }}
      onChange={(e) => {
        const to = Number(e.target.value);
        const began = (from.current ??= value);
        dispatch({ name, step: 'gesture', edit: (job) => (to === began ? job : edit(job, to)) });
      }}
      onPointerDown={() => (held.current = true)}
      onPointerUp={end}
      onPointerCancel={end}
      onKeyDown={(e) => {
        if (e.key !== 'Escape') return void (held.current = true);
        if (from.current === null) return;
        e.stopPropagation();
        from.current = null;
        cancelDrag();
      }}
      onKeyUp={end}
      onBlur={end}
    />
  );
}
