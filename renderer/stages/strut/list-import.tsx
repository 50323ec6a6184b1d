import { useEffect, useState } from 'react';
import {
  type ColumnMatch,
  LIST_FIELDS,
  type ListField,
  type ListForce,
  type ListLength,
  matchIssues,
} from '../../../core/strut';
import { keepList } from '../../state/strut-lists';
import { type ListAnswer, readList } from '../../state/tables';

const SEPARATOR_WORDS = { ',': 'commas', ';': 'semicolons', '\t': 'tabs' } as const;

/** What a file holds by a match, as soon as it is read; what can't be read is said, and ends it. */
function useListFile(file: File, onDone: () => void) {
  const [read, setRead] = useState<ListAnswer | null>(null);
  /** What the person chose; null: as it seems. */
  const [wish, setMatch] = useState<ColumnMatch | null>(null);
  const [share, setShare] = useState<number | null>(0);
  useEffect(() => {
    if (wish && matchIssues(wish).length > 0) return;
    const reading = new AbortController();
    setShare(0);
    void readList(file, wish, { signal: reading.signal, progress: setShare }).then((answer) => {
      if (reading.signal.aborted) return;
      if (!answer) return onDone();
      setRead(answer);
      setShare(null);
    });
    return () => reading.abort();
    // what is done at the end is no reason to read again
    // oxlint-disable-next-line react/exhaustive-deps
  }, [file, wish]);
  const match = wish ?? read?.match ?? null;
  const issues = match ? matchIssues(match) : [];
  return { read, match, setMatch, issues, share: issues.length > 0 ? null : share };
}

/** The step between a file and a list: which column holds what; good rows are kept, the others said row by row. */
export function ListImportStep({
  file,
  onDone,
}: {
  file: File;
  onDone(taken: string | null): void;
}): React.JSX.Element {
  const name = file.name.replace(/\.[^.]+$/, '');
  const { read, match, setMatch, issues, share } = useListFile(file, () => onDone(null));
  const reading = share !== null && (
    <div className="row">
      <progress aria-label="Reading the list" value={share} max={1} />
      <button type="button" onClick={() => onDone(null)}>
        Cancel
      </button>
    </div>
  );
  if (!read || !match)
    return (
      <div className="ask import" role="group" aria-label="Match the columns">
        <p>{file.name} is being read.</p>
        {reading}
      </div>
    );
  const { width, head } = read;
  const result = issues.length === 0 && share === null ? read : null;
  const columnName = (i: number): string => (match.hasHeader && head[i] ? head[i] : `column ${i + 1}`);
  const setColumn = (field: ListField, value: string): void => {
    const columns: Partial<Record<ListField, number>> = { ...match.columns };
    if (value === '') delete columns[field];
    else columns[field] = Number(value);
    setMatch({ ...match, columns });
  };
  return (
    <div className="ask import" role="group" aria-label="Match the columns">
      <p>
        {name}: {read.rows} rows, read as {read.encoding} with {SEPARATOR_WORDS[read.separator]} between the cells.
        Which column holds what?
      </p>
      {(Object.keys(LIST_FIELDS) as ListField[]).map((field) => (
        <div className="field" key={field}>
          <label>
            {LIST_FIELDS[field].words}
            {LIST_FIELDS[field].needed ? ' (needed)' : ''}
            <select
              aria-label={`Column for ${LIST_FIELDS[field].words}`}
              value={match.columns[field] ?? ''}
              onChange={(e) => setColumn(field, e.target.value)}
            >
              <option value="">—</option>
              {Array.from({ length: width }, (_, i) => (
                <option key={i} value={i}>
                  {columnName(i)}
                </option>
              ))}
            </select>
          </label>
        </div>
      ))}
      <div className="row">
        <label className="check">
          lengths{' '}
          <select
            aria-label="Lengths in the file"
            value={match.lengthUnit}
            onChange={(e) => setMatch({ ...match, lengthUnit: e.target.value as ListLength })}
          >
            <option>mm</option>
            <option>cm</option>
            <option>in</option>
          </select>
        </label>
        <label className="check">
          forces{' '}
          <select
            aria-label="Forces in the file"
            value={match.forceUnit}
            onChange={(e) => setMatch({ ...match, forceUnit: e.target.value as ListForce })}
          >
            <option>N</option>
            <option>kgf</option>
            <option>lbf</option>
          </select>
        </label>
        <label className="check">
          decimal{' '}
          <select
            aria-label="Decimal mark in the file"
            value={match.decimal}
            onChange={(e) => setMatch({ ...match, decimal: e.target.value as '.' | ',' })}
          >
            <option value=".">point</option>
            <option value=",">comma</option>
          </select>
        </label>
        <label className="check">
          <input
            type="checkbox"
            checked={match.hasHeader}
            onChange={(e) => setMatch({ ...match, hasHeader: e.target.checked })}
          />{' '}
          first row is a heading
        </label>
      </div>
      {issues.map((issue) => (
        <p key={issue.what} className="wrong" role="alert">
          {issue.what}. {issue.advice}
        </p>
      ))}
      {reading}
      {result && (
        <p role="status">
          {result.entries.length} struts read{result.faults > 0 ? `, ${result.faults} faults:` : '.'}
        </p>
      )}
      {result && result.errors.length > 0 && (
        <ul className="import-errors">
          {result.errors.map((e, i) => (
            <li key={i}>
              Line {e.line}
              {e.column === null ? '' : `, ${e.heading}`}: {e.what}. {e.advice}
            </li>
          ))}
          {result.faults > result.errors.length && <li>and {result.faults - result.errors.length} more</li>}
        </ul>
      )}
      <div className="row">
        <button
          type="button"
          className="strong"
          disabled={!result || result.entries.length === 0}
          onClick={() => {
            if (!result) return;
            void keepList(name, result.entries);
            onDone(name);
          }}
        >
          Take {result?.entries.length ?? 0} struts in
        </button>
        <button type="button" onClick={() => onDone(null)}>
          Cancel
        </button>
      </div>
    </div>
  );
}
