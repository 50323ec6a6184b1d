import { type Job, heldCoordinates, movePoint } from '../../../core/job';
import { type Vec3, toRad } from '../../../core/space';
import { closedFrom, makeFrame } from '../../../core/travel';
import { resolveJob } from '../../../core/job';
import { LidwrightError } from '../../../core/error';

/**
 * The job with a point put where it is seen at `posed`, the lid standing at angleDeg: a lid point is turned back to its
 * closed place. Hinge points don't turn. While the job can't be computed the lid is taken as closed.
 */
export function movePosed(job: Job, pointId: string, posed: Vec3, angleDeg: number): Job {
  const point = job.points.find((p) => p.id === pointId);
  if (!point) return job;
  if (point.on === 'base' || angleDeg === 0) return movePoint(job, { id: pointId, at: posed });
  try {
    const axis = makeFrame(resolveJob(job)).axis;
    return movePoint(job, { id: pointId, at: closedFrom(axis, posed, toRad(angleDeg)) });
  } catch (error) {
    if (!(error instanceof LidwrightError)) throw error;
    return movePoint(job, { id: pointId, at: posed });
  }
}

/** Words for coordinates that a given holds: they don't follow a drag. */
export function heldWords(job: Job, pointId: string): string {
  const point = job.points.find((p) => p.id === pointId);
  if (!point) return '';
  const held = heldCoordinates(point);
  const names = ['X', 'Y', 'Z'].filter((_, i) => held[i]);
  return names.length > 0 ? `${names.join(' and ')} held by a given` : '';
}
