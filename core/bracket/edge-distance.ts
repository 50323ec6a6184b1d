import { depthInContourMm } from './contour';
import { bodyHoles } from './cuts';
import type { BracketSpec } from './kinds';
import { bodyLayout, bodyOutline } from './layout';
import { isBent } from './spec';

/**
 * How far each hole's centre lies from the nearest edge of the blank, mm, and of a bent kind's fixings also how far from where the bend begins (null
 * for others). Negative: outside. By hole id. Needs sizes that make an outline; throws a LidwrightError where roundings do not fit on an edge.
 */
export function edgeDistancesMm(
  spec: BracketSpec,
): ReadonlyMap<string, { readonly edgeMm: number; readonly bendMm: number | null }> {
  const layout = bodyLayout(spec);
  const outline = bodyOutline(spec, layout);
  return new Map(
    bodyHoles(spec, layout).map((hole) => {
      const [from, to] = layout.baseFlat;
      const along = hole.centre[1];
      const toBend = spec.kind === 'channel' ? Math.min(along - from, to - along) : to - along;
      const bendMm = hole.role === 'fixing' && isBent(spec) ? toBend : null;
      return [hole.id, { edgeMm: depthInContourMm(hole.centre, outline), bendMm }];
    }),
  );
}
