import { attempt } from '../error';
import { type Job, resolveJob } from '../job';
import { type Vec3, toRad } from '../space';
import { openingAxis, poseAt } from '../travel';

/** A spot of a picture, mm, right and up. */
export type Spot = readonly [number, number];

/** A lid as a small picture shows it, seen along its hinge. */
export interface LidFigure {
  readonly shut: readonly Spot[];
  readonly open: readonly Spot[];
  /** The way of the corner furthest from the hinge. */
  readonly swing: readonly Spot[];
  readonly struts: readonly (readonly [Spot, Spot])[];
  /** Centres of what has a mass, lid shut, and each's share of the heaviest. */
  readonly masses: readonly { readonly at: Spot; readonly share: number }[];
  readonly hinge: Spot;
  /** Where a mount may stand on the base: walls, as far as they are known. */
  readonly walls: readonly (readonly Spot[])[];
}

/** Steps of the swing, degrees. */
const STEP_DEG = 3;

/** The picture of a job; null where the job has no lid to draw. It is seen along the axis that its hinge lies nearest to. */
export function lidFigure(job: Job): LidFigure | null {
  const { value } = attempt((): LidFigure | null => {
    const resolved = resolveJob(job);
    const { points, outline, hinge, travel, masses, struts, grip } = resolved;
    const at = new Map(points.map((p) => [p.id, p.at]));
    const axis = openingAxis(resolved);
    const [ax, ay, az] = axis.along.map(Math.abs) as [number, number, number];
    const seen = ([x, y, z]: Vec3): Spot => (az > Math.max(ax, ay) ? [-y, x] : ax > ay ? [-y, z] : [x, z]);
    const corners = (outline.length > 2 ? outline : [hinge.a, grip]).map((id) => at.get(id)!);
    const turn = (p: Vec3, angle: number): Vec3 => poseAt(axis, p, toRad(angle));
    const [hx, hy] = seen(axis.origin);
    const away = (p: Vec3): number => Math.hypot(seen(p)[0] - hx, seen(p)[1] - hy);
    const far = corners.reduce((best, p) => (away(p) > away(best) ? p : best));
    const steps = Math.max(2, Math.ceil(travel.openDeg / STEP_DEG));
    const heaviest = Math.max(...masses.map((m) => m.kg), 1e-9);
    return {
      shut: corners.map(seen),
      open: corners.map((p) => seen(turn(p, travel.openDeg))),
      swing: Array.from({ length: steps + 1 }, (_, i) => seen(turn(far, (travel.openDeg * i) / steps))),
      struts: struts.map((s) => [seen(at.get(s.base)!), seen(at.get(s.lid)!)]),
      masses: masses.map((m) => ({ at: seen(at.get(m.at)!), share: m.kg / heaviest })),
      hinge: [hx, hy],
      walls: resolved.zones.filter((z) => z.on === 'base').map((z) => z.corners.map(seen)),
    };
  });
  return value ?? null;
}
