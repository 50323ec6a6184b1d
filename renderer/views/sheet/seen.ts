import type { Workings } from '../../../core/workings';
import type { BenchState } from '../../state/store';
import { type Scene, buildScene } from './scene';

/** A function that answers from its last answer while its arguments are the same: what the three views share of a state. */
export function keepLast<A extends readonly unknown[], T>(make: (...args: A) => T): (...args: A) => T {
  let last: { readonly args: A; readonly answer: T } | null = null;
  return (...args) => {
    if (!last || args.some((arg, i) => arg !== last!.args[i])) last = { args, answer: make(...args) };
    return last.answer;
  };
}

/** What the views read of a state's results: the one place that knows where they come from. */
export interface Seen {
  readonly outcome: Workings | null;
  readonly scene: Scene;
}

const see = keepLast((...[job, outcome, angleDeg, caseId]: Parameters<typeof buildScene>): Seen => ({
  outcome,
  scene: buildScene(job, outcome, angleDeg, caseId),
}));

export const seen = ({ resolved, outcome, angleDeg, caseId }: BenchState): Seen =>
  see(resolved, outcome, angleDeg, caseId);
