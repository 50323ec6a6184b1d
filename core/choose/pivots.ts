import { attempt } from '../error';
import type { EndName, ResolvedJob } from '../job';
import { type Vec3, add, norm, scale, mapVec, axisVec } from '../space';

/** A pull on a pivot: which way to move it, and what that gives. */
export interface PivotPull {
  readonly end: EndName;
  /** The point's id. */
  readonly pointId: string;
  /** Unit direction in the pivot's own body (the lid's as closed); 0, 0, 0 where moving changes nothing. */
  readonly direction: Vec3;
  /** How much the quantity falls for 10 mm that way (first order), in its unit; 0 or more. */
  readonly perTenMm: number;
}

/** Pivots are moved so far either way for a slope, mm. */
const STEP_MM = 0.5;

/** The job with one end of a strut moved by `by`, mm, lid closed. The end's point is moved; whatever else uses it moves along. */
export function movedPivot(job: ResolvedJob, strutIndex: number, end: EndName, by: Vec3): ResolvedJob {
  const id = job.struts[strutIndex]![end];
  return { ...job, points: job.points.map((p) => (p.id === id ? { ...p, at: add(p.at as Vec3, by) } : p)) };
}

/**
 * For each end of a strut the direction that lowers a quantity most, by central differences of half a millimetre along
 * X, Y and Z. `quantity` gives it for a job; where it is not finite on one side the slope is 0 along that axis.
 */
export function steepestFall(
  job: ResolvedJob,
  strutIndex: number,
  quantity: (job: ResolvedJob) => number,
): readonly [PivotPull, PivotPull] {
  // a place where the job can't be computed at all has no slope
  const of = (moved: ResolvedJob): number => attempt(() => quantity(moved)).value ?? NaN;
  const pull = (end: EndName): PivotPull => {
    const slope = mapVec([0, 1, 2], (axis) => {
      const step = scale(axisVec(axis), STEP_MM);
      const value =
        (of(movedPivot(job, strutIndex, end, step)) - of(movedPivot(job, strutIndex, end, scale(step, -1)))) /
        (2 * STEP_MM);
      return Number.isFinite(value) ? value : 0;
    });
    const size = norm(slope);
    return {
      end,
      pointId: job.struts[strutIndex]![end],
      direction: size > 1e-12 ? scale(slope, -1 / size) : [0, 0, 0],
      perTenMm: size * 10,
    };
  };
  return [pull('base'), pull('lid')];
}
