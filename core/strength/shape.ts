import { type BracketSpec, isBent, isPinned, type PlacedHole } from '../bracket';
import type { Footprint } from './group';

/** What lies where on the fixed leg: its plate, for edge distances, and the part of it that sits on the mount. */
export interface Plates {
  readonly plate: Footprint;
  readonly footprint: Footprint;
}

/** Where the base lies on its mount and what of it presses there, mm in the bracket frame, and the base plate itself. */
export function footprints(spec: BracketSpec, fixings: readonly PlacedHole[]): Plates {
  const { baseLegMm, baseWidthMm, thicknessMm, insideRadiusMm, studHole } = spec;
  const centre = -studHole.acrossMm;
  const bent = isBent(spec);
  const takes = thicknessMm + insideRadiusMm;
  const half = baseWidthMm / 2;
  const beyond = bent ? 0 : studHole.fromEndMm;
  const plate = { xMinMm: beyond - baseLegMm, xMaxMm: beyond, yMinMm: centre - half, yMaxMm: centre + half };
  if (isPinned(spec)) return { plate, footprint: { ...plate, xMinMm: takes - baseLegMm, xMaxMm: -takes } };
  if (bent) return { plate, footprint: { ...plate, xMaxMm: -takes } };
  // a taper: the narrowest part of what lies on the mount
  const narrow = (xMaxMm: number): Footprint => {
    const least = Math.min(half, halfWidthMm({ spec, plate }, xMaxMm));
    return { ...plate, xMaxMm, yMinMm: centre - least, yMaxMm: centre + least };
  };
  if (spec.wedge) return { plate, footprint: narrow(plate.xMaxMm) };
  // a tab stands out over the edge of its mount: how far before the stud that edge lies is not in the job
  const row = Math.max(...fixings.map((f) => f.centreMm[0]), plate.xMinMm);
  const hole = fixings[0]?.diameterMm ?? studHole.diameterMm;
  const xMaxMm = fixings.length > 0 ? Math.min(row + 1.5 * hole, row / 2) : -1.5 * hole;
  return { plate, footprint: narrow(Math.max(xMaxMm, row)) };
}

/** Half the width of the fixed leg at a place along it, mm: tabs and wedge plates taper over their whole length. */
export function halfWidthMm({ spec, plate }: { spec: BracketSpec; plate: Footprint }, xMm: number): number {
  const { baseWidthMm, topWidthMm, baseLegMm, uprightLegMm } = spec;
  const share = uprightLegMm > 0 ? 0 : Math.min(1, Math.max(0, (xMm - plate.xMinMm) / baseLegMm));
  return (baseWidthMm + (topWidthMm - baseWidthMm) * share) / 2;
}

/** Width of the upright at a height over the mount, mm: tapers straight from the bend to the top. */
export function uprightWidthMm(spec: BracketSpec, heightMm: number): number {
  const { baseWidthMm, topWidthMm, uprightLegMm, thicknessMm, insideRadiusMm } = spec;
  const from = thicknessMm + insideRadiusMm;
  const share = Math.min(1, Math.max(0, (heightMm - from) / Math.max(uprightLegMm - from, 1e-9)));
  return baseWidthMm + (topWidthMm - baseWidthMm) * share;
}

/** From a hole's middle to the nearest other one's, mm; Infinity where it is alone. */
export const pitchMm = (hole: PlacedHole, all: readonly PlacedHole[]): number =>
  Math.min(
    ...all
      .filter((h) => h !== hole)
      .map((h) => Math.hypot(h.centreMm[0] - hole.centreMm[0], h.centreMm[1] - hole.centreMm[1])),
  );
