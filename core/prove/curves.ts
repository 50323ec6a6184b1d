import type { ResolvedJob } from '../job';
import { sweep, travelAngles } from '../travel';
import { patchPlan } from './patch';
import { proofCondition } from './read-job';
import { makeTrial, opensToDeg } from './trial';
import type { Change } from './types';

/** Hand force at the grip over the travel, square to its arm, N; NaN where a strut is out of its stroke. */
export interface HandCurves {
  readonly angleDeg: Float64Array;
  readonly openingN: Float64Array;
  readonly closingN: Float64Array;
}

/** Hand force over the travel in the proof's condition, with a change in it. Throws a LidwrightError as makeTrial does. */
export function handCurves(job: ResolvedJob, change: Change = {}): HandCurves {
  const trial = makeTrial(job);
  const plan = patchPlan(trial.plan({ ...proofCondition(job), strutsOff: false }), change, trial.directions);
  const table = sweep(plan, travelAngles(opensToDeg(plan)));
  return { angleDeg: table.angleDeg, openingN: table.handOpeningN, closingN: table.handClosingN };
}
