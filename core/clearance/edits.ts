import { fail } from '../error';
import { type Job, type JobObstacle, type Path, append, freshId, indexOf, removeFrom, setValue, valueAt } from '../job';
import type { Vec3 } from '../space';

/** An obstacle as it is added: its id is found for it. */
export type NewObstacle = Omit<JobObstacle, 'id'>;

/** Adds an obstacle; its id is "obstacle", "obstacle2", … */
export function addObstacle(job: Job, args: { obstacle: NewObstacle }): Job {
  return append(job, 'obstacles', { id: freshId(job, 'obstacles', 'obstacle'), ...args.obstacle });
}

/** Removes an obstacle; throws a LidwrightError when it isn't there. */
export function removeObstacle(job: Job, args: { id: string }): Job {
  return removeFrom(job, 'obstacles', args.id);
}

/** The two coordinates that each view shows, and the one it looks along. */
const VIEW_AXES = { side: [0, 2, 1], top: [0, 1, 2], front: [1, 2, 0] } as const;

/**
 * Shifts an obstacle by `by` (mm, base frame, lid closed). A coordinate that a given or an expression holds stays held,
 * as with points. Kept to 1e-3 mm.
 */
export function moveObstacle(job: Job, args: { id: string; by: Vec3 }): Job {
  const i = indexOf(job, 'obstacles', args.id);
  if (!args.by.every(Number.isFinite))
    return fail('an obstacle can only be moved by finite lengths', ['obstacles', i], 'Type lengths.');
  const paths: [Path, number][] = [];
  const { box, cylinder, traced } = job.obstacles![i]!;
  for (const k of [0, 1, 2]) {
    if (box) paths.push([['box', 'centre', k], args.by[k]!]);
    if (cylinder) paths.push([['cylinder', 'from', k], args.by[k]!], [['cylinder', 'to', k], args.by[k]!]);
  }
  if (traced) {
    const [h, v, d] = VIEW_AXES[traced.view];
    traced.corners.forEach((_, n) =>
      paths.push([['traced', 'corners', n, 0], args.by[h]], [['traced', 'corners', n, 1], args.by[v]]),
    );
    paths.push([['traced', 'depthMm', 0], args.by[d]], [['traced', 'depthMm', 1], args.by[d]]);
  }
  let next = job;
  for (const [path, shift] of paths) {
    const full = ['obstacles', i, ...path];
    const raw = valueAt(job, full);
    if (typeof raw !== 'number' || Math.abs(shift) < 5e-7) continue;
    next = setValue(next, { path: full, value: Math.round((raw + shift) * 1000) / 1000 });
  }
  return next;
}
