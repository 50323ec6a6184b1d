import { attempt, wordsOf } from '../../../core/error';
import { useId, useRef, useState } from 'react';
import { ReadAs, useHeldForm } from '../../ui/entry';
import { goToCell, stepRow } from './entry-cell';

interface Props {
  readonly columns: readonly {
    readonly label: string;
    readonly optional?: boolean;
    /** What a text is read as, with its unit. */
    readonly words: (text: string) => string;
  }[];
  readonly rows: number;
  readonly name: string;
  /** Cells of the table before and after the fields. */
  readonly before: number;
  readonly after: number;
  /** Takes a whole row; throws a LidwrightError for what can't be read. */
  readonly add: (texts: readonly string[]) => void;
  readonly say: (wrong: string) => void;
  /** A pasted list; returns whether it was one. */
  readonly paste?: (text: string) => boolean;
}

/** The row for the next reading: Enter goes on to the next field, and from the last one to the next reading. */
export function NewRow({ columns, rows, name, before, after, add, say, paste }: Props): React.JSX.Element {
  const id = useId();
  const blank = columns.map(() => '');
  const [texts, setTexts] = useState<readonly string[]>(blank);
  const row = useRef<HTMLTableRowElement>(null);
  const missing = (): number => columns.findIndex((c, k) => !c.optional && texts[k]!.trim() === '');
  const started = texts.some((t) => t.trim() !== '');
  const commit = (): boolean => {
    const gap = missing();
    if (gap >= 0) {
      if (row.current) goToCell(row.current, `new:${gap}`);
      return false;
    }
    const { error } = attempt(() => add(texts));
    say(error ? wordsOf(error) : '');
    if (!error) setTexts(blank);
    return !error;
  };
  const first = useHeldForm(`${columns[0]!.label}, next reading`, !started, commit);
  return (
    <tr
      ref={row}
      className="next"
      onBlur={(e) => {
        if (started && missing() < 0 && !e.currentTarget.contains(e.relatedTarget)) commit();
      }}
    >
      {before > 0 && <td colSpan={before}></td>}
      {columns.map((c, k) => (
        <td key={c.label}>
          <span className="entry-cell">
            <input
              ref={k === 0 ? first : undefined}
              aria-describedby={`${id}-${k}`}
              aria-label={`${c.label}, next reading`}
              data-cell={`new:${k}`}
              name={`${name}.new.${k}`}
              value={texts[k]}
              placeholder={k === 0 ? 'next' : ''}
              autoComplete="off"
              spellCheck={false}
              onChange={(e) => setTexts(texts.map((t, i) => (i === k ? e.target.value : t)))}
              onPaste={(e) => {
                if (paste?.(e.clipboardData.getData('text'))) e.preventDefault();
              }}
              onKeyDown={(e) => {
                if (e.key === 'Enter') {
                  e.preventDefault();
                  if (k < columns.length - 1) goToCell(e.currentTarget, `new:${k + 1}`);
                  else if (commit()) goToCell(e.currentTarget, 'new:0');
                } else if (e.key === 'ArrowUp') {
                  e.preventDefault();
                  stepRow(e.currentTarget, rows, -1);
                } else if (e.key === 'Escape' && started) {
                  setTexts(blank);
                  say('');
                  e.stopPropagation();
                }
              }}
            />
            <ReadAs id={`${id}-${k}`} text={texts[k]!} words={c.words} />
          </span>
        </td>
      ))}
      {after > 0 && <td colSpan={after}></td>}
    </tr>
  );
}
