import { attempt } from '../error';
import type { Job } from '../job';
import { adjustSurvey } from './adjust';

/**
 * How well each point is known by a job's readings: σ of one component, on the whole, mm. Points that are fixed by decree or
 * not determined are left out; null without readings, or where they can't be adjusted.
 */
export function pointSigmas(job: Job): ReadonlyMap<string, number> | null {
  if ((job.observations?.length ?? 0) === 0) return null;
  const survey = attempt(() => adjustSurvey(job)).value;
  if (!survey) return null;
  const found = new Map<string, number>();
  for (const { id, sigmaMm } of survey.points) {
    const known = sigmaMm.filter((s): s is number => s !== null && s > 0);
    if (known.length === 3) found.set(id, Math.sqrt(known.reduce((sum, s) => sum + s * s, 0) / 3));
  }
  return found;
}
