import { requireMakeable } from './check';
import { type Contour, roundedPolygon } from './contour';
import type { BracketSpec } from './kinds';
import { baseTurnRad, bendTakesMm, taperRiseMm, topCorners, topTurnRad } from './layout';
import { leanOf, thicknessAtMm } from './lean';
import { isBent } from './spec';
import { studDepthMm } from './stem';

/**
 * The section of the body seen along its width, in the bracket frame: [x, z] mm. Closed, counter-clockwise. Tab and wedge plate: not here, see
 * `viewOf`. Throws a LidwrightError when the bracket cannot be made.
 */
export function foldedProfile(spec: BracketSpec): Contour {
  requireMakeable(spec);
  const { thicknessMm: t, insideRadiusMm: r, baseLegMm: a, uprightLegMm: b } = spec;
  if (spec.kind === 'channel')
    return roundedPolygon([
      { at: [-a, 0], radiusMm: r + t },
      { at: [0, 0], radiusMm: r + t },
      { at: [0, b], radiusMm: 0 },
      { at: [-t, b], radiusMm: 0 },
      { at: [-t, t], radiusMm: r },
      { at: [t - a, t], radiusMm: r },
      { at: [t - a, b], radiusMm: 0 },
      { at: [-a, b], radiusMm: 0 },
    ]);
  return roundedPolygon([
    { at: [-a, 0], radiusMm: 0 },
    { at: [0, 0], radiusMm: r + t },
    { at: [0, b], radiusMm: 0 },
    { at: [-t, b], radiusMm: 0 },
    { at: [-t, t], radiusMm: r },
    { at: [-a, t], radiusMm: 0 },
  ]);
}

/**
 * The bent body seen straight at the upright's outer face: [across from the centre line towards +y, z] mm. Closed, counter-clockwise.
 * Throws a LidwrightError when the bracket cannot be made.
 */
export function foldedFront(spec: BracketSpec): Contour {
  requireMakeable(spec);
  const half = spec.baseWidthMm / 2;
  const bend = bendTakesMm(spec);
  return roundedPolygon([
    { at: [-half, 0], radiusMm: 0 },
    { at: [half, 0], radiusMm: 0 },
    { at: [half, bend], radiusMm: 0 },
    ...topCorners(spec, spec.uprightLegMm),
    { at: [-half, bend], radiusMm: 0 },
  ]);
}

/** What the rounding of one corner cuts off: area, and how far its middle lies from the sharp corner along the bisector. */
function cornerCut(radiusMm: number, turnRad: number): { areaMm2: number; inMm: number } {
  const h = turnRad / 2;
  const kite = radiusMm ** 2 * Math.tan(h);
  const sector = radiusMm ** 2 * h;
  const areaMm2 = kite - sector;
  if (areaMm2 < 1e-12) return { areaMm2: 0, inMm: 0 };
  // distances from the centre of the rounding, along the bisector
  const kiteAt = (radiusMm * (Math.cos(h) + 1 / Math.cos(h))) / 3;
  const sectorAt = (2 * radiusMm * Math.sin(h)) / (3 * h);
  const cutAt = (kite * kiteAt - sector * sectorAt) / areaMm2;
  return { areaMm2, inMm: radiusMm / Math.cos(h) - cutAt };
}

/** Area of a plate that is `base` wide at one end and `top` at the other, two corners rounded at one or both ends. */
function plateArea(base: number, top: number, long: number, cuts: readonly { readonly areaMm2: number }[]): number {
  return ((base + top) / 2) * long - cuts.reduce((sum, cut) => sum + 2 * cut.areaMm2, 0);
}

function wedgeVolume(spec: BracketSpec, holesMm3: number): number {
  const lean = leanOf(spec);
  const { baseWidthMm: b, topWidthMm: w, baseLegMm: l } = spec;
  // the whole trapezoid: its middle lies on the centre line
  let volume = ((b + w) / 2) * l * thicknessAtMm(spec, lean, [0, (l * (b + 2 * w)) / (3 * (b + w))]);
  const lower = cornerCut(spec.baseCornerRadiusMm, baseTurnRad(spec));
  const upper = cornerCut(spec.topCornerRadiusMm, topTurnRad(spec));
  // each pair of corners lies evenly about the centre line: only its distance along counts
  const alongOf = (inMm: number, turn: number): number => inMm * Math.sin((Math.PI - turn) / 2);
  volume -=
    2 * lower.areaMm2 * thicknessAtMm(spec, lean, [0, alongOf(lower.inMm, baseTurnRad(spec))]) +
    2 * upper.areaMm2 * thicknessAtMm(spec, lean, [0, l - alongOf(upper.inMm, topTurnRad(spec))]);
  return volume - holesMm3;
}

/**
 * Volume of the finished part, mm³, from its folded sizes alone (nothing of the blank is used): plates less holes, bends of even thickness, gussets.
 * It differs from that of the blanks by the bends only, whose middle lies at t/2 while the neutral axis lies at k·t/2: for each bend
 * width·t·angle·(t/2)·(1 − k). Throws a LidwrightError when the bracket cannot be made.
 */
export function foldedVolumeMm3(spec: BracketSpec): number {
  requireMakeable(spec);
  const { thicknessMm: t, insideRadiusMm: r, baseWidthMm: width } = spec;
  const lean = leanOf(spec);
  const studMm2 = (Math.PI / 4) * spec.studHole.diameterMm ** 2;
  const fixingsMm3 = spec.fixings.reduce(
    (sum, f) =>
      sum +
      ((Math.PI / 4) * f.diameterMm ** 2 + f.slotMm * f.diameterMm) *
        thicknessAtMm(spec, lean, [-f.acrossMm, f.fromEndMm]),
    0,
  );
  if (spec.wedge) return wedgeVolume(spec, fixingsMm3 + studMm2 * studDepthMm(spec));
  const baseCut = cornerCut(spec.baseCornerRadiusMm, baseTurnRad(spec));
  const topCut = cornerCut(spec.topCornerRadiusMm, topTurnRad(spec));
  if (!isBent(spec))
    return (plateArea(width, spec.topWidthMm, spec.baseLegMm, [baseCut, topCut]) - studMm2) * t - fixingsMm3;
  const legs = spec.kind === 'channel' ? 2 : 1;
  const takes = bendTakesMm(spec);
  const base = plateArea(width, width, spec.baseLegMm - legs * takes, legs === 1 ? [baseCut] : []);
  const upright = plateArea(width, spec.topWidthMm, taperRiseMm(spec), [topCut]) - studMm2;
  const bend = width * (Math.PI / 4) * (takes ** 2 - r ** 2);
  const g = spec.gusset;
  const gussets = g ? g.count * g.thicknessMm * (g.alongMm * g.upMm - r * r) * 0.5 : 0;
  return (base + legs * upright) * t + legs * bend - fixingsMm3 + gussets;
}
