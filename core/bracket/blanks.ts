import { bodyHoles, bodyLayout, bodyOutline, leanOf, platesOf, studDepthMm, thicknessAtMm } from './body';
import { requireMakeable } from './check';
import { drilledAfterBending } from './check/holes';
import { contourAreaMm2, contourFirstMomentMm3, contourPoints } from './contour';
import { toRad } from '../space';
import type { Blank, BlankBend, BlankHole, BracketSpec } from './types';

/** The pieces to cut: the body first, then its plates. Bends by DIN 6935. Throws a LidwrightError when `checkBracket` finds a failing issue. */
export function blanks(spec: BracketSpec): Blank[] {
  requireMakeable(spec);
  const layout = bodyLayout(spec);
  const { allowanceMm, k, neutralDepthMm } = layout;
  const half = spec.baseWidthMm / 2;
  const bends = layout.bends.map(({ id, startMm, endMm }, i): BlankBend => {
    const lineMm = (startMm + endMm) / 2;
    return {
      ...{ id, from: [-half, lineMm], to: [half, lineMm], insideRadiusMm: spec.insideRadiusMm },
      ...{ angleDeg: 90, up: true, order: i + 1, allowanceMm, k, neutralDepthMm },
    };
  });
  const holes = bodyHoles(spec, layout);
  const body: Blank = {
    ...{ id: 'body', name: spec.name, quantity: 1, thicknessMm: spec.thicknessMm, bends },
    ...{ outline: bodyOutline(spec, layout), holes },
    afterBending: holes.filter((hole) => drilledAfterBending(spec, hole)).map(({ id }) => id),
    lean: leanOf(spec),
  };
  const plates = platesOf(spec).map(({ id, name, thicknessMm, outline, acrossMm }): Blank => ({
    ...{ id, name, quantity: acrossMm.length, thicknessMm, outline },
    ...{ holes: [], afterBending: [], bends: [], lean: null },
  }));
  return [body, ...plates];
}

/**
 * Thickness of the plate that a leaning body is machined from, mm: that of its highest place, to the next whole millimetre up. Any other body's own.
 */
export function stockMm(blank: Blank): number {
  const { lean } = blank;
  if (!lean) return blank.thicknessMm;
  const heights = contourPoints(blank.outline, toRad(2)).map(
    ([u, v]) => lean.atOriginMm + lean.slope[0] * u + lean.slope[1] * v,
  );
  return Math.ceil(Math.max(...heights) - 1e-6);
}

const holeAreaMm2 = (hole: Pick<BlankHole, 'diameterMm' | 'slotMm'>): number =>
  (Math.PI * hole.diameterMm ** 2) / 4 + hole.slotMm * hole.diameterMm;

/** Area of one piece without its holes' area, mm²; where the top leans: of its footprint, holes as seen along their axes. */
export const blankAreaMm2 = (blank: Blank): number =>
  contourAreaMm2(blank.outline) - blank.holes.reduce((sum, hole) => sum + holeAreaMm2(hole), 0);

/**
 * Volume of all pieces as cut, mm³: area × thickness each; where the top leans: footprint × thickness at its centroid, less each hole × its length.
 * Throws as `blanks` does.
 */
export function blankVolumeMm3(spec: BracketSpec): number {
  return blanks(spec).reduce((sum, blank) => {
    if (!blank.lean) return sum + blank.quantity * blankAreaMm2(blank) * blank.thicknessMm;
    const area = contourAreaMm2(blank.outline);
    const moment = contourFirstMomentMm3(blank.outline);
    const solid = area * thicknessAtMm(spec, blank.lean, [moment[0] / area, moment[1] / area]);
    const holes = blank.holes.map(
      (hole) =>
        holeAreaMm2(hole) * (hole.role === 'fixing' ? thicknessAtMm(spec, blank.lean, hole.centre) : studDepthMm(spec)),
    );
    return sum + solid - holes.reduce((a, b) => a + b, 0);
  }, 0);
}

/** Mass of the bracket with its plates, kg, without welds and fixings: that of its blanks, as bending takes nothing away. Throws as `blanks` does. */
export const massKg = (spec: BracketSpec): number => blankVolumeMm3(spec) * spec.material.densityKgM3 * 1e-9;
