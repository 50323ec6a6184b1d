import { useEffect, useMemo } from 'react';
import { GROUPS, groupOf, linesOf } from '../../../core/prove';
import { useProof, watchProof } from '../../state/proof';
import { useBench } from '../../state/use-bench';
import { EntryTable } from '../../ui/entry-table';
import { StageHead } from '../../ui/stage-head';
import { useAnswer } from '../answers';
import { type FitUpRow, aboutRow, fitUpColumns } from './lines';
import './prove.css';

const GROUP_WORDS: Partial<Record<(typeof GROUPS)[number], string>> = {
  'Before the strut goes in':
    'Scale and bare lid only if they can be done safely: the lid falls without its strut. ▲ opening, ▼ closing.',
};
/** Prove: the fit-up table, readings beside predictions; the chart under it shows them on the curves. */
export function ProveMiddle(): React.JSX.Element {
  const job = useBench((s) => s.resolved);
  const units = useBench((s) => s.units);
  const busy = useProof((s) => s.busy);
  const proof = useProof((s) => s.answer?.proof);
  useEffect(watchProof, []);
  const rows = useMemo(() => {
    const found = new Map(proof?.comparisons.map((c) => [c.reading.id, c]));
    return linesOf(job, proof?.plan ?? []).map((line): FitUpRow => ({
      line,
      found: found.get(line.reading?.id ?? ''),
    }));
  }, [job, proof]);
  const columns = useMemo(() => fitUpColumns(job, units), [job, units]);
  return (
    <>
      <StageHead question="Does the fitted one do what was computed?" answer={useAnswer('prove')} />
      <div className="prove-middle">
        <div className={busy ? 'pane proof-table stale' : 'pane proof-table'} data-entries>
          {GROUPS.map((group) => {
            const own = rows.filter(({ line }) => groupOf(line.probe) === group);
            return own.length === 0 ? null : (
              <section key={group} aria-label={group}>
                <h3>
                  {group}
                  <span className="columns" aria-hidden="true">
                    predicted · read
                  </span>
                </h3>
                {GROUP_WORDS[group] && <p className="hint">{GROUP_WORDS[group]}</p>}
                <EntryTable label={group} className="fit-up" columns={columns} rows={own} about={aboutRow} />
              </section>
            );
          })}
          {!proof && <p role="status">{busy ? 'Being worked out …' : ''}</p>}
          <p className="hint">
            Type down the table; Enter goes on. Hand: at the grip, square to its arm, the lid moving slowly. Positive:
            push the way it opens. Negative: hold it back or pull it shut.
          </p>
        </div>
      </div>
    </>
  );
}
