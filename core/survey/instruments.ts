import type { Observation, ObservationKind } from '../job';

/**
 * How sure a reading is where its row does not say: one standard deviation, for a reading taken with care by hand.
 * Common practice, no source: two readings in three lie within it. Sag, parallax and a mark's own width are in it.
 */
export const USUAL_SIGMA: Readonly<
  Record<
    ObservationKind,
    { readonly sigmaMm?: number; readonly sigmaDeg?: number; readonly sigmaPx?: number; readonly tool: string }
  >
> = {
  tape: { sigmaMm: 1, tool: 'tape measure, pulled straight from centre to centre' },
  coordinate: { sigmaMm: 1, tool: 'rule and square from the datum plane' },
  'height-difference': { sigmaMm: 1, tool: 'spirit or water level and rule' },
  'on-line': { sigmaMm: 1, tool: 'string or straightedge' },
  'on-plane': { sigmaMm: 1, tool: 'straightedge laid across' },
  'angle-level': { sigmaDeg: 0.2, tool: 'digital angle gauge' },
  'angle-between': { sigmaDeg: 0.3, tool: 'digital angle gauge, zeroed on the first line' },
  'mirror-twin': { sigmaMm: 2, tool: 'taken as built alike on both sides' },
  'square-corner': { sigmaMm: 2, tool: 'taken as square: how far off at the end of the shorter side' },
  rectangle: { sigmaMm: 2, tool: 'taken as a flat rectangle: how far a corner lies off it' },
  'known-length': { sigmaMm: 0.5, tool: "data sheet or the part's own mark" },
  'photo-mark': { sigmaPx: 1, tool: 'clicked on the photo, zoomed in' },
};

/** Standard deviation of a reading in its own unit: its row's, or the usual one. */
export function sigmaOf(o: Observation): {
  readonly value: number;
  readonly unit: 'mm' | 'deg' | 'px';
  readonly usual: boolean;
} {
  const usual = USUAL_SIGMA[o.kind];
  if (usual.sigmaDeg !== undefined)
    return { value: o.sigmaDeg ?? usual.sigmaDeg, unit: 'deg', usual: o.sigmaDeg === undefined };
  if (usual.sigmaPx !== undefined)
    return { value: o.sigmaPx ?? usual.sigmaPx, unit: 'px', usual: o.sigmaPx === undefined };
  return { value: o.sigmaMm ?? usual.sigmaMm!, unit: 'mm', usual: o.sigmaMm === undefined };
}
