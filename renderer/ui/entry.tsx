import { useEffect, useRef, useState } from 'react';
import { attempt, wordsOf } from '../../core/error';
import { resolveGivens } from '../../core/job';
import { type Dimension, evaluateQuantity, formatExact, shownUnit } from '../../core/quantity';
import { bench, notify, presentJob } from '../state/store';
import { holdField } from '../state/unentered';

interface EntrySpec {
  /** As the person is told which field it is. */
  readonly label: string;
  /** What stands in the field where nothing is typed. */
  readonly shown: string;
  /** Takes what is typed; false, or a LidwrightError, for what is not taken: it then stays in the field to be mended. */
  readonly take: (text: string) => boolean | void;
  /** What the field holds; another value from elsewhere takes the place of what is typed. */
  readonly value: unknown;
  /** What the field belongs to. */
  readonly at?: string;
  /** What is typed anew as it was is taken too. */
  readonly again?: boolean;
}

export interface Entry {
  /** What is typed and not taken. */
  readonly text: string | null;
  /** Why it can't be taken. */
  readonly wrong: string;
  /** Takes what is typed; true when nothing is left to take. */
  readonly commit: () => boolean;
  readonly revert: () => void;
  readonly field: React.ComponentProps<'input'> & { readonly 'data-settled': '' | undefined };
}

/**
 * A text that is typed, and taken on Enter, when the field is left, and before anything is saved or left; Escape gives back
 * what was there. What can't be taken stays and is held against saving.
 */
export function useEntry({ label, shown, take, value, at = '', again = false }: EntrySpec): Entry {
  const isSame = (typed: string): boolean => !again && typed.trim() === shown.trim();
  const [text, showText] = useState<string | null>(null);
  const [wrong, setWrong] = useState('');
  const input = useRef<HTMLInputElement>(null);
  // read by whoever saves, before React has drawn anew; and a blur that Enter brings about must not take it twice
  const typed = useRef<string | null>(null);
  const release = useRef<(() => void) | null>(null);
  const refused = useRef<{ readonly text: string; readonly job: unknown } | null>(null);

  const put = (next: string | null): void => {
    typed.current = next;
    showText(next);
    setWrong('');
    if (next === null || isSame(next)) {
      release.current?.();
      release.current = null;
    } else release.current ??= holdField({ label, enter: () => latest.current(), show: () => input.current?.focus() });
  };
  const commit = (): boolean => {
    const now = typed.current;
    if (now === null || isSame(now)) {
      put(null);
      return true;
    }
    // said once: not again by each who asks, until something else is typed or the job is another
    if (refused.current?.text === now && refused.current.job === presentJob()) return false;
    const { value: taken, error } = attempt(() => take(now));
    if (!error && taken !== false) {
      put(null);
      return true;
    }
    refused.current = { text: now, job: presentJob() };
    setWrong(error ? wordsOf(error) : '');
    return false;
  };
  const revert = (): void => {
    refused.current = null;
    put(null);
  };
  const latest = useRef(commit);
  useEffect(() => {
    latest.current = commit;
  });
  useEffect(
    () => put(null),
    // only another value, or another place, takes the text away
    // oxlint-disable-next-line react/exhaustive-deps
    [value],
  );
  useEffect(
    () => () => {
      if (!release.current) return;
      release.current();
      release.current = null;
      notify(`“${label}” is gone, and with it what was typed there and not taken: ${typed.current}`, 'bad');
      typed.current = null;
      showText(null);
    },
    // oxlint-disable-next-line react/exhaustive-deps
    [at],
  );

  return {
    text,
    wrong,
    commit,
    revert,
    field: {
      ref: input,
      value: text ?? shown,
      autoComplete: 'off',
      spellCheck: false,
      'aria-invalid': wrong !== '',
      'data-settled': text === null ? '' : undefined,
      onChange: (e) => put(e.target.value),
      onBlur: commit,
      onKeyDown: (e) => {
        if (e.key === 'Enter') commit();
        else if (e.key === 'Escape' && typed.current !== null) {
          revert();
          e.stopPropagation();
        }
      },
    },
  };
}

/**
 * Holds what is typed into a form whose button takes it: `empty` says that there is nothing to take, `enter` whether it
 * was taken.
 */
export function useHeldForm(
  label: string,
  empty: boolean,
  enter: () => boolean = () => false,
): React.RefObject<HTMLInputElement | null> {
  const input = useRef<HTMLInputElement>(null);
  const latest = useRef(enter);
  useEffect(() => {
    latest.current = enter;
  });
  useEffect(
    () => (empty ? undefined : holdField({ label, enter: () => latest.current(), show: () => input.current?.focus() })),
    [label, empty],
  );
  return input;
}

/** A text as the quantity it is read as, with its unit. Throws a LidwrightError. */
export function quantityWords(text: string, dimension: Dimension): string {
  const { units } = bench.getState();
  const value = evaluateQuantity(text, dimension, resolveGivens(presentJob()), shownUnit(dimension, units).unit);
  return formatExact(value, dimension, units);
}

/** A number that says itself how it is read. */
const PLAIN = /^\s*[-+−]?(\d+\.?\d*|\.\d+)?\s*$/;

/**
 * What a typed text is read as, beside its field while it is typed: an expression, a fraction, another unit. It lies over
 * what is below, so that nothing moves.
 * @param words makes the words from the text; what can't be read has none
 */
export function ReadAs({
  id,
  text,
  words,
}: {
  id: string;
  text: string | null;
  words: (text: string) => string;
}): React.JSX.Element {
  const read = text === null || PLAIN.test(text) ? null : attempt(() => words(text)).value;
  return (
    <span className="read-as" id={id} aria-live="polite">
      {read === null ? '' : `= ${read}`}
    </span>
  );
}
