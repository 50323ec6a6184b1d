import type { ResolvedJob } from '../job';
import { type Vec3, add, scale } from '../space';

/** Mass together (kg) and its centre, lid closed, base axes, mm; null where nothing is on. `off`: ids of masses that are not. */
export function massCentre(
  { masses, points }: Pick<ResolvedJob, 'masses' | 'points'>,
  off: readonly string[] = [],
): { readonly kg: number; readonly at: Vec3 } | null {
  const places = new Map(points.map((p) => [p.id, p.at]));
  const on = masses.filter((m) => !off.includes(m.id) && places.has(m.at));
  const kg = on.reduce((sum, m) => sum + m.kg, 0);
  if (!(kg > 0)) return null;
  return { kg, at: on.reduce<Vec3>((sum, m) => add(sum, scale(places.get(m.at)!, m.kg / kg)), [0, 0, 0]) };
}
