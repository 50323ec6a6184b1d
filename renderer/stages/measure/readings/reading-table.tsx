import { memo, useEffect, useRef, useState } from 'react';
import type { JobObservation, Observation } from '../../../../core/job';
import type { ShownUnits } from '../../../../core/quantity';
import { type SurveyReading, pointLabels } from '../../../../core/survey';
import { chooseReading, useSurvey } from '../../../state/survey';
import { useTold } from '../../../state/told';
import { useBench } from '../../../state/use-bench';
import {
  dropReading,
  ENTRY,
  finishEditing,
  focusOn,
  leaveEditing,
  setEdited,
  startEditing,
  switchReading,
  useDesk,
} from '../../../state/readings-desk';
import { type CellName, cellsOf } from '../../../state/readings-draft';
import { ReadingFields } from './reading-fields';
import { inUnit, rowWords, sigmaWords, valueWords, verdictWords } from './row-words';

const HEADS = ['use', 'reading', 'value', '±', 'residual', 'w', 'verdict', 'remove'] as const;
/** Which cell of the open row belongs to a column. */
const CELL_OF_COLUMN: readonly (CellName | null)[] = [null, 'p0', 'value', 'sigma', null, null, null, null];

interface RowProps {
  readonly raw: JobObservation;
  readonly o: Observation;
  readonly number: number;
  readonly words: string;
  readonly tested: SurveyReading | undefined;
  readonly units: ShownUnits;
  /** Column that Tab comes to; −1: in another row. */
  readonly stop: number;
}

const Row = memo(function Row({ raw, o, number, words, tested, units, stop }: RowProps): React.JSX.Element {
  const off = o.use === false;
  const verdict = off ? 'off' : (tested?.verdict ?? 'unknown');
  const cell = (k: number): { role: string; 'data-column': number; tabIndex: number } => ({
    role: 'gridcell',
    'data-column': k,
    tabIndex: stop === k ? 0 : -1,
  });
  const edit = (column: number): void => {
    const wanted = CELL_OF_COLUMN[column];
    const cells = cellsOf(o.kind);
    startEditing(o.id, wanted && cells.includes(wanted) ? wanted : 'p0');
  };
  const lid = o.atDeg ? `, lid at ${inUnit(o.atDeg, 'deg', units)}` : '';
  const datum = o.datumMm ? `, from the datum at ${inUnit(o.datumMm, 'mm', units)}` : '';
  return (
    <div className={`reading-row ${verdict}`} role="row" data-reading={o.id} data-verdict={verdict}>
      <span role="gridcell">
        <input
          type="checkbox"
          data-column={0}
          tabIndex={stop === 0 ? 0 : -1}
          aria-label={`Use reading ${number}: ${words}`}
          checked={!off}
          onChange={(e) => switchReading(o.id, e.target.checked)}
        />
      </span>
      <span {...cell(1)} className="what" onDoubleClick={() => edit(1)}>
        {o.name ? <strong>{o.name}: </strong> : null}
        {words}
        {datum}
        {lid}
      </span>
      <span {...cell(2)} className="value" onDoubleClick={() => edit(2)}>
        {valueWords(raw, o, units)}
      </span>
      <span {...cell(3)} className="sigma" onDoubleClick={() => edit(3)}>
        {sigmaWords(o, units)}
      </span>
      <span {...cell(4)} className="residual" data-head="residual">
        {tested && !off ? inUnit(tested.residual, tested.unit, units, true) : '—'}
      </span>
      <span {...cell(5)} className="w" data-head="w">
        {tested && !off && tested.w !== null ? tested.w.toFixed(1).replace('-', '−') : '—'}
      </span>
      <span {...cell(6)} className="verdict">
        {verdictWords(tested, off, units)}
      </span>
      <span role="gridcell">
        <button
          type="button"
          className="link"
          data-column={7}
          tabIndex={stop === 7 ? 0 : -1}
          aria-label={`Remove reading ${number}: ${words}`}
          onClick={() => dropReading(o.id, 7)}
        >
          ✕
        </button>
      </span>
    </div>
  );
});

/** The readings of the job: arrow keys go from cell to cell, Enter or typing opens a row, Delete removes it. */
export function ReadingTable(): React.JSX.Element | null {
  const raw = useBench((s) => s.history.present.observations);
  const points = useTold((s) => s.history.present.points);
  const resolved = useBench((s) => s.resolved.observations);
  const units = useBench((s) => s.units);
  const answer = useSurvey((s) => s.answer);
  const editing = useDesk((s) => s.editing);
  const refusal = useDesk((s) => s.refusal);
  const focus = useDesk((s) => s.focus);
  const grid = useRef<HTMLDivElement>(null);
  const [at, setAt] = useState<{ id: string; column: number } | null>(null);
  const go = (id: string | undefined, column: number): boolean => {
    const cell = grid.current?.querySelector<HTMLElement>(`[data-reading="${id}"] [data-column="${column}"]`);
    cell?.focus();
    return cell !== null && cell !== undefined;
  };
  const wished = focus?.key;
  useEffect(() => {
    if (focus && focus.row !== ENTRY && typeof focus.cell === 'number') go(focus.row, focus.cell);
    // only a new wish moves the focus
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [wished]);
  if (!raw || raw.length === 0) return null;

  const labels = pointLabels(points);
  const name = (id: string): string => labels.get(id) ?? id;
  const tested = new Map(answer?.result.readings.map((r) => [r.id, r]));
  const worked = new Map(resolved.map((o) => [o.id, o]));
  const stopRow = raw.some((o) => o.id === at?.id) ? at!.id : raw.at(-1)!.id;
  const stopColumn = at?.column ?? 1;

  const keys = (e: React.KeyboardEvent): void => {
    const target = e.target as HTMLElement;
    const column = target.getAttribute('data-column');
    if (column === null) return;
    const k = Number(column);
    const id = target.closest<HTMLElement>('[data-reading]')!.dataset['reading']!;
    const i = raw.findIndex((o) => o.id === id);
    const typed = (text?: string): void => {
      const kind = raw[i]!.kind;
      const wanted = CELL_OF_COLUMN[k];
      startEditing(id, wanted && cellsOf(kind).includes(wanted) ? wanted : 'p0', wanted === 'p0' ? undefined : text);
    };
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    if (e.key === 'ArrowDown') {
      if (!go(raw[i + 1]?.id, k)) focusOn(ENTRY, k === 2 ? 'value' : k === 3 ? 'sigma' : 'p0');
    } else if (e.key === 'ArrowUp') go(raw[i - 1]?.id, k);
    else if (e.key === 'ArrowRight') go(id, k + 1);
    else if (e.key === 'ArrowLeft') go(id, k - 1);
    else if (e.key === 'Home') go(id, 0);
    else if (e.key === 'End') go(id, 7);
    else if (e.key === 'Delete') dropReading(id, k);
    else if (e.key === 'Enter' && k >= 1 && k <= 6) typed();
    else if (/^[\d.,(+−-]$/.test(e.key) && (k === 2 || k === 3)) typed(e.key);
    else return;
    e.preventDefault();
  };

  return (
    <div
      className="reading-table"
      role="grid"
      aria-label="Readings"
      aria-rowcount={raw.length + 1}
      ref={grid}
      onKeyDown={keys}
      onFocus={(e) => {
        const id = e.target.closest<HTMLElement>('[data-reading]')?.dataset['reading'];
        const column = e.target.getAttribute('data-column');
        if (!id) return;
        chooseReading(id);
        if (column !== null) setAt({ id, column: Number(column) });
      }}
      onBlur={(e) => {
        if (!e.currentTarget.contains(e.relatedTarget)) chooseReading(null);
        // whoever leaves an open row has finished it, if it is whole
        const row = (e.target as HTMLElement).closest('.editing');
        if (row && e.relatedTarget && !row.contains(e.relatedTarget)) finishEditing('left');
      }}
    >
      <div className="reading-row head" role="row">
        {HEADS.map((head) => (
          <span key={head} role="columnheader" className={`head-${head}`}>
            {head === 'use' || head === 'remove' ? <span className="unseen">{head}</span> : head}
          </span>
        ))}
      </div>
      {raw.map((o, i) => {
        const words = rowWords(worked.get(o.id) ?? (o as Observation), name);
        return editing?.id === o.id ? (
          <div className="reading-row editing" role="row" data-reading={o.id} key={o.id}>
            <span role="gridcell">
              <ReadingFields
                label={`Reading ${i + 1}`}
                draft={editing.draft}
                refusal={refusal?.row === o.id ? refusal : null}
                focus={focus?.row === o.id ? focus : null}
                onDraft={setEdited}
                onWhole={() => finishEditing()}
                onLeave={leaveEditing}
              />
            </span>
          </div>
        ) : (
          <Row
            key={o.id}
            raw={o}
            o={worked.get(o.id) ?? (o as Observation)}
            number={i + 1}
            words={words}
            tested={tested.get(o.id)}
            units={units}
            stop={o.id === stopRow ? stopColumn : -1}
          />
        );
      })}
    </div>
  );
}
