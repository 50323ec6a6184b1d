import { LidwrightError } from '../../core/error';
import { type Known, type ProveReply, type ProveRequest, handCurves, proveJob } from '../../core/prove';
import { adjustSurvey } from '../../core/survey';

const reply = (message: ProveReply): void => self.postMessage(message);

/** How well the points are known, where the job holds readings that say so. */
function knownOf({ raw }: ProveRequest): Known {
  if ((raw.observations?.length ?? 0) === 0) return {};
  try {
    const { points } = adjustSurvey(raw);
    const pointMm = new Map<string, number>();
    for (const { id, sigmaMm } of points) {
      const known = sigmaMm.filter((s): s is number => s !== null && s > 0);
      // one component of it, on the whole; a point that is fixed by decree or not determined keeps the usual doubt
      if (known.length === 3) pointMm.set(id, Math.sqrt(known.reduce((sum, s) => sum + s * s, 0) / 3));
    }
    return { pointMm };
  } catch (error) {
    // a survey that can't be adjusted says so in its own stage; here the usual doubts hold
    if (!(error instanceof LidwrightError)) throw error;
    return {};
  }
}

self.addEventListener('message', (event: MessageEvent<ProveRequest>) => {
  const request = event.data;
  const { run, job, units } = request;
  const start = performance.now();
  try {
    const proof = proveJob(job, knownOf(request), units);
    const first = proof.state === 'off' || proof.state === 'doubtful' ? proof.causes[0] : undefined;
    reply({
      type: 'done',
      run,
      proof,
      entered: handCurves(job),
      withCause: first ? handCurves(job, first.change) : null,
      tookMs: performance.now() - start,
    });
  } catch (error) {
    const issue =
      error instanceof LidwrightError
        ? error.issues[0]!
        : {
            what: error instanceof Error ? error.message : String(error),
            where: [],
            advice: 'Nothing was changed. Leave this stage and come back to try again.',
          };
    reply({ type: 'failed', run, issue });
  }
});
