import { useRef } from 'react';
import { meritWords } from '../../../core/choose';
import { demandOf } from '../../../core/demands';
import { formatQuantity } from '../../../core/quantity';
import { exportList } from '../../../core/strut';
import { choose, chooseList, fitFound, stopChoosing, useChooser } from '../../state/chooser';
import { exportFile } from '../../state/files';
import { dropList, useLists } from '../../state/strut-lists';
import { openList, useTables } from '../../state/tables';
import { useBench } from '../../state/use-bench';
import { Part } from '../../ui/fields';
import { useChoice, usePicked } from './choosing';
import { ListImportStep } from './list-import';

/** The strut of the list that is looked at, what it gives, and one press to put it on. */
export function BestPart(): React.JSX.Element | null {
  const { strutId, list } = useChoice();
  const state = useChooser();
  const picked = usePicked();
  const job = useBench((s) => s.resolved);
  const units = useBench((s) => s.units);
  if (strutId === null) return null;
  const { ranking } = state;
  const stale = ranking !== null && (state.job !== job || state.share !== null);
  const of = picked && ranking?.ranked.find((r) => r.entry === picked.entry && r.forceN === picked.forceN);
  const entry = of && state.list[of.entry]!;
  const mm = (v: number): string => formatQuantity(v, 'length', units, units.length === 'in' ? 2 : 0);
  const n = (v: number): string => formatQuantity(v, 'force', units);
  return (
    <Part title={of && of !== ranking?.ranked[0] ? 'Chosen in the list' : 'Best of the list'}>
      <div className="row search">
        <button
          type="button"
          className={of ? undefined : 'strong'}
          disabled={state.share !== null}
          onClick={() => void choose(list.entries, strutId)}
        >
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
      </div>
      <div className={stale ? 'ranking stale' : 'ranking'}>
        {of && entry && (
          <div className="best" data-best={entry.name} data-force={of.forceN}>
            <p className="best-name">
              {mm(entry.extendedMm)} long, {mm(entry.strokeMm)} stroke, rod {mm(entry.rodMm)}
              <br />
              <b>{n(of.forceN)}</b>
            </p>
            <ul>
              {meritWords(job, state.list, of, units).map((w) => (
                <li key={w}>{w}</li>
              ))}
            </ul>
            <button
              type="button"
              className="strong"
              disabled={stale}
              onClick={() => fitFound(entry, of.forceN, strutId)}
            >
              Use this strut
            </button>
          </div>
        )}
        {ranking && (
          <p role="status">
            {ranking.does === 0 ? 'None' : ranking.does} of {ranking.tried} do it in every load case
            {state.share !== null
              ? '; searching again'
              : stale
                ? ', but the job has changed since: search again'
                : ` (${(state.tookMs / 1000).toFixed(1)} s)`}
            .
            {ranking.anyway.length > 0 &&
              ` With each of them fails, as now: ${ranking.anyway.map((id) => demandOf(id)?.words ?? id).join(', ')}.`}
          </p>
        )}
      </div>
      <p className="hint">
        Nothing here is anybody’s catalogue: check every number with your supplier before you order.
      </p>
    </Part>
  );
}

/** Lists to choose from: ours, and those that were imported. */
export function ListPart(): React.JSX.Element | null {
  const { strutId, list } = useChoice();
  const lists = useLists();
  const file = useTables((t) => t.list?.file ?? null);
  const picker = useRef<HTMLInputElement>(null);
  if (strutId === null) return null;
  return (
    <Part title="Struts to choose from">
      <div className="field">
        <label>
          List
          <select aria-label="Strut list" value={list.name} onChange={(e) => chooseList(e.target.value)}>
            {lists.map((l) => (
              <option key={l.name} value={l.name}>
                {l.name} ({l.entries.length})
              </option>
            ))}
          </select>
        </label>
      </div>
      <div className="row">
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
            if (taken !== null) chooseList(taken);
            openList(null);
          }}
        />
      )}
    </Part>
  );
}
