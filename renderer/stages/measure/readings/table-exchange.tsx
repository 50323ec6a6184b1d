import { useRef, useState } from 'react';
import { type ParsedReadings, formatReadings, parseReadings, addObservations } from '../../../../core/survey';
import { exportFile } from '../../../state/files';
import { bench, edit, notify, presentJob } from '../../../state/store';
import { useBench } from '../../../state/use-bench';

/** As many as a job file holds. */
const MOST_READINGS = 500;

/** Takes the good lines of a table in, in one step; gives what came of it. */
export function takeTable(text: string): ParsedReadings {
  const parsed = parseReadings(text, presentJob());
  const count = presentJob().observations?.length ?? 0;
  if (count + parsed.readings.length > MOST_READINGS) {
    notify(`a job holds ${MOST_READINGS} readings at most; this would make ${count + parsed.readings.length}.`, 'bad');
    return { readings: [], problems: [], rest: text, ignored: [] };
  }
  if (parsed.readings.length > 0) {
    edit(`Take ${parsed.readings.length} readings in`, (job) =>
      addObservations(job, { observations: parsed.readings }),
    );
    notify(`${parsed.readings.length} ${parsed.readings.length === 1 ? 'reading' : 'readings'} taken in.`);
  }
  return parsed;
}

/** A table of readings is never so large, bytes. */
const LARGEST_TABLE = 2_000_000;

const fileStem = (): string => bench.getState().file.name.replace(/\.[^.]+$/, '') || 'job';

/** Readings from and for a spreadsheet. */
export function TableExchange({
  came,
  onCame,
}: {
  came: ParsedReadings | null;
  onCame(parsed: ParsedReadings | null): void;
}): React.JSX.Element {
  const count = useBench((s) => s.history.present.observations?.length ?? 0);
  const [typed, setTyped] = useState('');
  const [unfolded, setUnfolded] = useState(false);
  const troubled = came !== null && came.problems.length > 0;
  const picker = useRef<HTMLInputElement>(null);
  const text = came?.rest || typed;
  const put = (next: string): void => {
    setTyped(next);
    onCame(null);
  };
  const open = async (file: File): Promise<void> => {
    if (file.size > LARGEST_TABLE) {
      notify(`${file.name} is no table of readings: it is over 2 MB. Choose another file.`, 'bad');
      return;
    }
    try {
      setTyped('');
      onCame(takeTable(await file.text()));
    } catch {
      notify(`${file.name} could not be read. Choose it again.`, 'bad');
    }
  };
  return (
    <details className="item exchange" open={unfolded || troubled} onToggle={(e) => setUnfolded(e.currentTarget.open)}>
      <summary>From and to a spreadsheet</summary>
      <p className="hint">
        Copy the cells there and paste them here: kind, points, value; with a heading such as “kind, from, to, value, ±,
        lid at”, or in that order without one.
      </p>
      <textarea
        aria-label="Readings pasted from a spreadsheet"
        rows={5}
        spellCheck={false}
        value={text}
        onChange={(e) => put(e.target.value)}
      />
      <div className="row">
        <button
          type="button"
          disabled={text.trim() === ''}
          onClick={() => {
            setTyped('');
            onCame(takeTable(text));
          }}
        >
          Take them in
        </button>
        <button type="button" onClick={() => picker.current?.click()}>
          Open a table
        </button>
        <input
          ref={picker}
          type="file"
          hidden
          aria-label="Table of readings to open"
          accept=".csv,.tsv,.txt,text/csv,text/plain"
          onChange={(e) => {
            const file = e.target.files?.[0];
            e.target.value = '';
            if (file) void open(file);
          }}
        />
        <button
          type="button"
          disabled={count === 0}
          onClick={() =>
            void exportFile(() => ({
              name: `${fileStem()}-readings.csv`,
              type: 'text/csv',
              content: formatReadings(presentJob()),
            }))
          }
        >
          Export as a table
        </button>
      </div>
      {troubled && (
        <div className="trouble" role="alert">
          {came.problems.length} {came.problems.length === 1 ? 'line was' : 'lines were'} not taken and{' '}
          {came.problems.length === 1 ? 'stands' : 'stand'} above still. Put right what is wrong, and take them in
          again.
          <ul>
            {came.problems.map((p) => (
              <li key={p.line}>
                Line {p.line}: {p.what}. {p.advice}
              </li>
            ))}
          </ul>
        </div>
      )}
      {came && came.ignored.length > 0 && (
        <p className="hint">Left out, for its heading is not known: {came.ignored.map((h) => `“${h}”`).join(', ')}.</p>
      )}
      {came && came.problems.length === 0 && came.readings.length === 0 && came.rest === '' && (
        <p className="hint">There is no line in it.</p>
      )}
    </details>
  );
}
