import { useMemo, useState } from 'react';
import { type Measured, type Ranked, nearestFirst, refusalWords } from '../../../core/choose';
import { type Dimension, formatQuantity, shownUnit } from '../../../core/quantity';
import { pick, useChooser } from '../../state/chooser';
import { useBench } from '../../state/use-bench';
import { usePicked } from './choosing';

type Column = 'length' | 'stroke' | 'force' | 'lift' | 'shut' | 'hold' | 'spare';
const COLUMNS: readonly (readonly [Column, string, Dimension | null])[] = [
  ['length', 'Length', 'length'],
  ['stroke', 'Stroke', 'length'],
  ['force', 'Force', 'force'],
  ['lift', 'Lift', 'force'],
  ['shut', 'Pull shut', 'force'],
  ['hold', 'Hold', 'moment'],
  ['spare', 'Spare', null],
];
const FIRST = 40;
const MOST_REFUSED = 60;

/** Everything of the list that does it, by any column, and why the others do not, the nearest first. */
export function FoundTable(): React.JSX.Element {
  const { ranking, others, list, job, share } = useChooser();
  const present = useBench((s) => s.resolved);
  const units = useBench((s) => s.units);
  const [sort, setSort] = useState<{ by: Column; up: boolean }>({ by: 'spare', up: false });
  const [most, setMost] = useState(FIRST);
  const picked = usePicked();
  /** A number in the units shown, without its unit: that is said in the head. */
  const bare = (v: number, dimension: Dimension): string => {
    const decimals = dimension === 'length' && units.length === 'in' ? 2 : 0;
    return formatQuantity(v, dimension, units, decimals).replace(shownUnit(dimension, units).sign, '').trim();
  };
  const value = (r: Ranked, column: Column): number => {
    const { liftN, pullN, holdNm, tightest } = r.merits;
    const of = (m: Measured): number => (m.caseId === null || m.value === null ? NaN : m.value);
    const entry = list[r.entry]!;
    const values: Record<Column, number> = {
      ...{ length: entry.extendedMm, stroke: entry.strokeMm, force: r.forceN },
      ...{ lift: of(liftN), shut: of(pullN), hold: of(holdNm), spare: tightest.share },
    };
    return values[column];
  };
  const rows = [...(ranking?.ranked ?? [])].sort((a, b) => {
    const d = value(a, sort.by) - value(b, sort.by);
    return (sort.up ? d : -d) || 0;
  });
  const refused = useMemo(
    () => nearestFirst(others.length > 0 ? others : (ranking?.refused ?? []), MOST_REFUSED),
    [others, ranking],
  );
  const stale = share !== null || (ranking !== null && job !== present);
  return (
    <section className={stale ? 'pane found stale' : 'pane found'} aria-label="Struts of the list" tabIndex={0}>
      <table>
        <thead>
          <tr>
            {COLUMNS.map(([column, words, dimension]) => (
              <th
                key={column}
                scope="col"
                aria-sort={sort.by !== column ? undefined : sort.up ? 'ascending' : 'descending'}
              >
                <button
                  type="button"
                  onClick={() => setSort({ by: column, up: sort.by === column ? !sort.up : column !== 'spare' })}
                >
                  {words}
                  <small>{dimension ? shownUnit(dimension, units).sign : 'share'}</small>
                  {sort.by === column && (
                    <svg width="8" height="6" aria-hidden="true">
                      <path d={sort.up ? 'M0 6L4 0L8 6Z' : 'M0 0L4 6L8 0Z'} />
                    </svg>
                  )}
                </button>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.slice(0, most).map((r) => {
            const entry = list[r.entry]!;
            const chosen = picked?.entry === r.entry && picked.forceN === r.forceN;
            return (
              <tr
                key={`${r.entry}:${r.forceN}`}
                data-candidate={entry.name}
                data-force={r.forceN}
                aria-current={chosen || undefined}
                onClick={() => pick({ entry: r.entry, forceN: r.forceN })}
              >
                {COLUMNS.map(([column, , dimension]) => {
                  const v = value(r, column);
                  if (column === 'length')
                    return (
                      <th key={column} scope="row">
                        <button type="button" title={entry.name}>
                          {bare(v, 'length')}
                        </button>
                      </th>
                    );
                  if (dimension) return <td key={column}>{Number.isNaN(v) ? '–' : bare(v, dimension)}</td>;
                  return (
                    <td key={column} className="spare">
                      <i style={{ width: `${Math.max(2, 40 * Math.min(1, v))}px` }} />
                      {v.toFixed(2)}
                    </td>
                  );
                })}
              </tr>
            );
          })}
          {rows.length > most && (
            <tr>
              <td colSpan={COLUMNS.length} className="more">
                <button type="button" className="link" onClick={() => setMost(rows.length)}>
                  {rows.length - most} more that do it
                </button>
              </td>
            </tr>
          )}
          {refused.length > 0 && (
            <>
              <tr className="group">
                <th colSpan={COLUMNS.length} scope="rowgroup">
                  Why not the others, nearest first
                </th>
              </tr>
              {refused.map((r) => {
                const entry = list[r.entry]!;
                return (
                  <tr key={`${r.entry}:${r.forceN}`} className="refused">
                    <th scope="row">{bare(entry.extendedMm, 'length')}</th>
                    <td>{bare(entry.strokeMm, 'length')}</td>
                    <td>{bare(r.forceN, 'force')}</td>
                    <td colSpan={COLUMNS.length - 3} className="why-not">
                      {refusalWords(job!, r.why, units)}
                    </td>
                  </tr>
                );
              })}
            </>
          )}
        </tbody>
      </table>
    </section>
  );
}
