import type { Issue } from '../../core/error';
import type { Job } from '../../core/job';
import type { Datum, Suggestion, SurveyResult } from '../../core/survey';

/** A job whose readings are to be adjusted; `run` names the answer. */
export interface SurveyRequest {
  readonly run: number;
  readonly job: Job;
}

export interface SurveyAnswer {
  readonly result: SurveyResult;
  readonly suggestion: Suggestion | null;
  readonly datum: Datum;
}

export type SurveyReply =
  | ({ readonly type: 'done'; readonly run: number } & SurveyAnswer)
  | { readonly type: 'failed'; readonly run: number; readonly issue: Issue };
