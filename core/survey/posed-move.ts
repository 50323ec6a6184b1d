import { attempt } from '../error';
import { type Job, movePoint, resolveJob } from '../job';
import { type Vec3, rad, rotateVec, toRad } from '../space';
import { type Axis, closedFrom, makeFrame } from '../travel';
import { type DragStep, type MovedPoint, RelationDrag } from './keep';
import { isRelated } from './network';

/** Targets are taken to a thousandth, as a free point's coordinates are, mm. */
const tidy = (v: number): number => Math.round(v * 1000) / 1000;

/** The axis of a job, or null while it can't be computed: the lid is then taken as closed. */
function axisOrNull(job: Job): Axis | null {
  return attempt(() => makeFrame(resolveJob(job)).axis).value;
}

/**
 * Moves of one point to where it is seen, all from the job at their start: made once, asked at every move of a drag.
 * A lid point is turned back to its closed place; base points don't turn. A point that takes part in relations goes as near
 * as they let it, and takes others along.
 */
export class PosedMove {
  private readonly held: RelationDrag | null;
  private last: DragStep | null = null;

  constructor(
    readonly job: Job,
    readonly pointId: string,
  ) {
    // what is wrong with the relations is said where they are listed; the point itself is free meanwhile
    this.held = attempt(() => (isRelated(job, pointId) ? new RelationDrag(job, pointId) : null)).value;
  }

  /** How the last move stands: how far the point lags behind, as seen, mm. Null where nothing holds it. */
  get step(): DragStep | null {
    return this.last;
  }

  /**
   * The job with the point where it is seen at `posed`, mm, the lid standing at angleDeg. `sight`: the unit direction that
   * the view looks along, which then doesn't count. A point that isn't there moves nothing.
   */
  to(posed: Vec3, angleDeg: number, sight?: Vec3): Job {
    const { job, pointId } = this;
    const point = job.points.find((p) => p.id === pointId);
    if (!point) return job;
    const axis = point.on === 'base' || angleDeg === 0 ? null : axisOrNull(job);
    if (!axis) return this.put(posed, sight);
    // relations speak of the closed lid: both the target and the line of sight are turned back to it
    const back = toRad(angleDeg);
    return this.put(closedFrom(axis, posed, back), sight && rotateVec(sight, axis.opening, rad(-back)));
  }

  private put(at: Vec3, sight: Vec3 | undefined): Job {
    if (!this.held) return movePoint(this.job, { id: this.pointId, at });
    this.last = this.held.to([tidy(at[0]), tidy(at[1]), tidy(at[2])], sight);
    return this.held.result();
  }

  /** Measured points (no strut's ends) that the last move took along: a person should hear of those. */
  measuredAlong(): readonly MovedPoint[] {
    const pivots = new Set(this.job.struts.flatMap((s) => [s.base, s.lid]));
    return (this.last?.moved ?? []).filter((m) => m.id !== this.pointId && !pivots.has(m.id));
  }
}
