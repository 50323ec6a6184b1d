import { norm, perpendicularTo, sub } from '../space';
import { momentLaw, validRuns } from './moment';
import type { Plan } from './plan';

/**
 * What the latch must hold with the lid shut, N: the moment that opens it, friction not counted as holding, over the latch's
 * distance from the hinge axis. Null without a latch, with one on the axis, and where a strut can't be there when shut.
 */
export function latchN(plan: Plan): number | null {
  const at = plan.job.latch && plan.points.get(plan.job.latch.at);
  if (!at || validRuns(plan)[0]?.[0] !== 0) return null;
  const armMm = norm(perpendicularTo(sub(at, plan.axis.origin), plan.axis.along));
  return armMm > NO_ARM_MM ? Math.max(0, momentLaw(plan).at(0).value) / armMm : null;
}

/** A latch nearer to the hinge axis than this holds nothing, mm. */
const NO_ARM_MM = 1e-6;
