import type { PlacedHole } from '../bracket';
import { type Vec3, cross } from '../space';
import { type Footprint, type GroupBolt, type Lift, inPlaneForces, liftForces } from './group';

/** What a force at the ball does to the fixings. */
export interface FixingForces {
  readonly shearN: readonly (readonly [number, number])[];
  /** Null: the pivot edge runs through the fixings, nothing holds it down. */
  readonly tensionN: readonly number[] | null;
  /** Where the mount presses back. */
  readonly contacts: Lift['contacts'];
  /** Torque about a single fixing's axis, N·mm. */
  readonly spinNmm: number;
  /** False: slots let it slide, only friction holds until they end. */
  readonly held: boolean;
}

/** The group of a bracket's fixings, ready to be asked; several checks ask with the same vectors, which it remembers. */
export function fixingForces(
  ballMm: Vec3,
  footprint: Footprint,
  fixings: readonly PlacedHole[],
): (force: Vec3) => FixingForces {
  const group: GroupBolt[] = fixings.map((f) => ({
    xMm: f.centreMm[0],
    yMm: f.centreMm[1],
    slot: f.slotMm > 0 ? [f.slotAxis[0], f.slotAxis[1]] : null,
  }));
  const n = group.length;
  const work = (force: Vec3): FixingForces => {
    const m = cross(ballMm, force);
    const plane = inPlaneForces(group, force[0], force[1], m[2]);
    const lift = liftForces(group, footprint, force[2], m[0], m[1]);
    const one = group[0]!;
    return {
      shearN: plane?.forcesN ?? group.map(() => [force[0] / n, force[1] / n] as const),
      tensionN: lift?.tensionN ?? null,
      contacts: lift?.contacts ?? [],
      spinNmm: n === 1 ? m[2] - (one.xMm * force[1] - one.yMm * force[0]) : 0,
      held: plane !== null,
    };
  };
  const asked = new Map<Vec3, FixingForces>();
  return (force) => {
    const found = asked.get(force) ?? work(force);
    asked.set(force, found);
    return found;
  };
}
