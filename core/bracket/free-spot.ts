import { bodyLayout, bodyOutline, isBent } from './body';
import { depthInContourMm } from './contour';
import type { BracketSpec } from './types';

const STEP_MM = 1;

/**
 * The place on the fixed leg with most room for one more hole, mm: from the centre line and from the free end. Room counts to edges and bends whole, to
 * holes there are half. Throws a LidwrightError where the bracket has no outline.
 */
export function freeSpot(spec: BracketSpec): { readonly acrossMm: number; readonly fromEndMm: number } {
  const layout = bodyLayout(spec);
  const outline = bodyOutline(spec, layout);
  const [from, to] = layout.baseFlat;
  const stud = isBent(spec) ? null : { across: spec.studHole.acrossMm, along: to - spec.studHole.fromEndMm };
  const half = spec.baseWidthMm / 2;
  let best = { acrossMm: 0, fromEndMm: (from + to) / 2 - layout.baseEndMm };
  let most = -Infinity;
  for (let along = from + STEP_MM; along < to; along += STEP_MM)
    for (let across = 0; across < half; across += STEP_MM)
      for (const side of across === 0 ? [0] : [across, -across]) {
        const apart = [
          ...spec.fixings.map((f) => Math.hypot(f.acrossMm - side, f.fromEndMm + layout.baseEndMm - along)),
          ...(stud ? [Math.hypot(stud.across - side, stud.along - along)] : []),
        ];
        const room = Math.min(
          depthInContourMm([-side, along], outline),
          along - from || Infinity,
          isBent(spec) ? to - along : Infinity,
          ...apart.map((d) => d / 2),
        );
        if (room > most + 1e-9) {
          most = room;
          best = { acrossMm: side, fromEndMm: along - layout.baseEndMm };
        }
      }
  return best;
}
