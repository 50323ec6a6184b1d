import { useRef, useState } from 'react';
import { formatReadings } from '../../../../core/survey';
import { exportFile } from '../../../state/files';
import { bench, presentJob } from '../../../state/store';
import { cancelReadings, forgetReadings, takeReadings, useTables } from '../../../state/tables';
import { useBench } from '../../../state/use-bench';

const fileStem = (): string => bench.getState().file.name.replace(/\.[^.]+$/, '') || 'job';

/** Readings from and for a spreadsheet. */
export function TableExchange(): React.JSX.Element {
  const came = useTables((t) => t.came);
  const share = useTables((t) => t.share);
  const count = useBench((s) => s.history.present.observations?.length ?? 0);
  const [typed, setTyped] = useState('');
  const [unfolded, setUnfolded] = useState(false);
  const troubled = came !== null && came.problems.length > 0;
  const picker = useRef<HTMLInputElement>(null);
  const text = came?.rest || typed;
  const put = (next: string): void => {
    setTyped(next);
    forgetReadings();
  };
  const take = async (name: string, file: Blob): Promise<void> => {
    if (await takeReadings(name, file)) setTyped('');
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
          disabled={text.trim() === '' || share !== null}
          onClick={() => void take('what was pasted', new Blob([text]))}
        >
          Add them
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
            if (file) void take(file.name, file);
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
      {share !== null && (
        <div className="row">
          <progress aria-label="Reading the table" value={share} max={1} />
          <button type="button" onClick={cancelReadings}>
            Cancel
          </button>
        </div>
      )}
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
