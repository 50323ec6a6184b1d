import type { StrengthModel } from './model';
import type { DemandCapacity } from './types';

/** A rectangle round a hole's middle, in two coordinates from it, mm. */
export interface Box {
  readonly a: readonly number[];
  readonly b: readonly number[];
}

/** Distance from the origin to a box's edge along a direction, mm. */
function ray(box: Box, da: number, db: number): number {
  const hit = (d: number, [low, high]: readonly number[]): number =>
    Math.abs(d) < 1e-12 ? Infinity : d > 0 ? high! / d : low! / d;
  return Math.max(0, Math.min(hit(da, box.a), hit(db, box.b)));
}

/** Distances for EN 1993-1-8 table 3.4 from a hole's middle: ahead of the force to the edge, and to the nearer edge beside it, mm. */
export function boxDistances(box: Box, force: readonly [number, number]): { endMm: number; sideMm: number } {
  const size = Math.hypot(force[0], force[1]);
  if (!(size > 0)) return { endMm: Infinity, sideMm: Infinity };
  const [a, b] = [force[0] / size, force[1] / size];
  return { endMm: ray(box, a, b), sideMm: Math.min(ray(box, -b, a), ray(box, b, -a)) };
}

const useOf = ({ demand, capacity }: DemandCapacity): number => (demand === 0 ? 0 : demand / capacity);

/** The worst of several demands with capacities of their own; at least one. */
export const worst = (each: readonly DemandCapacity[]): DemandCapacity =>
  each.reduce((a, b) => (useOf(b) > useOf(a) ? b : a));

/**
 * Bearing at a hole under a skew force: its parts square to the edges are looked at one by one, each with its own end and side
 * distance. Source: EN 1993-1-8 table 3.4, note on loads not parallel to an edge.
 */
export function bearingByParts(
  force: readonly [number, number],
  box: Box,
  capacity: (endMm: number, sideMm: number) => number,
): DemandCapacity {
  return worst(
    (
      [
        [force[0], 0],
        [0, force[1]],
      ] as const
    ).map((part) => {
      const { endMm, sideMm } = boxDistances(box, part);
      return { demand: Math.hypot(...part), capacity: capacity(endMm, sideMm) };
    }),
  );
}

/** Half the width of the fixed leg at a place along it, mm: tabs and wedge plates taper over their whole length. */
export function halfWidthMm(model: Pick<StrengthModel, 'spec' | 'plate'>, xMm: number): number {
  const { spec, plate } = model;
  const { baseWidthMm, topWidthMm, baseLegMm, uprightLegMm } = spec;
  const share = uprightLegMm > 0 ? 0 : Math.min(1, Math.max(0, (xMm - plate.xMinMm) / baseLegMm));
  return (baseWidthMm + (topWidthMm - baseWidthMm) * share) / 2;
}
