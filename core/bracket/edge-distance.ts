import { bodyHoles, bodyLayout, bodyOutline, isBent } from './body';
import { depthInContourMm } from './contour';
import type { BracketSpec } from './types';

/**
 * How far each hole's centre lies from the nearest edge of the blank, mm, and of a bent kind's fixings also how far from where the bend begins (null
 * for others). Negative: outside. By hole id. Needs sizes that make an outline; throws a LidwrightError where roundings do not fit on an edge.
 */
export function edgeDistancesMm(
  spec: BracketSpec,
): ReadonlyMap<string, { readonly edgeMm: number; readonly bendMm: number | null }> {
  const layout = bodyLayout(spec);
  const outline = bodyOutline(spec, layout);
  const [from, to] = layout.baseFlat;
  return new Map(
    bodyHoles(spec, layout).map(({ id, role, centre }) => {
      const toBend = layout.bends.length > 1 ? Math.min(centre[1] - from, to - centre[1]) : to - centre[1];
      const bendMm = role === 'fixing' && isBent(spec) ? toBend : null;
      return [id, { edgeMm: depthInContourMm(centre, outline), bendMm }];
    }),
  );
}
