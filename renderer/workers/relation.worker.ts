import { answerRelation } from '../../core/survey';
import { answerBy } from './answer';

answerBy(answerRelation);
