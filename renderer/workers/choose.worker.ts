import { type ChooseAnswer, type ChooseQuestion, condense, planesOf, rankSteps } from '../../core/choose';
import { answerBy } from './answer';

/** More than this can't be told apart on a plane. */
const MOST_MARKED = 6000;

function* choose(question: ChooseQuestion): Generator<number, ChooseAnswer> {
  const { job, list, strutId, leastOpenDeg, units, mostRanked } = question;
  const start = performance.now();
  const ranking = yield* rankSteps(job, list, { strutId, leastOpenDeg, units });
  const shown = condense(ranking, mostRanked);
  return {
    ranking: shown,
    others: ranking.tried > MOST_MARKED ? [] : ranking.refused,
    planes: planesOf(job, list, shown),
    tookMs: performance.now() - start,
  };
}

answerBy(choose);
