import { useMemo, useState } from 'react';
import { LidwrightError } from '../../../core/error';
import {
  type ColumnMatch,
  type CsvTable,
  LIST_FIELDS,
  type ListField,
  type ListForce,
  type ListLength,
  guessColumns,
  importList,
  matchIssues,
  readCsv,
} from '../../../core/strut';
import { notify } from '../../state/store';
import { keepList } from '../../state/strut-lists';

export interface ReadList {
  readonly name: string;
  readonly table: CsvTable;
}

/** Reads a supplier's file into rows; says what is wrong and gives null when it is no table. */
export async function readListFile(file: File): Promise<ReadList | null> {
  try {
    return { name: file.name.replace(/\.[^.]+$/, ''), table: readCsv(await file.text()) };
  } catch (error) {
    if (!(error instanceof LidwrightError)) throw error;
    notify(`${file.name}: ${error.message}`, 'bad');
    return null;
  }
}

/** The step between a file and a list: which column holds what; good rows are kept, the others said row by row. */
export function ListImportStep({ file, onDone }: { file: ReadList; onDone(): void }): React.JSX.Element {
  const [match, setMatch] = useState<ColumnMatch>(() => guessColumns(file.table));
  const { issues, result } = useMemo(() => {
    const found = matchIssues(match);
    return { issues: found, result: found.length === 0 ? importList(file.table, match) : null };
  }, [file, match]);
  const width = Math.max(...file.table.rows.map((r) => r.cells.length));
  const head = file.table.rows[0]?.cells ?? [];
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
        {file.name}: {file.table.rows.length} rows. Which column holds what?
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
      {result && (
        <p role="status">
          {result.entries.length} struts read{result.errors.length > 0 ? `, ${result.errors.length} faults:` : '.'}
        </p>
      )}
      {result && result.errors.length > 0 && (
        <ul className="import-errors">
          {result.errors.slice(0, 30).map((e, i) => (
            <li key={i}>
              Line {e.line}
              {e.column === null ? '' : `, ${e.heading}`}: {e.what}. {e.advice}
            </li>
          ))}
          {result.errors.length > 30 && <li>and {result.errors.length - 30} more</li>}
        </ul>
      )}
      <div className="row">
        <button
          type="button"
          className="strong"
          disabled={!result || result.entries.length === 0}
          onClick={() => {
            if (!result) return;
            keepList(file.name, result.entries);
            notify(`${result.entries.length} struts of ${file.name} are in your library.`);
            onDone();
          }}
        >
          Take {result?.entries.length ?? 0} struts in
        </button>
        <button type="button" onClick={onDone}>
          Leave it
        </button>
      </div>
    </div>
  );
}
