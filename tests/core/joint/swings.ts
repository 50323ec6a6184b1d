// Swings of random lids, and what tests need to look at them without core's own sums.
import fc from 'fast-check';
import { swingOf } from '../../../core/findings';
import type { Job } from '../../../core/job';
import type { Mount, Swing } from '../../../core/joint';
import { toRad } from '../../../core/space';
import { anyLid, direction } from '../../support/arbitrary';
import { type V3, planOf } from '../../support/build';
import { dir, inner, minus, outer, plus, size, times } from '../../support/naive';

export const seeded = { seed: 20261125 };

/** One end of one strut of a random lid. */
export const anySwing: fc.Arbitrary<Swing> = fc
  .tuple(anyLid({ struts: { min: 1, max: 1 } }), fc.constantFrom<'base' | 'lid'>('base', 'lid'))
  .map(([job, end]) => swing(job, end));

function swing(job: Job, end: 'base' | 'lid'): Swing {
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
  const rows = Array.from(s.angleDeg, (_, i) => [...s.directions.slice(3 * i, 3 * i + 3)] as unknown as V3);
  const off = rows.map((u) => Math.abs(inner(stem, u)));
  const moved = rows.slice(1).map((u, i) => size(minus(u, rows[i]!)));
  let most = Math.max(...off);
  for (let i = 0; perStep > 1 && i < moved.length; i++) {
    // looked at closely only where it could win: in a step, u goes no further than twice what it goes in the steps about it
    const reach = 2 * Math.max(moved[i - 1] ?? 0, moved[i]!, moved[i + 1] ?? 0);
    if (Math.max(off[i]!, off[i + 1]!) + reach < most) continue;
    const [from, to] = [s.angleDeg[i]!, s.angleDeg[i + 1]!];
    for (let k = 1; k < perStep; k++)
      most = Math.max(most, Math.abs(inner(stem, s.at(from + ((to - from) * k) / perStep) as V3)));
  }
  return (Math.asin(Math.min(1, most)) * 180) / Math.PI;
}
