import { moveObstaclePosed } from '../../../core/clearance';
import { moveZoneCornerPosed } from '../../../core/find';
import type { Job } from '../../../core/job';
import type { Vec3 } from '../../../core/space';
import { type DragStep, type MovedPoint, PosedMove } from '../../../core/survey';
import type { Plane } from '../../state/planes';
import { notify } from '../../state/store';
import { PROJECTIONS } from './projection';
import { OBSTACLE_HANDLE, ZONE_HANDLE } from './scene';

/** The moves of the point that is dragged: kept from one to the next, for they go on from the job at their start. */
let moves: PosedMove | null = null;

const movesOf = (start: Job | null, pointId: string): PosedMove | null =>
  moves && moves.job === start && moves.pointId === pointId ? moves : null;

/** How a drag that began from `start` stands: how far its point lags behind the pointer as seen, mm. Null: nothing holds it. */
export const relationLag = (start: Job | null, pointId: string): DragStep | null =>
  movesOf(start, pointId)?.step ?? null;

/** Measured points (no strut's ends) that a drag from `start` took along: a person should hear of those. */
export const measuredAlong = (start: Job | null, pointId: string): readonly MovedPoint[] =>
  movesOf(start, pointId)?.measuredAlong() ?? [];

/** The job with a point or an obstacle put where it is seen at `posed`, the lid standing at angleDeg; the depth of a view doesn't count. */
export function movePosed(job: Job, pointId: string, posed: Vec3, angleDeg: number, plane?: Plane): Job {
  if (pointId.startsWith(OBSTACLE_HANDLE))
    return moveObstaclePosed(job, pointId.slice(OBSTACLE_HANDLE.length), posed, angleDeg);
  if (pointId.startsWith(ZONE_HANDLE)) {
    const [, id, corner] = pointId.split('/') as [string, string, string];
    return moveZoneCornerPosed(job, { id, corner: Number(corner), posed, angleDeg });
  }
  moves = movesOf(job, pointId) ?? new PosedMove(job, pointId);
  const sight: [number, number, number] = [0, 0, 0];
  if (plane) sight[PROJECTIONS[plane].depth] = 1;
  return moves.to(posed, angleDeg, plane && sight);
}

/** The job after a nudge; says so where relations let the point go nowhere. */
export function saidIfHeld(before: Job, after: Job, pointId: string): Job {
  if (after === before && (relationLag(before, pointId)?.lagMm ?? 0) > 0)
    notify('What must hold keeps it: it can’t go that way.');
  return after;
}
