import { useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';
import { type NewReading, addObservation, removeObservation, setObservation, useObservation } from '../../core/survey';
import { type CellName, type Draft, draftOf, emptyDraft, nextDraft, patchOf, readDraft } from './readings-draft';
import { bench, edit, presentJob } from './store';
import { chooseReading } from './survey';
import { holdField } from './unentered';

/** Where the focus is to go: the entry row or a reading, and which of its cells. */
export interface FocusRequest {
  readonly row: string;
  readonly cell: CellName | number;
  /** The cursor goes behind what is typed already, which is not marked. */
  readonly behind?: boolean;
  readonly key: number;
}

export const ENTRY = '+entry';

/** What is being typed at the table of readings; it outlives the panel, not the page. */
export interface ReadingsState {
  readonly entry: Draft;
  /** First point of the reading taken last, offered again. */
  readonly lastFrom: string;
  readonly editing: { readonly id: string; readonly before: Draft; readonly draft: Draft } | null;
  /** Why a row was not taken. */
  readonly refusal: { readonly row: string; readonly cell: CellName; readonly message: string } | null;
  readonly focus: FocusRequest | null;
  /** For a screen reader: what has just happened. */
  readonly said: string;
}

const CLEAR: ReadingsState = { entry: emptyDraft(), lastFrom: '', editing: null, refusal: null, focus: null, said: '' };
const store = createStore<ReadingsState>(() => CLEAR);
// another job opened has other points and readings
bench.subscribe((now, before) => {
  if (now.file.draftId !== before.file.draftId) store.setState(CLEAR);
});
export const useReadings = <T>(select: (state: ReadingsState) => T): T => useStore(store, select);

let key = 0;
export const focusOn = (row: string, cell: CellName | number, behind = false): void =>
  store.setState({ focus: { row, cell, behind, key: ++key } });

const say = (said: string): void => store.setState({ said });

export const setEntry = (entry: Draft): void => store.setState({ entry, refusal: null });
export const setEdited = (draft: Draft): void => {
  const { editing } = store.getState();
  if (editing) store.setState({ editing: { ...editing, draft }, refusal: null });
};

/** Forgets what is typed for the next reading. */
export const clearEntry = (): void => setEntry(emptyDraft(store.getState().entry.kind));

const isBegun = ({ points, value }: Draft): boolean => [...points, value].some((text) => text.trim() !== '');

let release: (() => void) | null = null;
// it outlives the panel: what is typed here is held whatever stage is shown
store.subscribe(({ entry, editing }) => {
  const holds = isBegun(entry) || (editing !== null && !isSame(editing));
  if (holds === (release !== null)) return;
  release?.();
  release = holds ? holdField({ label: 'the reading being typed, in Measure', enter: enterReading }) : null;
});

const isSame = ({ before, draft }: NonNullable<ReadingsState['editing']>): boolean =>
  draft === before || JSON.stringify(draft) === JSON.stringify(before);

/** Takes what is typed, for a save; what lacks is said in its row. */
function enterReading(): boolean {
  if (!finishEditing('on')) return false;
  return !isBegun(store.getState().entry) || takeEntry();
}

/** Takes the entry into the job, and readies the next; false: it was not whole, and the cell that lacks has the focus. */
export function takeEntry(): boolean {
  const { entry } = store.getState();
  const found = readDraft(entry, presentJob(), bench.getState().units);
  if (!('reading' in found)) return refuse(ENTRY, found);
  if (!edit('Take a reading', (job) => addObservation(job, { observation: found.reading }))) return false;
  const taken = presentJob().observations ?? [];
  store.setState({ entry: nextDraft(entry), lastFrom: entry.points[0] ?? '', refusal: null });
  say(`Reading ${taken.length} taken.`);
  focusOn(ENTRY, 'p0');
  return true;
}

function refuse(row: string, found: { readonly cell: CellName; readonly message: string }, pull = true): false {
  store.setState({ refusal: { row, ...found } });
  if (pull) focusOn(row, found.cell);
  return false;
}

/** Opens a reading's row for typing, with the focus in a cell; `text` takes the place of what stands there. */
export function startEditing(id: string, cell: CellName, text?: string): void {
  const { editing } = store.getState();
  if (editing && editing.id !== id && !finishEditing('on')) return;
  const job = presentJob();
  const reading = job.observations?.find((o) => o.id === id);
  if (!reading || (reading.kind as string) === 'photo-mark') return;
  const before = draftOf(reading, job, bench.getState().units);
  const draft = text === undefined ? before : ({ ...before, [cell]: text } as Draft);
  store.setState({ editing: { id, before, draft }, refusal: null });
  chooseReading(id);
  focusOn(id, cell, text !== undefined);
}

/**
 * Takes over what was typed in a row; false: it is not whole, and stays open with what lacks said. `then`: the focus goes
 * back to the row in the table; nowhere, for it has left by itself; or nowhere unless the row is not whole.
 */
export function finishEditing(then: 'back' | 'left' | 'on' = 'back'): boolean {
  const { editing } = store.getState();
  if (!editing) return true;
  const { id, before, draft } = editing;
  const old = presentJob().observations?.find((o) => o.id === id);
  if (old && !isSame(editing)) {
    const found = readDraft(draft, presentJob(), bench.getState().units);
    if (!('reading' in found)) return refuse(id, found, then !== 'left');
    const patch = patchOf(old, before, draft, found.reading);
    if (!edit('Change a reading', (job) => setObservation(job, { id, patch }))) return false;
    say('Reading changed.');
  }
  store.setState({ editing: null, refusal: null });
  if (then === 'back') focusOn(id, 1);
  return true;
}

export function leaveEditing(): void {
  const { editing } = store.getState();
  store.setState({ editing: null, refusal: null });
  if (editing) focusOn(editing.id, 1);
}

export function switchReading(id: string, use: boolean): void {
  edit(use ? 'Switch a reading on' : 'Switch a reading off', (job) => useObservation(job, { id, use }));
  say(use ? 'Reading switched on.' : 'Reading switched off.');
}

/** Removes a reading; the focus goes to the one that takes its place, or to the entry. */
export function dropReading(id: string, column: number): void {
  const list = presentJob().observations ?? [];
  const i = list.findIndex((o) => o.id === id);
  const next = list[i + 1] ?? list[i - 1];
  if (store.getState().editing?.id === id) store.setState({ editing: null, refusal: null });
  if (!edit('Remove a reading', (job) => removeObservation(job, { id }))) return;
  say('Reading removed.');
  if (next) focusOn(next.id, column);
  else focusOn(ENTRY, 'p0');
}

/** Puts a reading that should be taken into the entry, all but its value. */
export function prepareEntry(reading: NewReading): void {
  const draft = draftOf({ id: '', ...reading }, presentJob(), bench.getState().units);
  store.setState({ entry: { ...draft, value: '' }, refusal: null });
  focusOn(ENTRY, 'value');
}
