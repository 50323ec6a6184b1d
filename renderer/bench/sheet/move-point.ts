import { type Job, heldCoordinates, moveObstacle, movePoint, resolveJob } from '../../../core/job';
import { type Vec3, sub, toRad } from '../../../core/space';
import { closedFrom, makeFrame } from '../../../core/travel';
import { LidwrightError } from '../../../core/error';
import { OBSTACLE_HANDLE, obstacleLines } from './scene-obstacles';

/**
 * The job with a point put where it is seen at `posed`, the lid standing at angleDeg: a lid point is turned back to its
 * closed place. Hinge points don't turn. While the job can't be computed the lid is taken as closed.
 */
export function movePosed(job: Job, pointId: string, posed: Vec3, angleDeg: number): Job {
  if (pointId.startsWith(OBSTACLE_HANDLE))
    return moveObstaclePosed(job, pointId.slice(OBSTACLE_HANDLE.length), posed, angleDeg);
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

/** An obstacle taken by its middle; one on the lid is turned back to its closed place. */
function moveObstaclePosed(job: Job, id: string, posed: Vec3, angleDeg: number): Job {
  const resolved = resolveJob(job);
  const obstacle = resolved.obstacles.find((o) => o.id === id);
  if (!obstacle) return job;
  const to =
    obstacle.on === 'lid' && angleDeg !== 0 ? closedFrom(makeFrame(resolved).axis, posed, toRad(angleDeg)) : posed;
  return moveObstacle(job, { id, by: sub(to, obstacleLines(obstacle).middle) });
}

/** Words for coordinates that a given holds: they don't follow a drag. */
export function heldWords(job: Job, pointId: string): string {
  const point = job.points.find((p) => p.id === pointId);
  if (!point) return '';
  const held = heldCoordinates(point);
  const names = ['X', 'Y', 'Z'].filter((_, i) => held[i]);
  return names.length > 0 ? `${names.join(' and ')} held by a given` : '';
}
