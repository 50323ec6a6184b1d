import { type Issue, LidwrightError } from '../../core/error';
import { isAborted } from '../workers';
import { type BenchState, bench } from './store';

/** What is kept beside the bench: an answer, and what it answers; where that is no longer the present, it is stale. */
export interface Beside<Q, A> {
  readonly answer: A | null;
  readonly of: Q | null;
  readonly trouble: Issue | null;
  /** A newer answer is being worked out. */
  readonly busy: boolean;
  /** For so long that a person should be told. */
  readonly slow: boolean;
}

export const NOTHING: Beside<never, never> = { answer: null, of: null, trouble: null, busy: false, slow: false };
const SLOW_MS = 300;

/**
 * Asks about the bench whenever `of` picks another thing (null: nothing is to be asked) that has stood still for `afterMs`;
 * while a drag goes on only where `inDrag` says so. What comes back, or why nothing does, is told. Returns how to leave off.
 */
export function keepBeside<Q extends object, A>(args: {
  readonly of: (state: BenchState) => Q | null;
  readonly afterMs: number;
  readonly inDrag?: boolean;
  readonly ask: (question: Q, signal: AbortSignal) => A | Promise<A>;
  readonly tell: (told: Partial<Beside<Q, A>>) => void;
}): () => void {
  const { of, afterMs, inDrag = false, ask, tell } = args;
  let asked: Q | null = null;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let slow: ReturnType<typeof setTimeout> | undefined;
  let asking = new AbortController();

  const run = async (question: Q): Promise<void> => {
    asking = new AbortController();
    slow = setTimeout(() => tell({ slow: true }), SLOW_MS);
    let told: Partial<Beside<Q, A>>;
    try {
      told = { answer: await ask(question, asking.signal), trouble: null };
    } catch (error) {
      if (isAborted(error)) return;
      if (!(error instanceof LidwrightError)) throw error;
      told = { answer: null, trouble: error.issues[0]! };
    }
    if (asked !== question) return;
    clearTimeout(slow);
    tell({ ...told, of: question, busy: false, slow: false });
  };
  const look = (state: BenchState): void => {
    if (state.history.mark && !inDrag) return;
    const question = of(state);
    if (question === asked) return;
    asked = question;
    leave();
    if (question === null) return tell(NOTHING);
    tell({ busy: true });
    timer = setTimeout(() => void run(question), afterMs);
  };
  const leave = (): void => {
    clearTimeout(timer);
    clearTimeout(slow);
    asking.abort();
  };
  look(bench.getState());
  const off = bench.subscribe(look);
  return () => {
    off();
    leave();
  };
}
