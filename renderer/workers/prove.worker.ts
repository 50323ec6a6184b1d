import { type ProveAnswer, type ProveQuestion, handCurves, proveJob } from '../../core/prove';
import { pointSigmas } from '../../core/survey';
import { answerBy } from './answer';

answerBy(({ raw, job, units }: ProveQuestion): ProveAnswer => {
  const start = performance.now();
  // a survey that can't be adjusted says so in its own stage; here the usual doubts hold
  const pointMm = pointSigmas(raw);
  const proof = proveJob(job, pointMm ? { pointMm } : {}, units);
  const first = proof.state === 'off' || proof.state === 'doubtful' ? proof.causes[0] : undefined;
  return {
    proof,
    entered: handCurves(job),
    withCause: first ? handCurves(job, first.change) : null,
    tookMs: performance.now() - start,
  };
});
