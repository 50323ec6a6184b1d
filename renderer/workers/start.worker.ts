import { jobOfSizes } from '../../core/start';
import { answerBy } from './answer';

answerBy(jobOfSizes);
