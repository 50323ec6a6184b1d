import { useEffect, useId, useRef, useState } from 'react';
import type { ObservationKind } from '../../../../core/job';
import { type ShownUnits, formatEntry, shownUnit } from '../../../../core/quantity';
import { KIND_WORDS, TYPED_KINDS, USUAL_SIGMA, measureOf } from '../../../../core/survey';
import { useTold } from '../../../state/told';
import { useBench } from '../../../state/use-bench';
import { type FocusRequest } from '../../../state/readings-store';
import {
  type CellName,
  type Draft,
  POINT_CELLS,
  cellsOf,
  firstGap,
  pointWord,
  textOf,
  withKind,
  withText,
} from '../../../state/readings-draft';
import { ReadAs, quantityWords } from '../../../ui/entry';
import { PointBox } from './point-box';

interface Props {
  /** Names the row to a screen reader: "Next reading", "Reading 3". */
  readonly label: string;
  readonly draft: Draft;
  readonly again?: string;
  readonly refusal: { readonly cell: CellName; readonly message: string } | null;
  readonly focus: FocusRequest | null;
  onDraft(draft: Draft): void;
  /** Enter with every needed cell filled. */
  onWhole(): void;
  onLeave?(): void;
  /** Up out of the row. */
  onUp?(cell: CellName): void;
  onPasteTable?(text: string): boolean;
}

/** What the instrument's usual σ is, in the shown unit. */
function usualSigma(kind: ObservationKind, units: ShownUnits): string {
  const usual = USUAL_SIGMA[kind];
  return usual.sigmaDeg !== undefined
    ? formatEntry(usual.sigmaDeg, 'angle', units)
    : formatEntry(usual.sigmaMm ?? 0, 'length', units);
}

const CELL_WORDS: Partial<Record<CellName, string>> = {
  value: 'reads',
  datum: 'from datum',
  sigma: '±',
  lid: 'lid at',
};
const LONG_WORDS: Partial<Record<CellName, string>> = {
  value: 'value read',
  datum: 'datum plane at',
  sigma: 'standard deviation',
  lid: 'opening angle of the lid when it was read',
};

/**
 * The cells of one reading, for the entry and for a row being changed. Enter goes on to the next cell that needs something,
 * and takes the reading when none does; arrow keys at the end of a text go to the neighbour.
 */
export function ReadingFields(props: Props): React.JSX.Element {
  const { label, draft, again, refusal, focus, onDraft, onWhole, onLeave, onUp, onPasteTable } = props;
  const box = useRef<HTMLDivElement>(null);
  const id = useId();
  const units = useBench((s) => s.units);
  /** The cell that is being typed in. */
  const [reads, setReads] = useState<CellName | null>(null);
  const points = useTold((s) => s.history.present.points);
  const go = (cell: CellName | undefined): void =>
    box.current?.querySelector<HTMLElement>(`[data-cell="${cell}"]`)?.focus();
  const wished = focus?.key;
  useEffect(() => {
    if (typeof focus?.cell !== 'string') return;
    box.current?.scrollIntoView({ block: 'nearest' });
    go(focus.cell);
    const at = document.activeElement;
    if (focus.behind && at instanceof HTMLInputElement) at.setSelectionRange(at.value.length, at.value.length);
    // only a new wish moves the focus
    // oxlint-disable-next-line react/exhaustive-deps
  }, [wished]);

  const { dimension } = measureOf(draft.kind);
  const cells = cellsOf(draft.kind);
  const wrongId = `${id}-wrong`;
  const wrong = (cell: CellName): { 'aria-invalid': boolean; 'aria-describedby': string | undefined } => ({
    'aria-invalid': refusal?.cell === cell,
    'aria-describedby': refusal?.cell === cell ? wrongId : undefined,
  });
  const onward = (next: Draft): void => {
    const gap = firstGap(next);
    if (gap && document.activeElement?.getAttribute('data-cell') !== gap) go(gap);
    else onWhole();
  };

  const keys = (e: React.KeyboardEvent): void => {
    const target = e.target as HTMLInputElement | HTMLSelectElement;
    const cell = target.getAttribute('data-cell') as CellName | null;
    if (!cell) return;
    if (e.key === 'Enter') {
      e.preventDefault();
      onward(draft);
    } else if (e.key === 'Escape' && onLeave) {
      e.stopPropagation();
      onLeave();
    } else if (e.key === 'ArrowUp' && onUp && target instanceof HTMLInputElement) {
      e.preventDefault();
      onUp(cell);
    } else if ((e.key === 'ArrowLeft' || e.key === 'ArrowRight') && !e.altKey && !e.ctrlKey && !e.shiftKey) {
      const step = e.key === 'ArrowRight' ? 1 : -1;
      if (target instanceof HTMLInputElement) {
        const edge = step > 0 ? target.value.length : 0;
        if (target.selectionStart !== edge || target.selectionEnd !== edge) return;
      }
      const next = cells[cells.indexOf(cell) + step];
      if (!next) return;
      e.preventDefault();
      go(next);
    }
  };

  const textCell = (cell: 'value' | 'datum' | 'sigma' | 'lid', placeholder: string): React.JSX.Element => {
    const of = cell === 'lid' ? 'angle' : cell === 'datum' ? 'length' : dimension;
    return (
      <label key={cell} className={`reading-cell ${cell}`}>
        <span>{CELL_WORDS[cell]}</span>
        <span className="entry">
          <input
            data-cell={cell}
            aria-label={`${label}: ${LONG_WORDS[cell]}`}
            value={draft[cell]}
            placeholder={placeholder}
            autoComplete="off"
            spellCheck={false}
            onFocus={(e) => {
              e.target.select();
              setReads(cell);
            }}
            onBlur={() => setReads(null)}
            onChange={(e) => onDraft(withText(draft, cell, e.target.value))}
            {...wrong(cell)}
            aria-describedby={`${id}-${cell} ${wrong(cell)['aria-describedby'] ?? ''}`}
          />
          <ReadAs
            id={`${id}-${cell}`}
            text={reads === cell ? draft[cell] : null}
            words={(text) => quantityWords(text.trim().replace(/^±\s*/, ''), of)}
          />
          <span className="unit">{shownUnit(of, units).sign}</span>
        </span>
      </label>
    );
  };

  return (
    <div
      className="reading-fields"
      role="group"
      aria-label={label}
      ref={box}
      onKeyDown={keys}
      onPaste={(e) => {
        const text = e.clipboardData.getData('text');
        if (onPasteTable && /[\t\n]./.test(text) && onPasteTable(text)) e.preventDefault();
      }}
    >
      <label className="reading-cell kind">
        <span className="unseen">kind</span>
        <select
          data-cell="kind"
          aria-label={`${label}: kind`}
          value={draft.kind}
          onChange={(e) => onDraft(withKind(draft, e.target.value as ObservationKind))}
        >
          {TYPED_KINDS.map((kind) => (
            <option key={kind} value={kind}>
              {KIND_WORDS[kind]}
            </option>
          ))}
        </select>
      </label>
      {cells.map((cell) => {
        switch (cell) {
          case 'kind':
            return null;
          case 'axis':
            return (
              <label key={cell} className="reading-cell axis">
                <span>{draft.kind === 'coordinate' ? 'along' : 'across'}</span>
                <select
                  data-cell="axis"
                  aria-label={`${label}: ${draft.kind === 'coordinate' ? 'which coordinate' : 'mirrored across'}`}
                  value={draft.axis}
                  onChange={(e) => onDraft({ ...draft, axis: e.target.value as Draft['axis'] })}
                  {...wrong('axis')}
                >
                  <option value="">{draft.kind === 'coordinate' ? '…' : 'middle of the hinge'}</option>
                  <option>x</option>
                  <option>y</option>
                  <option>z</option>
                </select>
              </label>
            );
          case 'datum':
            return draft.kind === 'mirror-twin' && draft.axis === '' ? null : textCell('datum', '0');
          case 'value':
            return textCell('value', '');
          case 'sigma':
            return textCell('sigma', usualSigma(draft.kind, units));
          case 'lid':
            return textCell('lid', 'closed');
          case 'p0':
          case 'p1':
          case 'p2':
          case 'p3':
            return (
              <label key={cell} className="reading-cell at-point">
                <span>{pointWord(draft.kind, cell)}</span>
                <PointBox
                  cell={cell}
                  label={`${label}: ${pointWord(draft.kind, cell)}`}
                  text={textOf(draft, cell)}
                  again={cell === POINT_CELLS[0] ? (again ?? '') : ''}
                  points={points}
                  wrong={refusal?.cell === cell}
                  describedBy={refusal?.cell === cell ? wrongId : undefined}
                  onText={(text) => onDraft(withText(draft, cell, text))}
                  onEnter={(text) => onward(withText(draft, cell, text))}
                />
              </label>
            );
        }
      })}
      {refusal && (
        <span className="wrong" role="alert" id={wrongId}>
          {refusal.message}
        </span>
      )}
    </div>
  );
}
