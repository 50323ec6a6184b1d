import type { Job } from '../../core/job';
import {
  type Datum,
  type Suggestion,
  type SurveyResult,
  adjustSurvey,
  datumOf,
  suggestReading,
} from '../../core/survey';
import { answerBy } from './answer';

export interface SurveyAnswer {
  readonly result: SurveyResult;
  readonly suggestion: Suggestion | null;
  readonly datum: Datum;
}

answerBy((job: Job): SurveyAnswer => {
  const result = adjustSurvey(job);
  return { result, suggestion: suggestReading(job, result), datum: datumOf(job) };
});
