import { type Rad, cos, rad, sin, tan } from '../space';
import { baseIndex, bendTakesMm, holesOf, type Leg, leanOf, legsOf, platesOf, thicknessAtMm, turnsRad } from './body';
import { requireMakeable } from './check';
import { type Contour, contourAreaMm2, type Corner, roundedPolygon } from './contour';
import type { BracketSpec, PlacedHole } from './types';

/** `holesOf` a bracket that can be made; throws a LidwrightError when `checkBracket` finds a failing issue. */
export function placedHoles(spec: BracketSpec): PlacedHole[] {
  requireMakeable(spec);
  return holesOf(spec);
}

/**
 * The section of a bent body seen along its width, in the bracket frame: [x, z] mm. Closed, counter-clockwise. Throws a LidwrightError when the
 * bracket cannot be made.
 */
export function foldedProfile(spec: BracketSpec): Contour {
  requireMakeable(spec);
  const { thicknessMm: t, insideRadiusMm: r, baseLegMm: a, uprightLegMm: b } = spec;
  const at = (x: number, z: number, radiusMm = 0): Corner => ({ at: [x, z], radiusMm });
  const near = [at(0, 0, r + t), at(0, b), at(-t, b), at(-t, t, r)];
  return roundedPolygon(
    baseIndex(spec) > 0
      ? [at(-a, 0, r + t), ...near, at(t - a, t, r), at(t - a, b), at(-a, b)]
      : [at(-a, 0), ...near, at(-a, t)],
  );
}

/** What the rounding of one corner cuts off: area, and how far its middle lies from the sharp corner along the bisector. */
function cornerCut(radiusMm: number, turnRad: Rad): { areaMm2: number; inMm: number } {
  const h = turnRad / 2;
  const kite = radiusMm ** 2 * tan(rad(h));
  const sector = radiusMm ** 2 * h;
  const areaMm2 = kite - sector;
  if (areaMm2 < 1e-12) return { areaMm2: 0, inMm: 0 };
  // distances from the centre of the rounding, along the bisector
  const kiteAt = (radiusMm * (cos(rad(h)) + 1 / cos(rad(h)))) / 3;
  const sectorAt = (2 * radiusMm * sin(rad(h))) / (3 * h);
  const cutAt = (kite * kiteAt - sector * sectorAt) / areaMm2;
  return { areaMm2, inMm: radiusMm / cos(rad(h)) - cutAt };
}

/** Volume of a leg's flat without its holes: the whole trapezoid × its thickness in the middle, less four rounded corners. */
function legVolumeMm3(leg: Leg, thicknessAt: (alongMm: number) => number): number {
  const { lower, upper, flatMm: l } = leg;
  const [b, w] = [lower.halfMm, upper.halfMm];
  const turns = turnsRad(leg);
  // each pair of corners lies evenly about the centre line: only its distance along counts
  const cut = (radiusMm: number, turn: Rad, at: (inMm: number) => number): number => {
    const { areaMm2, inMm } = cornerCut(radiusMm, turn);
    return 2 * areaMm2 * thicknessAt(at(inMm * cos(rad(turn / 2))));
  };
  return (
    (b + w) * l * thicknessAt((l * (b + 2 * w)) / (3 * (b + w))) -
    cut(lower.radiusMm, rad(turns.lower), (along) => along) -
    cut(upper.radiusMm, rad(turns.upper), (along) => l - along)
  );
}

/**
 * Volume of the finished part, mm³, from its folded sizes alone (nothing of the blank's lengths is used): legs less holes, bends of even thickness, plates.
 * It differs from that of the blanks by the bends only, whose middle lies at t/2 while the neutral axis lies at k·t/2: for each bend
 * width·t·angle·(t/2)·(1 − k). Throws a LidwrightError when the bracket cannot be made.
 * @internal for tests
 */
export function foldedVolumeMm3(spec: BracketSpec): number {
  const lean = leanOf(spec);
  const legs = legsOf(spec);
  const body = legs.map((leg) => legVolumeMm3(leg, (along) => thicknessAtMm(spec, lean, [0, along])));
  const bendMm3 = spec.baseWidthMm * (Math.PI / 4) * (bendTakesMm(spec) ** 2 - spec.insideRadiusMm ** 2);
  const holes = placedHoles(spec).map(
    (hole) => ((Math.PI / 4) * hole.diameterMm ** 2 + hole.slotMm * hole.diameterMm) * hole.thicknessMm,
  );
  const plates = platesOf(spec).map((p) => p.acrossMm.length * p.thicknessMm * contourAreaMm2(p.outline));
  const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);
  return sum(body) + (legs.length - 1) * bendMm3 + sum(plates) - sum(holes);
}
