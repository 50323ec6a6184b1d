import { requireMakeable } from './check';
import { contourAreaMm2, contourFirstMomentMm3 } from './contour';
import { bodyHoles, gussetOutline } from './cuts';
import type { Blank, BlankBend, BlankHole, BracketSpec } from './kinds';
import { bodyLayout, bodyOutline } from './layout';
import { leanOf, thicknessAtMm } from './lean';
import { studDepthMm } from './stem';

/**
 * The pieces to cut: the body first, then the gusset where there is one. Bends by DIN 6935. Throws a LidwrightError when `checkBracket`
 * finds a failing issue.
 */
export function blanks(spec: BracketSpec): Blank[] {
  requireMakeable(spec);
  const layout = bodyLayout(spec);
  const half = spec.baseWidthMm / 2;
  const bends = layout.bends.map(({ id, startMm, endMm }, i): BlankBend => {
    const lineMm = (startMm + endMm) / 2;
    return {
      id,
      from: [-half, lineMm],
      to: [half, lineMm],
      insideRadiusMm: spec.insideRadiusMm,
      angleDeg: 90,
      up: true,
      order: i + 1,
      allowanceMm: layout.allowanceMm,
      k: layout.k,
      neutralDepthMm: layout.neutralDepthMm,
    };
  });
  const body: Blank = {
    id: 'body',
    name: spec.name,
    quantity: 1,
    thicknessMm: spec.thicknessMm,
    outline: bodyOutline(spec, layout),
    holes: bodyHoles(spec, layout),
    bends,
    lean: leanOf(spec),
  };
  if (!spec.gusset) return [body];
  const gusset: Blank = {
    id: 'gusset',
    name: `${spec.name}, gusset`,
    quantity: spec.gusset.count,
    thicknessMm: spec.gusset.thicknessMm,
    outline: gussetOutline(spec),
    holes: [],
    bends: [],
    lean: null,
  };
  return [body, gusset];
}

const holeAreaMm2 = (hole: BlankHole): number => (Math.PI * hole.diameterMm ** 2) / 4 + hole.slotMm * hole.diameterMm;

/** Area of one piece without its holes' area, mm²; wedge plate: of its footprint, holes as seen along their axes. */
export const blankAreaMm2 = (blank: Blank): number =>
  contourAreaMm2(blank.outline) - blank.holes.reduce((sum, hole) => sum + holeAreaMm2(hole), 0);

/**
 * Volume of all pieces as cut, mm³: area × thickness each; wedge plate: footprint × thickness at its centroid, less each hole × its length. Throws as
 * `blanks` does.
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

/** Mass of the bracket with its gussets, kg, without welds and fixings: that of its blanks, as bending takes nothing away. Throws as `blanks` does. */
export const massKg = (spec: BracketSpec): number => blankVolumeMm3(spec) * spec.material.densityKgM3 * 1e-9;
