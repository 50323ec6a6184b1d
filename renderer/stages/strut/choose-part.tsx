import { useEffect, useRef, useState } from 'react';
import { fitEntry, meritWords, refusalWords } from '../../../core/choose';
import { demandOf } from '../../../core/demands';
import { formatQuantity } from '../../../core/quantity';
import { exportList } from '../../../core/strut';
import { choose, stopChoosing, useChooser } from '../../state/chooser';
import { exportFile } from '../../state/files';
import { edit } from '../../state/store';
import { dropList, loadLists, useLists } from '../../state/strut-lists';
import { openList, useTables } from '../../state/tables';
import { useBench } from '../../state/use-bench';
import { Part } from '../../ui/fields';
import { ListImportStep } from './list-import';

const FIRST = 8;

/** Lists, the search through them, and one click to fit what was found. */
export function ChoosePart({ strutId }: { strutId: string }): React.JSX.Element {
  const lists = useLists();
  const [chosen, setChosen] = useState('');
  const file = useTables((t) => (t.list?.strutId === strutId ? t.list.file : null));
  const state = useChooser();
  const [all, setAll] = useState(false);
  const picker = useRef<HTMLInputElement>(null);
  const job = useBench((s) => s.resolved);
  const units = useBench((s) => s.units);
  useEffect(() => {
    void loadLists();
    return stopChoosing;
  }, []);
  const list = lists.find((l) => l.name === chosen) ?? lists[0]!;
  const mm = (v: number): string => formatQuantity(v, 'length', units, units.length === 'in' ? 2 : 0);
  const n = (v: number): string => formatQuantity(v, 'force', units);
  const { ranking } = state;
  const stale = ranking !== null && state.job !== job;
  const start = (): void => {
    setAll(false);
    void choose(list.entries, strutId);
  };
  return (
    <Part title="Choose from a list">
      <div className="field">
        <label>
          List
          <select aria-label="Strut list" value={list.name} onChange={(e) => setChosen(e.target.value)}>
            {lists.map((l) => (
              <option key={l.name} value={l.name}>
                {l.name} ({l.entries.length})
              </option>
            ))}
          </select>
        </label>
      </div>
      <div className="row">
        <button type="button" className="strong" disabled={state.share !== null} onClick={start}>
          Find struts that do it
        </button>
        {state.share !== null && (
          <>
            <progress aria-label="Search" value={state.share} max={1} />
            <button type="button" onClick={stopChoosing}>
              Stop
            </button>
          </>
        )}
        <button type="button" onClick={() => picker.current?.click()}>
          Import CSV
        </button>
        <button
          type="button"
          onClick={() =>
            void exportFile(() => ({
              name: `${list.name.replace(/[^\w -]+/g, '')}.csv`,
              type: 'text/csv',
              content: exportList(list.entries),
            }))
          }
        >
          Export
        </button>
        {!list.own && (
          <button type="button" onClick={() => void dropList(list.name)}>
            Remove list
          </button>
        )}
        <input
          ref={picker}
          type="file"
          hidden
          aria-label="Strut list to import"
          accept=".csv,.tsv,.txt,text/csv"
          onChange={(e) => {
            const f = e.target.files?.[0];
            e.target.value = '';
            if (f) openList({ file: f, strutId });
          }}
        />
      </div>
      {file && (
        <ListImportStep
          key={`${file.name} ${file.lastModified} ${file.size}`}
          file={file}
          onDone={(taken) => {
            if (taken !== null) setChosen(taken);
            openList(null);
          }}
        />
      )}
      {ranking && (
        <div className={stale ? 'ranking stale' : 'ranking'}>
          <p role="status">
            {ranking.does === 0 ? 'None' : ranking.does} of {ranking.tried} do it in every load case
            {stale ? ' — but the job has changed since: search again' : ` (${(state.tookMs / 1000).toFixed(1)} s)`}.
            {ranking.anyway.length > 0 &&
              ` With each of them fails, as now: ${ranking.anyway.map((id) => demandOf(id)?.words ?? id).join(', ')}.`}
          </p>
          <ol>
            {ranking.ranked.slice(0, all ? 200 : FIRST).map((r) => {
              const entry = state.list[r.entry]!;
              return (
                <li key={`${r.entry}:${r.forceN}`} data-candidate={entry.name}>
                  <strong>
                    {entry.name}, {n(r.forceN)}
                  </strong>{' '}
                  ({mm(entry.extendedMm)}, stroke {mm(entry.strokeMm)}, {entry.rodMm}/{entry.tubeMm})
                  <button
                    type="button"
                    onClick={() =>
                      edit(`Fit ${entry.name}`, (j) => fitEntry(j, { strut: strutId, entry, forceN: r.forceN }))
                    }
                  >
                    Fit
                  </button>
                  <details>
                    <summary>why here</summary>
                    <ul>
                      {meritWords(job, state.list, r, units).map((w) => (
                        <li key={w}>{w}</li>
                      ))}
                    </ul>
                  </details>
                </li>
              );
            })}
          </ol>
          {!all && ranking.ranked.length > FIRST && (
            <button type="button" onClick={() => setAll(true)}>
              Show more
            </button>
          )}
          {ranking.refused.length > 0 && (
            <details>
              <summary>Why not the other {ranking.refused.length}</summary>
              <ul className="refused">
                {ranking.refused.slice(0, 120).map((r) => (
                  <li key={`${r.entry}:${r.forceN}`}>
                    {state.list[r.entry]!.name}, {n(r.forceN)}: {refusalWords(state.job!, r.why, units)}
                  </li>
                ))}
              </ul>
            </details>
          )}
        </div>
      )}
      <p className="hint">
        Nothing here is anybody’s catalogue: check every number with your supplier before you order.
      </p>
    </Part>
  );
}
