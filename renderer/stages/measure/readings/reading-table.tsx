import { useEffect, useMemo, useRef, useState } from 'react';
import type { JobObservation, Observation, ObservationKind } from '../../../../core/job';
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
  useReadings,
} from '../../../state/readings-store';
import { type CellName, cellsOf } from '../../../state/readings-draft';
import { type EntryColumn, EntryTable } from '../../../ui/entry-table';
import { ReadingFields } from './reading-fields';
import { inUnit, rowWords, sigmaWords, valueWords, verdictWords } from './row-words';

/** Which cell of the open row belongs to a column; all but the first and the last open the row. */
const CELL_OF_COLUMN: readonly (CellName | null)[] = [null, 'p0', 'value', 'sigma', null, null, null, null];
const LAST = CELL_OF_COLUMN.length - 1;

interface Row {
  readonly raw: JobObservation;
  readonly o: Observation;
  readonly words: string;
  readonly tested: SurveyReading | undefined;
  readonly units: ShownUnits;
}

/** As the adjustment has tested it; nothing for one that is switched off. */
const testOf = ({ o, tested }: Row): SurveyReading | undefined => (o.use === false ? undefined : tested);

const COLUMNS: readonly EntryColumn<Row>[] = [
  {
    head: 'reading',
    className: 'what',
    tell: ({ o, words, units }) => (
      <>
        {o.name ? <strong>{o.name}: </strong> : null}
        {o.known ? 'known: ' : ''}
        {words}
        {o.datumMm ? `, from the datum at ${inUnit(o.datumMm, 'mm', units)}` : ''}
        {o.atDeg ? `, lid at ${inUnit(o.atDeg, 'deg', units)}` : ''}
      </>
    ),
  },
  { head: 'value', className: 'value', tell: ({ raw, o, units }) => valueWords(raw, o, units) },
  { head: '±', className: 'sigma', tell: ({ o, units }) => sigmaWords(o, units) },
  {
    head: 'residual',
    className: 'residual',
    tell: (row) => {
      const test = testOf(row);
      return test ? inUnit(test.residual, test.unit, row.units, true) : '—';
    },
  },
  { head: 'w', className: 'w', tell: (row) => testOf(row)?.w?.toFixed(1).replace('-', '−') ?? '—' },
  {
    head: 'verdict',
    className: 'verdict',
    tell: ({ o, tested, units }) => verdictWords(tested, o.use === false, units),
  },
];

const about = ({ o, tested, words }: Row, i: number) => {
  const used = o.use !== false;
  const verdict = used ? (tested?.verdict ?? 'unknown') : 'off';
  const attributes = { className: verdict, 'data-reading': o.id, 'data-verdict': verdict };
  return { key: o.id, name: `reading ${i + 1}: ${words}`, used, attributes };
};
const use = ({ o }: Row, on: boolean): void => switchReading(o.id, on);
const remove = ({ o }: Row): void => dropReading(o.id, LAST);

/** Opens a reading's row at a column. */
function openAt(id: string, kind: ObservationKind, column: number, text?: string): void {
  const wanted = CELL_OF_COLUMN[column];
  startEditing(id, wanted && cellsOf(kind).includes(wanted) ? wanted : 'p0', wanted === 'p0' ? undefined : text);
}

/** The reading and the column that an event comes from. */
function placeOf({ target }: React.SyntheticEvent): { readonly id: string; readonly column: number } | null {
  const column = (target as HTMLElement).closest<HTMLElement>('[data-column]')?.dataset['column'];
  const id = (target as HTMLElement).closest<HTMLElement>('[data-reading]')?.dataset['reading'];
  return column === undefined || id === undefined ? null : { id, column: Number(column) };
}

/** The readings of the job: arrow keys go from cell to cell, Enter or typing opens a row, Delete removes it. */
export function ReadingTable(): React.JSX.Element | null {
  const raw = useBench((s) => s.history.present.observations);
  const points = useTold((s) => s.history.present.points);
  const resolved = useBench((s) => s.resolved.observations);
  const units = useBench((s) => s.units);
  const answer = useSurvey((s) => s.answer);
  const editing = useReadings((s) => s.editing);
  const refusal = useReadings((s) => s.refusal);
  const focus = useReadings((s) => s.focus);
  const grid = useRef<HTMLTableElement>(null);
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
    // oxlint-disable-next-line react/exhaustive-deps
  }, [wished]);
  const rows = useMemo(() => {
    const labels = pointLabels(points);
    const tested = new Map(answer?.result.readings.map((r) => [r.id, r]));
    const worked = new Map(resolved.map((o) => [o.id, o]));
    return (raw ?? []).map((r): Row => {
      const o = worked.get(r.id) ?? (r as Observation);
      return { raw: r, o, words: rowWords(o, (id) => labels.get(id) ?? id), tested: tested.get(r.id), units };
    });
  }, [raw, points, resolved, units, answer]);
  if (!raw || raw.length === 0) return null;

  const stopRow = raw.some((o) => o.id === at?.id) ? at!.id : raw.at(-1)!.id;
  const stopColumn = at?.column ?? 1;

  const keys = (e: React.KeyboardEvent): void => {
    const place = placeOf(e);
    if (!place) return;
    const { id, column: k } = place;
    const i = raw.findIndex((o) => o.id === id);
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    if (e.key === 'ArrowDown') {
      if (!go(raw[i + 1]?.id, k)) focusOn(ENTRY, k === 2 ? 'value' : k === 3 ? 'sigma' : 'p0');
    } else if (e.key === 'ArrowUp') go(raw[i - 1]?.id, k);
    else if (e.key === 'ArrowRight') go(id, k + 1);
    else if (e.key === 'ArrowLeft') go(id, k - 1);
    else if (e.key === 'Home') go(id, 0);
    else if (e.key === 'End') go(id, LAST);
    else if (e.key === 'Delete') dropReading(id, k);
    else if (e.key === 'Enter' && k > 0 && k < LAST) openAt(id, raw[i]!.kind, k);
    else if (/^[\d.,(+−-]$/.test(e.key) && (k === 2 || k === 3)) openAt(id, raw[i]!.kind, k, e.key);
    else return;
    e.preventDefault();
  };

  return (
    <EntryTable
      label="Readings"
      className="reading-table"
      ref={grid}
      columns={COLUMNS}
      rows={rows}
      about={about}
      use={use}
      remove={remove}
      stop={{ key: stopRow, column: stopColumn }}
      open={({ o }, i) =>
        editing?.id === o.id && (
          <ReadingFields
            label={`Reading ${i + 1}`}
            draft={editing.draft}
            refusal={refusal?.row === o.id ? refusal : null}
            focus={focus?.row === o.id ? focus : null}
            onDraft={setEdited}
            onWhole={() => finishEditing()}
            onLeave={leaveEditing}
          />
        )
      }
      onKeyDown={keys}
      onDoubleClick={(e) => {
        const place = placeOf(e);
        if (place && place.column > 0 && place.column < LAST)
          openAt(place.id, raw.find((o) => o.id === place.id)!.kind, place.column);
      }}
      onFocus={(e) => {
        const id = e.target.closest<HTMLElement>('[data-reading]')?.dataset['reading'];
        if (!id) return;
        chooseReading(id);
        setAt(placeOf(e) ?? at);
      }}
      onBlur={(e) => {
        if (!e.currentTarget.contains(e.relatedTarget)) chooseReading(null);
        // whoever leaves an open row has finished it, if it is whole
        const row = (e.target as HTMLElement).closest('.editing');
        if (row && e.relatedTarget && !row.contains(e.relatedTarget)) finishEditing('left');
      }}
    />
  );
}
