import type { ResolvedJob, Spec } from '../job';
import type { StrutListEntry } from '../strut';
import { type Geometry, geometryOf } from './geometry';
import { type Ranking, defaultLeastOpenDeg, entrySpec, nearestFirst } from './rank';
import { type Bound, type ForceBound, type LengthWindow, forceWindow, lengthWindow, openBody } from './window';

/** Where struts of one stroke do it: for lengths between the window's ends, the forces that meet the strut's own demands. */
export interface ForcePlane {
  readonly strokeMm: number;
  readonly rodMm: number;
  /** The window of lengths for the job as it is: where the strut is to be the stop, those with which it is. */
  readonly length: LengthWindow;
  /** Where some force does it, lengths ascending; two where a strut so long that the lid's own most stops it does too. */
  readonly regions: readonly PlaneRegion[];
}

/** Lengths that lie together, what bounds them, and the forces at each; null: nothing bounds it there. */
export interface PlaneRegion {
  readonly from: Bound;
  readonly to: Bound;
  readonly edge: readonly {
    readonly extendedMm: number;
    readonly least: ForceBound | null;
    readonly most: ForceBound | null;
  }[];
}

/** Lengths at which a plane's edge is worked out. */
const LENGTHS = 24;
/** Strokes that are looked at, most. */
const STROKES = 5;

/**
 * The plane of extended length (mm) × nominal force (N) for a body's stroke: each of its edges is exact at the lengths given,
 * by `lengthWindow` and `forceWindow`. What hangs on the rest of the job (brackets, clearances, ratings) is not in it.
 */
export function forcePlane(g: Geometry, spec: Spec, leastOpenDeg: number): ForcePlane {
  const { strokeMm, rodMm } = spec;
  const length = lengthWindow(g, strokeMm, leastOpenDeg);
  const windows = [length];
  // so long that another stops the lid, a strut needs its reserve open as any does
  if (g.job.travel.stop === 'strut') windows.push(lengthWindow(g, strokeMm, leastOpenDeg, false));
  const regions = windows.flatMap(({ fromMm, widthMm, empty, from, to }): PlaneRegion[] => {
    if (empty) return [];
    const edge = Array.from({ length: LENGTHS + 1 }, (_, i) => fromMm + (widthMm * i) / LENGTHS).flatMap(
      (extendedMm) => {
        const window = forceWindow(g, { ...openBody(spec), extendedMm });
        return window.empty ? [] : [{ extendedMm, least: window.least, most: window.most }];
      },
    );
    return edge.length > 0 ? [{ from, to, edge }] : [];
  });
  return { strokeMm, rodMm, length, regions };
}

/** Planes of the strokes that come first in a ranking, and of the strut's own; strokes ascending, each with its best body. */
export function planesOf(job: ResolvedJob, list: readonly StrutListEntry[], ranking: Ranking): ForcePlane[] {
  const g = geometryOf(job, ranking.strutId);
  const bodies = new Map<number, Spec>([[g.strut.spec.strokeMm, g.strut.spec]]);
  const first = new Set<number>();
  for (const { entry, forceN } of [...ranking.ranked, ...nearestFirst(ranking.refused, STROKES * 2)]) {
    const { strokeMm } = list[entry]!;
    if (first.has(strokeMm)) continue;
    if (bodies.size >= STROKES && !bodies.has(strokeMm)) break;
    first.add(strokeMm);
    bodies.set(strokeMm, entrySpec(list[entry]!, forceN));
  }
  const leastOpenDeg = defaultLeastOpenDeg(job);
  return [...bodies.values()].sort((a, b) => a.strokeMm - b.strokeMm).map((spec) => forcePlane(g, spec, leastOpenDeg));
}
