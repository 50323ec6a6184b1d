import type { Job } from './types';

/** One thing that can be undone, with the words for the undo entry. */
interface Step {
  readonly job: Job;
  readonly label: string;
}

/**
 * Undo and redo over immutable jobs. A gesture (a drag) gathers everything since its mark into one step.
 * Immutable: every function returns the next history.
 */
export interface History {
  readonly present: Job;
  readonly past: readonly Step[];
  readonly future: readonly Step[];
  /** The job at the start of the gesture under way. */
  readonly mark: Job | null;
}

/** Steps kept; a job is shared between steps except for what changed, so this is cheap. */
export const MOST_STEPS = 500;

export const startHistory = (job: Job): History => ({ present: job, past: [], future: [], mark: null });

/** A finished change: one undo step. Nothing happens when the job is the same. */
export function commit(history: History, job: Job, label: string): History {
  if (job === history.present) return history;
  return {
    present: job,
    past: [...history.past, { job: history.present, label }].slice(-MOST_STEPS),
    future: [],
    mark: null,
  };
}

/** Starts a gesture. */
export const beginGesture = (history: History): History => ({ ...history, mark: history.present });

/** Shows a job while the gesture is under way; outside a gesture it changes nothing. */
export const moveGesture = (history: History, job: Job): History =>
  history.mark ? { ...history, present: job } : history;

/** Ends the gesture: all since the mark is one step, or none when nothing changed. */
export function endGesture(history: History, label: string): History {
  if (!history.mark) return history;
  const { mark, present } = history;
  return commit({ ...history, present: mark, mark: null }, present, label);
}

/** Goes back to the mark, without a redo entry. */
export const cancelGesture = (history: History): History =>
  history.mark ? { ...history, present: history.mark, mark: null } : history;

export function undo(history: History): History {
  const step = history.past.at(-1);
  if (history.mark) return cancelGesture(history);
  if (!step) return history;
  return {
    present: step.job,
    past: history.past.slice(0, -1),
    future: [{ job: history.present, label: step.label }, ...history.future],
    mark: null,
  };
}

export function redo(history: History): History {
  const [step, ...future] = history.future;
  if (!step || history.mark) return history;
  return {
    present: step.job,
    past: [...history.past, { job: history.present, label: step.label }],
    future,
    mark: null,
  };
}
