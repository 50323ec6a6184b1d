import { LidwrightError } from '../../core/error';
import { type ChooseReply, type ChooseRequest, condense, rankSteps } from '../../core/choose';

/** Longest stretch of work between two looks at the message queue, ms. */
const STRETCH_MS = 24;

let current = 0;
const reply = (message: ChooseReply): void => self.postMessage(message);
const breathe = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

async function run(request: Extract<ChooseRequest, { type: 'start' }>): Promise<void> {
  const { run: id, job, list, strutId, leastOpenDeg, mostRanked } = request;
  const start = performance.now();
  try {
    const steps = rankSteps(job, list, { strutId, leastOpenDeg });
    let stretch = performance.now();
    for (;;) {
      const step = steps.next();
      if (step.done) {
        reply({ type: 'done', run: id, ranking: condense(step.value, mostRanked), tookMs: performance.now() - start });
        return;
      }
      if (performance.now() - stretch < STRETCH_MS) continue;
      reply({ type: 'progress', run: id, share: step.value });
      await breathe();
      if (current !== id) {
        reply({ type: 'cancelled', run: id });
        return;
      }
      stretch = performance.now();
    }
  } catch (error) {
    const issue =
      error instanceof LidwrightError
        ? error.issues[0]!
        : {
            what: error instanceof Error ? error.message : String(error),
            where: [],
            advice: 'The list was not tried. Nothing was changed.',
          };
    reply({ type: 'failed', run: id, issue });
  }
}

self.addEventListener('message', (event: MessageEvent<ChooseRequest>) => {
  const request = event.data;
  if (request.type === 'cancel') {
    if (request.run === current) current = -1;
    return;
  }
  current = request.run;
  void run(request);
});
