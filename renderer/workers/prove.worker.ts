import { LidwrightError } from '../../core/error';
import { type Known, type ProveAnswer, type ProveQuestion, handCurves, proveJob } from '../../core/prove';
import { adjustSurvey } from '../../core/survey';
import { answerBy } from './answer';

/** How well the points are known, where the job holds readings that say so. */
function knownOf({ raw }: ProveQuestion): Known {
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

answerBy((question: ProveQuestion): ProveAnswer => {
  const { job, units } = question;
  const start = performance.now();
  const proof = proveJob(job, knownOf(question), units);
  const first = proof.state === 'off' || proof.state === 'doubtful' ? proof.causes[0] : undefined;
  return {
    proof,
    entered: handCurves(job),
    withCause: first ? handCurves(job, first.change) : null,
    tookMs: performance.now() - start,
  };
});
