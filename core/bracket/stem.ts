import type { Vec3 } from '../space';
import type { BracketSpec } from './kinds';
import { bodyLayout, studInBlank } from './layout';
import { leanOf, thicknessAtMm, topNormal } from './lean';
import { isBent } from './spec';

/** Distance from the free end of the fixed leg to the origin of the bracket frame, mm. */
export const originFromEndMm = (spec: BracketSpec): number =>
  isBent(spec) ? spec.baseLegMm : spec.baseLegMm - spec.studHole.fromEndMm;

/** Length of the stud's hole along its axis, mm. */
export function studDepthMm(spec: BracketSpec): number {
  if (!spec.wedge) return spec.thicknessMm;
  return thicknessAtMm(spec, leanOf(spec), studInBlank(spec, bodyLayout(spec))) * topNormal(spec)[2];
}

/** Direction of the stem in the bracket frame, unit: from the stud's root to the ball; channel: the pin's axis. */
export function stemOfBracket(spec: BracketSpec): Vec3 {
  if (spec.kind === 'channel') return [1, 0, 0];
  if (isBent(spec)) return spec.ballSide === 'inside' ? [-1, 0, 0] : [1, 0, 0];
  if (spec.kind === 'flat-tab' && spec.ballSide === 'inside') return [0, 0, -1];
  return topNormal(spec);
}

/** Where the ball's centre (channel: the middle of the joint) lies in the bracket frame, mm. */
export function ballAt(spec: BracketSpec): Vec3 {
  const { thicknessMm: t, ballOffsetMm: off } = spec;
  const h = spec.studHole.heightMm;
  if (spec.kind === 'channel') return [0 - t - spec.gapMm / 2, 0, h];
  if (isBent(spec)) return spec.ballSide === 'inside' ? [0 - t - off, 0, h] : [off, 0, h];
  if (spec.kind === 'flat-tab' && spec.ballSide === 'inside') return [0, 0, 0 - off];
  const [x, y, z] = topNormal(spec);
  const far = studDepthMm(spec) + off;
  return [x * far, y * far, z * far];
}
