import { createStore } from 'zustand/vanilla';
import { useStore } from 'zustand';
import { LidwrightError, wordsOf } from '../../core/error';
import type { Job, JobRelation } from '../../core/job';
import { type RelationAnswer, type RelationQuestion, answered } from '../../core/survey';
import { ask, isAborted, relating } from '../workers';
import { emptyDraft, type RelationDraft, withPoint } from './relations-draft';
import { bench, notify, onRelationQuestion, presentJob, sayMoved, takeJob } from './store';

/** What the relations' part of the page shows beside the job. */
export interface RelationState {
  /** A question under way, in words. */
  readonly asking: string | null;
  /** The last refusal: what was wanted, why not, and the relations it fights. */
  readonly refusal: { readonly what: string; readonly text: string; readonly fights: readonly string[] } | null;
  /** A relation being put together. */
  readonly draft: RelationDraft | null;
  /** The relation shown in the views. */
  readonly chosen: string | null;
}

const NOTHING: RelationState = { asking: null, refusal: null, draft: null, chosen: null };
export const relationStore = createStore<RelationState>(() => NOTHING);
export const useRelationStore = <T>(select: (store: RelationState) => T): T => useStore(relationStore, select);

let asking: AbortController | null = null;
/** What was last asked and not taken, of which job: leaving a field after Enter does not ask the same again. */
let last: { readonly base: Job; readonly text: string } | null = null;

/** Waits until no question is under way, and what its answer changed is drawn; false where none was. */
export async function relationsAnswered(): Promise<boolean> {
  if (relationStore.getState().asking === null) return false;
  await new Promise<void>((resolve) => {
    const leave = relationStore.subscribe(({ asking }) => {
      if (asking !== null) return;
      leave();
      setTimeout(resolve);
    });
  });
  return true;
}

/** Stops a question; the job stays as it is. */
export function stopAsking(): void {
  asking?.abort();
  asking = null;
  last = null;
  relationStore.setState({ asking: null });
}

/**
 * Asks off the main thread and takes the answer over as one undo step, or shows the refusal. `base` is the job that the
 * question was asked of: when it is no longer the present one, the answer is let go with a word.
 */
async function askRelations(question: RelationQuestion, base: Job, label: string): Promise<void> {
  const text = JSON.stringify({ ...question, job: { ...question.job, photos: undefined } });
  if (last?.base === base && last.text === text) return;
  stopAsking();
  last = { base, text };
  const { signal } = (asking = new AbortController());
  relationStore.setState({ asking: label, refusal: null });
  try {
    const answer = await ask(relating, question, { signal });
    relationStore.setState({ asking: null });
    if (answer.ok) accept(question, answer, base, label);
    else refuse(question, answer, label);
  } catch (error) {
    if (isAborted(error)) return;
    relationStore.setState({ asking: null });
    if (!(error instanceof LidwrightError)) throw error;
    last = null;
    notify(error.message, 'bad');
  }
}

function refuse(question: RelationQuestion, answer: Extract<RelationAnswer, { ok: false }>, label: string): void {
  const why = 'failed' in answer ? wordsOf(answer.failed) : answer.text;
  relationStore.setState({ refusal: { what: label, text: why, fights: 'failed' in answer ? [] : answer.fights } });
  // where the panel says it itself, beside what was asked for, once is enough
  if (question.kind !== 'add') notify(`${label}: ${why} Nothing was changed.`, 'bad');
}

function accept(
  question: RelationQuestion,
  answer: Extract<RelationAnswer, { ok: true }>,
  base: Job,
  label: string,
): void {
  if (presentJob() !== base || bench.getState().history.mark) {
    notify('The job has changed while the conditions were checked. Ask again.', 'bad');
    return;
  }
  takeJob(answered(question.job, answer), label);
  sayMoved(answer.moved);
  if (question.kind === 'add')
    relationStore.setState({ draft: null, chosen: presentJob().relations?.at(-1)?.id ?? null });
}

onRelationQuestion((question, base, label) => void askRelations(question, base, label));

// a refusal is about the job as it was; another file has nothing to do with what was being put together
bench.subscribe((now, before) => {
  if (now.file.draftId !== before.file.draftId) {
    stopAsking();
    relationStore.setState(NOTHING);
  } else if (now.history.present !== before.history.present && relationStore.getState().refusal) dismissRefusal();
});

/** Asks for a new relation. */
export function demandRelation(relation: Omit<JobRelation, 'id'>): void {
  last = null;
  void askRelations({ kind: 'add', job: presentJob(), relation }, presentJob(), 'Add a condition');
}

/** Moves the points so that all relations hold, as after a job was loaded whose relations don't. */
export const makeThemHold = (): void =>
  void askRelations({ kind: 'settle', job: presentJob() }, presentJob(), 'Move the points so that what must hold does');

export const chooseRelation = (id: string | null): void => relationStore.setState({ chosen: id });
export function dismissRefusal(): void {
  last = null;
  relationStore.setState({ refusal: null });
}
export const setDraft = (draft: RelationDraft | null): void =>
  relationStore.setState(draft ? { draft, refusal: null } : { draft });
export const startDraft = (kind: RelationDraft['kind']): void => setDraft(emptyDraft(kind, presentJob()));

/** A point clicked in a view while a relation is put together: true when it was taken. */
export function pickForRelation(pointId: string): boolean {
  const { draft } = relationStore.getState();
  if (!draft || !presentJob().points.some((p) => p.id === pointId)) return false;
  const next = withPoint(draft, pointId);
  if (!next) return false;
  setDraft(next);
  return true;
}
