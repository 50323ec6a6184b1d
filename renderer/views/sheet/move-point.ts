import { moveObstacle } from '../../../core/clearance';
import { type Job, heldCoordinates, movePoint, resolveJob } from '../../../core/job';
import { type Vec3, rotateVec, sub, toRad } from '../../../core/space';
import { type DragStep, type MovedPoint, RelationDrag, isRelated } from '../../../core/survey';
import { type Axis, closedFrom, makeFrame } from '../../../core/travel';
import { LidwrightError } from '../../../core/error';
import type { Plane } from '../../state/planes';
import { notify } from '../../state/store';
import { PROJECTIONS } from './projection';
import { OBSTACLE_HANDLE, obstacleLines } from './scene-obstacles';

/** A drag that relations hold, kept between its moves: it goes on from the job at its start. */
let session: {
  readonly job: Job;
  readonly pointId: string;
  readonly drag: RelationDrag;
  step: DragStep | null;
} | null = null;

/** The drag of a point that takes part in relations in use; null where it takes part in none, or they are spoilt. */
function relationDrag(job: Job, pointId: string): NonNullable<typeof session> | null {
  if (session?.job === job && session.pointId === pointId) return session;
  if (!isRelated(job, pointId)) return null;
  try {
    return (session = { job, pointId, drag: new RelationDrag(job, pointId), step: null });
  } catch (error) {
    // what is wrong with them is said where they are listed; the point itself is free meanwhile
    if (!(error instanceof LidwrightError)) throw error;
    return null;
  }
}

/** How a drag that began from `start` stands: how far its point lags behind the pointer as seen, mm. Null: nothing holds it. */
export const relationLag = (start: Job | null, pointId: string): DragStep | null =>
  session && session.job === start && session.pointId === pointId ? session.step : null;

/** Measured points (no strut's ends) that a drag from `start` took along: a person should hear of those. */
export function measuredAlong(start: Job | null, pointId: string): readonly MovedPoint[] {
  const pivots = new Set((start?.struts ?? []).flatMap((s) => [s.base, s.lid]));
  return (relationLag(start, pointId)?.moved ?? []).filter((m) => m.id !== pointId && !pivots.has(m.id));
}

/** Targets are taken to a thousandth, as a free point's coordinates are, mm. */
const tidy = (v: number): number => Math.round(v * 1000) / 1000;

/**
 * The job with a point put where it is seen at `posed`, the lid standing at angleDeg: a lid point is turned back to its
 * closed place. Hinge points don't turn. While the job can't be computed the lid is taken as closed.
 * A point that takes part in relations goes as near as they let it, and takes others along; `plane` is the view that it is
 * seen in, whose depth doesn't count.
 */
export function movePosed(job: Job, pointId: string, posed: Vec3, angleDeg: number, plane?: Plane): Job {
  if (pointId.startsWith(OBSTACLE_HANDLE))
    return moveObstaclePosed(job, pointId.slice(OBSTACLE_HANDLE.length), posed, angleDeg);
  const point = job.points.find((p) => p.id === pointId);
  if (!point) return job;
  const sight: Vec3 | undefined = plane && ([0, 1, 2].map((k) => (k === PROJECTIONS[plane].depth ? 1 : 0)) as never);
  const put = (at: Vec3, along: Vec3 | undefined): Job => {
    const held = relationDrag(job, pointId);
    if (!held) return movePoint(job, { id: pointId, at });
    held.step = held.drag.to([tidy(at[0]), tidy(at[1]), tidy(at[2])], along);
    return held.drag.result();
  };
  if (point.on === 'base' || angleDeg === 0) return put(posed, sight);
  let axis: Axis;
  try {
    axis = makeFrame(resolveJob(job)).axis;
  } catch (error) {
    if (!(error instanceof LidwrightError)) throw error;
    return put(posed, sight);
  }
  // relations speak of the closed lid: both the target and the line of sight are turned back to it
  return put(closedFrom(axis, posed, toRad(angleDeg)), sight && rotateVec(sight, axis.opening, -toRad(angleDeg)));
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

/** The job after a nudge; says so where relations let the point go nowhere. */
export function saidIfHeld(before: Job, after: Job, pointId: string): Job {
  if (after === before && (relationLag(before, pointId)?.lagMm ?? 0) > 0)
    notify('The relations hold it: it can’t go that way.');
  return after;
}

/** Words for coordinates that a given holds: they don't follow a drag. */
export function heldWords(job: Job, pointId: string): string {
  const point = job.points.find((p) => p.id === pointId);
  if (!point) return '';
  const held = heldCoordinates(point);
  const names = ['X', 'Y', 'Z'].filter((_, i) => held[i]);
  return names.length > 0 ? `${names.join(' and ')} held by a given` : '';
}
