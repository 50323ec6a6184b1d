import { toRad, type Vec3 } from '../space';
import { requireMakeable } from './check';
import type { BracketSpec, PlacedHole } from './kinds';
import { leanOf, thicknessAtMm } from './lean';
import { isBent } from './spec';
import { originFromEndMm, stemOfBracket, studDepthMm } from './stem';

/** The stud's hole, or the two holes of a channel's pin, in the bracket frame. */
function studHoles(spec: BracketSpec): PlacedHole[] {
  const { thicknessMm: t } = spec;
  const { diameterMm, heightMm: h } = spec.studHole;
  const common = { diameterMm, slotMm: 0, slotAxis: [0, 1, 0] as Vec3, thicknessMm: t };
  if (spec.kind === 'channel')
    return [
      { id: 'pin-near', role: 'pin', ...common, centreMm: [0 - t, 0, h], axis: [-1, 0, 0] },
      { id: 'pin-far', role: 'pin', ...common, centreMm: [t - spec.baseLegMm, 0, h], axis: [1, 0, 0] },
    ];
  const axis = stemOfBracket(spec);
  if (isBent(spec))
    return [{ id: 'stud', role: 'stud', ...common, centreMm: [spec.ballSide === 'inside' ? -t : 0, 0, h], axis }];
  if (axis[2] < 0) return [{ id: 'stud', role: 'stud', ...common, centreMm: [0, 0, 0], axis }];
  const deep = studDepthMm(spec);
  // square to a leaning axis: y turned into the leaning face
  const flat = Math.hypot(axis[0], axis[1]);
  const slotAxis: Vec3 = flat < 1e-12 ? [0, 1, 0] : [-axis[1] / flat, axis[0] / flat, 0];
  const centreMm: Vec3 = [axis[0] * deep, axis[1] * deep, axis[2] * deep];
  return [{ id: 'stud', role: 'stud', ...common, centreMm, axis, slotAxis, thicknessMm: deep }];
}

/**
 * All holes of the finished bracket in the bracket frame, fixings first, in the order of the spec. Lengths mm. Throws a LidwrightError when
 * `checkBracket` finds a failing issue.
 */
export function placedHoles(spec: BracketSpec): PlacedHole[] {
  requireMakeable(spec);
  const lean = leanOf(spec);
  const fixings = spec.fixings.map((f): PlacedHole => {
    const way = toRad(f.slotDeg);
    return {
      id: f.id,
      role: 'fixing',
      centreMm: [f.fromEndMm - originFromEndMm(spec), f.acrossMm - spec.studHole.acrossMm, 0],
      axis: [0, 0, 1],
      diameterMm: f.diameterMm,
      slotMm: f.slotMm,
      slotAxis: [Math.cos(way), Math.sin(way), 0],
      thicknessMm: thicknessAtMm(spec, lean, [-f.acrossMm, f.fromEndMm]),
    };
  });
  return [...fixings, ...studHoles(spec)];
}
