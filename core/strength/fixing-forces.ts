import { type Vec3, cross } from '../space';
import { type GroupBolt, inPlaneForces, liftForces } from './group';
import type { StrengthModel } from './model';

/** What a force at the ball does to the fixings. */
export interface FixingForces {
  readonly shearN: readonly (readonly [number, number])[];
  /** Null: the pivot edge runs through the fixings, nothing holds it down. */
  readonly tensionN: readonly number[] | null;
  /** Where the mount presses back, total, N. */
  readonly contactN: number;
  /** Torque about a single fixing's axis, N·mm. */
  readonly spinNmm: number;
  /** False: slots let it slide, only friction holds until they end. */
  readonly held: boolean;
}

/** The group of a model's fixings, ready to be asked for any force. */
export function fixingForces(model: StrengthModel): (force: Vec3) => FixingForces {
  const known = READY.get(model) ?? ready(model);
  READY.set(model, known);
  return known;
}

/** Several checks ask for the same forces of the same model. */
const READY = new WeakMap<StrengthModel, (force: Vec3) => FixingForces>();

function ready(model: StrengthModel): (force: Vec3) => FixingForces {
  const asked = new WeakMap<Vec3, FixingForces>();
  const group: GroupBolt[] = model.fixings.map((f) => ({
    xMm: f.centreMm[0],
    yMm: f.centreMm[1],
    slot: f.slotMm > 0 ? [f.slotAxis[0], f.slotAxis[1]] : null,
  }));
  const n = group.length;
  const work = (force: Vec3): FixingForces => {
    const m = cross(model.ballMm, force);
    const plane = inPlaneForces(group, force[0], force[1], m[2]);
    const lift = liftForces(group, model.footprint, force[2], m[0], m[1]);
    const one = group[0]!;
    return {
      shearN: plane?.forcesN ?? group.map(() => [force[0] / n, force[1] / n] as const),
      tensionN: lift?.tensionN ?? null,
      contactN: lift?.contacts.reduce((sum, c) => sum + c.forceN, 0) ?? 0,
      spinNmm: n === 1 ? m[2] - (one.xMm * force[1] - one.yMm * force[0]) : 0,
      held: plane !== null,
    };
  };
  return (force) => {
    const found = asked.get(force) ?? work(force);
    asked.set(force, found);
    return found;
  };
}
