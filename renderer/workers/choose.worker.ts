import { type ChooseAnswer, type ChooseQuestion, condense, rankSteps } from '../../core/choose';
import { answerBy } from './answer';

function* choose(question: ChooseQuestion): Generator<number, ChooseAnswer> {
  const { job, list, strutId, leastOpenDeg, units, mostRanked } = question;
  const start = performance.now();
  const ranking = yield* rankSteps(job, list, { strutId, leastOpenDeg, units });
  return { ranking: condense(ranking, mostRanked), tookMs: performance.now() - start };
}

answerBy(choose);
