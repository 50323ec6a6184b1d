import { LidwrightError } from '../../core/error';
import { adjustSurvey, datumOf, suggestReading } from '../../core/survey';
import type { SurveyReply, SurveyRequest } from './survey-messages';

self.addEventListener('message', ({ data: { run, job } }: MessageEvent<SurveyRequest>) => {
  const reply = (message: SurveyReply): void => self.postMessage(message);
  try {
    const result = adjustSurvey(job);
    reply({ type: 'done', run, result, suggestion: suggestReading(job, result), datum: datumOf(job) });
  } catch (error) {
    const issue =
      error instanceof LidwrightError
        ? error.issues[0]!
        : {
            what: `the readings could not be adjusted: ${error instanceof Error ? error.message : String(error)}`,
            where: [],
            advice: 'Nothing was changed.',
          };
    reply({ type: 'failed', run, issue });
  }
});
