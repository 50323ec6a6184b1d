import { LidwrightError, formatPath } from '../../core/error';

/** The error that `run` must end in; fails when it ends otherwise or says nothing to a person. */
export function refusal(run: () => unknown): LidwrightError {
  let value: unknown;
  try {
    value = run();
  } catch (error) {
    if (!(error instanceof LidwrightError)) throw error;
    for (const issue of error.issues) {
      if (issue.what.trim() === '') throw new Error('an issue says nothing', { cause: error });
      if (issue.advice.trim() === '') throw new Error(`no advice with "${issue.what}"`, { cause: error });
    }
    return error;
  }
  throw new Error(`it was taken: ${JSON.stringify(value)?.slice(0, 200)}`);
}

/** "points[3].at[0]: what" of every issue. */
export const said = (error: LidwrightError): string[] =>
  error.issues.map((issue) => `${formatPath(issue.where)}: ${issue.what}`);
