import { type Issue, LidwrightError } from '../../core/error';
import type { FromWorker, ToWorker } from './client';

/** Longest stretch of work between two looks at the message queue, ms. */
const STRETCH_MS = 16;

const scope = self as unknown as {
  postMessage(message: FromWorker, transfer: Transferable[]): void;
  addEventListener(type: 'message', hear: (event: MessageEvent<ToWorker>) => void): void;
};

const breathe = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

const issueOf = (error: unknown): Issue =>
  error instanceof LidwrightError
    ? error.issues[0]!
    : { what: error instanceof Error ? error.message : String(error), where: [], advice: 'Nothing was changed.' };

/** What a worker may do with a question: answer it, or yield how far it is on the way, where a cancel is heard. */
type Work<A, P> = A | Generator<P, A> | AsyncGenerator<P, A>;

const isSteps = <A, P>(work: Work<A, P>): work is Generator<P, A> | AsyncGenerator<P, A> =>
  typeof work === 'object' && work !== null && 'next' in work;

/** Answers all questions to this worker by `work`; `handedOver` names what of an answer is not copied. */
export function answerBy<Q, A, P = number>(
  work: (question: Q) => Work<A, P>,
  handedOver: (answer: A) => Transferable[] = () => [],
): void {
  let cancelled = 0;
  const run = async (id: number, question: Q): Promise<void> => {
    try {
      const made = work(question);
      let answer: A;
      if (isSteps(made)) {
        let since = performance.now();
        let step = await made.next();
        while (!step.done) {
          if (performance.now() - since >= STRETCH_MS) {
            scope.postMessage({ run: id, progress: step.value }, []);
            await breathe();
            if (cancelled === id) return scope.postMessage({ run: id, cancelled: true }, []);
            since = performance.now();
          }
          step = await made.next();
        }
        answer = step.value;
      } else answer = made;
      scope.postMessage({ run: id, answer }, handedOver(answer));
    } catch (error) {
      scope.postMessage({ run: id, issue: issueOf(error) }, []);
    }
  };
  scope.addEventListener('message', ({ data }) => {
    if ('cancel' in data) cancelled = data.cancel;
    else void run(data.run, data.question as Q);
  });
}
