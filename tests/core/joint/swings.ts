// Swings of random lids, and what tests need to look at them without core's own sums.
import fc from 'fast-check';
import { swingOf } from '../../../core/findings';
import type { Job } from '../../../core/job';
import type { Mount, Swing } from '../../../core/joint';
import { toRad } from '../../../core/space';
import { anyLid, direction } from '../../support/arbitrary';
import { type V3, planOf } from '../../support/build';
import { dir, inner, outer, plus, times } from '../../support/naive';

export const seeded = { seed: 20261125 };

/** One end of one strut of a random lid. */
export const anySwing: fc.Arbitrary<Swing> = fc
  .tuple(anyLid({ struts: { min: 1, max: 1 } }), fc.constantFrom<'base' | 'lid'>('base', 'lid'))
  .map(([job, end]) => swing(job, end));

export function swing(job: Job, end: 'base' | 'lid'): Swing {
  const plan = planOf(job);
  return swingOf(plan, plan.struts[0]!, end);
}

export const anyMount: fc.Arbitrary<Mount> = fc
  .record({ normal: direction, reference: direction })
  .filter(({ normal, reference }) => Math.abs(inner(dir(normal), dir(reference))) < 0.97);

/** The stem by the formula of the domain page, written out once more. */
export function stemBy(mount: Mount, azimuthDeg: number, tiltDeg: number): V3 {
  const m = dir(mount.normal as V3);
  const r = mount.reference as V3;
  const e = dir(plus(r, times(m, -inner(r, m))));
  const side = outer(m, e);
  const [p, t] = [toRad(azimuthDeg), toRad(tiltDeg)];
  return plus(times(e, Math.cos(t) * Math.cos(p)), times(side, Math.cos(t) * Math.sin(p)), times(m, Math.sin(t)));
}

/** Worst deviation from square, degrees, at `perStep` angles for each step of the travel. */
export function worstBy(s: Swing, stem: V3, perStep = 1): number {
  let most = 0;
  for (let i = 0; i < s.angleDeg.length; i++)
    for (let k = 0; k < perStep; k++) {
      const next = s.angleDeg[i + 1];
      if (k > 0 && next === undefined) break;
      const u =
        k === 0
          ? ([0, 1, 2].map((c) => s.directions[3 * i + c]!) as unknown as V3)
          : s.at(s.angleDeg[i]! + ((next! - s.angleDeg[i]!) * k) / perStep);
      most = Math.max(most, Math.abs(inner(stem, u)));
    }
  return (Math.asin(Math.min(1, most)) * 180) / Math.PI;
}
