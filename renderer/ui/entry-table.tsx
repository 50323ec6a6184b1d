import './entry-table.css';
import { memo, useId, useRef, useState } from 'react';
import { attempt, wordsOf } from '../../core/error';
import { ReadAs, useEntry, useHeldForm } from './entry';

interface EntryField<Row> {
  readonly label: (row: Row, i: number) => string;
  readonly name?: (row: Row, i: number) => string;
  readonly shown: (row: Row) => string;
  /** Takes what was typed; false, or a LidwrightError, for what is not taken. */
  readonly take: (row: Row, text: string) => boolean;
  /** What a text is read as, with its unit; throws for what can't be read. The next row has no `row`. */
  readonly words?: (text: string, row?: Row) => string;
  readonly unit?: (row: Row) => string;
  /** What the field of the next row is called, and whether it may stay empty. */
  readonly next?: string;
  readonly optional?: boolean;
}

/** A column is told, or filled in. */
export interface EntryColumn<Row> {
  readonly head?: React.ReactNode;
  readonly title?: string;
  readonly className?: string | ((row: Row) => string);
  /** `field`: id of the row's first field. */
  readonly tell?: (row: Row, field: string) => React.ReactNode;
  readonly isRowHead?: boolean;
  readonly field?: EntryField<Row>;
}

interface RowFacts {
  readonly key: string;
  /** As who uses or removes it is told: "the pull at 20°". */
  readonly name: string;
  /** False: it is left out, and shown so. */
  readonly used?: boolean;
  readonly attributes?: React.ComponentProps<'tr'> & { readonly [data: `data-${string}`]: string };
}

interface NextRow {
  /** Begins the names of its fields; they come before what is told. */
  readonly name: string;
  /** Takes a whole row; false, or a LidwrightError, for what is not taken. */
  readonly add: (texts: readonly string[]) => boolean;
  /** A pasted list; false: it was none. Throws a LidwrightError for one that can't be read. */
  readonly paste?: (text: string) => boolean;
}

interface RowsProps<Row> {
  readonly columns: readonly EntryColumn<Row>[];
  readonly about: (row: Row, i: number) => RowFacts;
  readonly use?: (row: Row, on: boolean) => void;
  readonly remove?: (row: Row) => void;
}

type Events = 'ref' | 'className' | 'onKeyDown' | 'onFocus' | 'onBlur' | 'onDoubleClick';

interface Props<Row> extends RowsProps<Row>, Pick<React.ComponentProps<'table'>, Events> {
  readonly label: string;
  readonly rows: readonly Row[];
  readonly next?: NextRow;
  /** A grid, whose cells take the focus: the one that Tab comes to. */
  readonly stop?: { readonly key: string; readonly column: number };
  /** What stands in place of a row that is open for typing. */
  readonly open?: (row: Row, i: number) => React.JSX.Element | false | null;
}

const focusOn = (field: HTMLInputElement | null | undefined): void => {
  field?.focus();
  field?.select();
};

/** To the field above or below in the same column; below the last row lies the next one. */
function step(from: HTMLElement, by: 1 | -1): void {
  const all = (from.closest('[data-entries]') ?? from.closest('table')!).querySelectorAll<HTMLInputElement>(
    `[data-field="${from.dataset['field']}"]`,
  );
  focusOn(all[[...all].indexOf(from as HTMLInputElement) + by]);
}

interface CellProps<Row> {
  readonly field: EntryField<Row>;
  readonly row: Row;
  readonly i: number;
  readonly column: number;
  readonly id: string;
  readonly at: string;
  readonly describedBy: string;
}

/** A field of a row: taken on Enter or on leaving it, left as it was on Esc; Enter and arrow keys go up and down. */
function Cell<Row>({ field, row, i, column, id, at, describedBy }: CellProps<Row>): React.JSX.Element {
  const { words } = field;
  const [label, shown] = [field.label(row, i), field.shown(row)];
  const entry = useEntry({ label, shown, value: shown, at, take: (text) => field.take(row, text) });
  return (
    <>
      <span className="entry">
        <input
          {...entry.field}
          id={id}
          aria-label={label}
          aria-describedby={`${id}-read ${describedBy}`}
          name={field.name?.(row, i)}
          data-field={column}
          onFocus={(e) => e.target.select()}
          onKeyDown={(e) => {
            if (e.key !== 'Enter' && e.key !== 'ArrowDown' && e.key !== 'ArrowUp') return entry.field.onKeyDown!(e);
            e.preventDefault();
            if (entry.commit()) step(e.currentTarget, e.key === 'ArrowUp' || e.shiftKey ? -1 : 1);
          }}
        />
        {words && <ReadAs id={`${id}-read`} text={entry.text} words={(text) => words(text, row)} />}
        {field.unit && <span className="unit">{field.unit(row)}</span>}
      </span>
      {entry.wrong && (
        <span className="wrong" role="alert">
          {entry.wrong}
        </span>
      )}
    </>
  );
}

interface RowProps<Row> extends RowsProps<Row> {
  readonly row: Row;
  readonly i: number;
  /** Column of a grid that Tab comes to; −1: in another row. */
  readonly stop: number | undefined;
}

/** Made anew only when its row or its columns are others. */
const EntryRow = memo(function EntryRow<Row>(props: RowProps<Row>): React.JSX.Element {
  const { columns, row, i, stop, about, use, remove } = props;
  const id = useId();
  const { key, name, used = true, attributes } = about(row, i);
  const stops = (k: number) => stop !== undefined && { 'data-column': k, tabIndex: stop === k ? 0 : -1 };
  const before = use ? 1 : 0;
  const idOf = (k: number): string => `${id}-${k}`;
  const told = columns.flatMap((c, k) => (c.tell && !c.isRowHead ? [idOf(k)] : [])).join(' ');
  return (
    <tr className={used ? '' : 'left-out'} {...attributes}>
      {use && (
        <td>
          <input
            type="checkbox"
            {...stops(0)}
            aria-label={`Use ${name}`}
            checked={used}
            onChange={(e) => use(row, e.target.checked)}
          />
        </td>
      )}
      {columns.map(({ field, tell, isRowHead, className }, k) => {
        const Tag = isRowHead ? 'th' : 'td';
        return field ? (
          <td key={k} className="filled">
            <Cell {...{ field, row, i }} column={k} id={idOf(k)} at={key} describedBy={told} />
          </td>
        ) : (
          <Tag
            key={k}
            id={idOf(k)}
            scope={isRowHead ? 'row' : undefined}
            className={typeof className === 'function' ? className(row) : className}
            {...stops(k + before)}
          >
            {tell?.(row, idOf(columns.findIndex((c) => c.field)))}
          </Tag>
        );
      })}
      {remove && (
        <td>
          <button
            type="button"
            className="link"
            {...stops(columns.length + before)}
            aria-label={`Remove ${name}`}
            onClick={() => remove(row)}
          >
            ×
          </button>
        </td>
      )}
    </tr>
  );
}) as <Row>(props: RowProps<Row>) => React.JSX.Element;

/** The row for the next one: Enter goes on to the next field, and from the last one to the next row. */
function NextFields<Row>({ columns, name, add, paste }: NextRow & Pick<Props<Row>, 'columns'>): React.JSX.Element {
  const id = useId();
  const blank = columns.map(() => '');
  const [texts, setTexts] = useState<readonly string[]>(blank);
  const [wrong, setWrong] = useState('');
  const line = useRef<HTMLTableRowElement>(null);
  const started = texts.some((t) => t.trim() !== '');
  const missing = (): number =>
    columns.findIndex(({ field }, k) => field && !field.optional && texts[k]!.trim() === '');
  const go = (k: number): void => focusOn(line.current?.querySelector<HTMLInputElement>(`[data-field="${k}"]`));
  const commit = (): boolean => {
    const gap = missing();
    if (gap >= 0) {
      go(gap);
      return false;
    }
    const { value: added, error } = attempt(() => add(texts));
    setWrong(error ? wordsOf(error) : '');
    if (added) setTexts(blank);
    return added ?? false;
  };
  const first = useHeldForm(`${columns[0]!.field!.next}, next reading`, !started, commit);
  return (
    <tr
      ref={line}
      className="next"
      onBlur={(e) => {
        if (started && missing() < 0 && !e.currentTarget.contains(e.relatedTarget)) commit();
      }}
    >
      <td></td>
      {columns.map(({ field }, k) => (
        <td key={k} className={field && 'filled'}>
          {field && (
            <span className="entry">
              <input
                ref={k === 0 ? first : undefined}
                aria-describedby={`${id}-${k}`}
                aria-label={`${field.next}, next reading`}
                data-field={k}
                name={`${name}.new.${k}`}
                value={texts[k]}
                placeholder={k === 0 ? 'next' : ''}
                autoComplete="off"
                spellCheck={false}
                onChange={(e) => setTexts(texts.map((t, j) => (j === k ? e.target.value : t)))}
                onPaste={(e) => {
                  if (!paste) return;
                  const { value: taken, error } = attempt(() => paste(e.clipboardData.getData('text')));
                  if (taken || error) e.preventDefault();
                  setWrong(error ? wordsOf(error) : '');
                }}
                onKeyDown={(e) => {
                  if (e.key === 'Enter') {
                    e.preventDefault();
                    if (columns[k + 1]?.field) go(k + 1);
                    else if (commit()) go(0);
                  } else if (e.key === 'ArrowUp') {
                    e.preventDefault();
                    step(e.currentTarget, -1);
                  } else if (e.key === 'Escape' && started) {
                    setTexts(blank);
                    setWrong('');
                    e.stopPropagation();
                  }
                }}
              />
              {field.words && <ReadAs id={`${id}-${k}`} text={texts[k]!} words={field.words} />}
            </span>
          )}
        </td>
      ))}
      <td className="filled">
        {wrong && (
          <span className="wrong" role="alert">
            {wrong}
          </span>
        )}
      </td>
    </tr>
  );
}

/** A table that is filled in: a row each, which can be left out or removed, told cells beside fields, and the next row. */
export function EntryTable<Row>(props: Props<Row>): React.JSX.Element {
  const { label, columns, rows, about, use, remove, next, stop, open, ...table } = props;
  const unseen = (head: string): EntryColumn<Row> => ({ head: <span className="unseen">{head}</span> });
  return (
    <table className="entries" aria-label={label} role={stop && 'grid'} {...table}>
      {columns.some((c) => c.head !== undefined) && (
        <thead>
          <tr>
            {[...(use ? [unseen('Use')] : []), ...columns, ...(remove ? [unseen('Remove')] : [])].map((c, k) => (
              <th key={k} scope="col" title={c.title}>
                {c.head}
              </th>
            ))}
          </tr>
        </thead>
      )}
      <tbody>
        {rows.map((row, i) => {
          const { key, attributes } = about(row, i);
          const opened = open?.(row, i);
          return opened ? (
            <tr key={key} {...attributes} className="editing">
              <td>{opened}</td>
            </tr>
          ) : (
            <EntryRow
              key={key}
              {...{ columns, row, i, about, use, remove }}
              stop={stop && (stop.key === key ? stop.column : -1)}
            />
          );
        })}
        {next && <NextFields columns={columns} {...next} />}
      </tbody>
    </table>
  );
}
