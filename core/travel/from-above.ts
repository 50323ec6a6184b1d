import { type Job, resolveJob, setValue } from '../job';
import { type Rad, atan2, toDeg } from '../space';
import { type Axis, openingAxis } from './pose';

/** A hinge nearer to upright than this hardly shows which way is up, degrees. */
export const NEARLY_UPRIGHT_DEG = 10;

export type Turn = 'clockwise' | 'anticlockwise';

/** How far a hinge leans from upright, degrees: 90 for a level one. */
export const leanDeg = ({ along }: Pick<Axis, 'along'>): number =>
  toDeg(atan2(Math.hypot(along[0], along[1]), Math.abs(along[2])) as Rad);

/** Which way the lid turns as it opens, seen from above. Says little of a hinge that is nearly level. */
export const turnOf = ({ opening }: Pick<Axis, 'opening'>): Turn => (opening[2] > 0 ? 'anticlockwise' : 'clockwise');

/** Writes `opens` so that the lid turns that way seen from above. Throws a LidwrightError where up and down say nothing. */
export function openTurning(job: Job, args: { turn: Turn }): Job {
  if (turnOf(openingAxis(resolveJob(job))) === args.turn) return job;
  return setValue(job, { path: ['hinge', 'opens'], value: job.hinge.opens === 'up' ? 'down' : 'up' });
}
