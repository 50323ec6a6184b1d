import { type HowExact, howExactSteps } from '../../core/find';
import type { Job } from '../../core/job';
import { answerBy } from './answer';

answerBy((job: Job): Generator<HowExact, HowExact> => howExactSteps(job));
