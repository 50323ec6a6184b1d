import { type BracketSpec, standBracket } from '../bracket';
import type { Bracket } from '../job';
import { type Vec3, add, dot, rad, rotateVec, scale, sub, toRad, unit } from '../space';
import { type Plan, type TravelTable, turned } from '../travel';
import type { LoadSample, Sense } from './types';

/** Nearer than this to its shortest a strut counts as solid when a hand presses the lid shut, mm. */
export const SOLID_MM = 0.5;

/** All forces on one bracket, or why there are none. */
export interface BracketLoads {
  /** Every load case, every row of its table, every sense. */
  readonly samples: readonly LoadSample[];
  /** The largest push at each angle, and the largest pull where it pulls: no other force can govern. */
  readonly governing: readonly LoadSample[];
  readonly largest: LoadSample | null;
  readonly shockFactor: number;
  /** Load cases and angles at which the strut cannot be, so that there is no force to reckon with. */
  readonly gaps: readonly { readonly caseId: string; readonly fromDeg: number; readonly toDeg: number }[];
}

/**
 * The joint's forces on a bracket over every load case and the travel, in the bracket's frame: both senses of the strut's force,
 * the lid resting on a strut that stops it, and a hand that presses it on (the job's limits of hand force). A quantity of two
 * struts is two brackets, each with its own strut's force. Null for an end without a mount: the bracket's frame is not known.
 * Angles in degrees, forces N.
 */
export function bracketLoads(
  plans: readonly Plan[],
  tables: readonly TravelTable[],
  bracket: Bracket,
  spec: BracketSpec,
  shockFactor: number,
): BracketLoads | null {
  const k = plans[0]!.struts.findIndex((s) => s.id === bracket.strut);
  if (k < 0) return null;
  const { job, axis } = plans[0]!;
  const end = job.struts.find((s) => s.id === bracket.strut)!.ends[bracket.end];
  const strut0 = plans[0]!.struts[k]!;
  const onLid = bracket.end === 'lid';
  const ball = add(axis.origin, onLid ? turned(strut0.lid, rad(0)) : strut0.base);
  const stand = standBracket({ end, ball, spec });
  if (!stand) return null;
  const { x, y, z } = stand.axes;
  const samples: LoadSample[] = [];
  const gaps: { caseId: string; fromDeg: number; toDeg: number }[] = [];
  plans.forEach((plan, c) => {
    const table = tables[c]!;
    const strut = plan.struts[k]!;
    const row = table.struts[k]!;
    if (strut.quantity === 0) return;
    const count = table.angleDeg.length;
    for (let i = 0; i < count; i++) {
      const angleDeg = table.angleDeg[i]!;
      const out = row.extendingN[i]!;
      const inn = row.compressingN[i]!;
      if (!Number.isFinite(out) || !Number.isFinite(inn)) {
        const last = gaps.at(-1);
        if (last && last.caseId === plan.caseId && i > 0 && last.toDeg === table.angleDeg[i - 1]!)
          last.toDeg = angleDeg;
        else gaps.push({ caseId: plan.caseId, fromDeg: angleDeg, toDeg: angleDeg });
        continue;
      }
      const angle = toRad(angleDeg);
      const along = unit(sub(turned(strut.lid, angle), strut.base));
      // a push drives the ends apart: along the strut on the lid, against it on the base
      const way = onLid ? rotateVec(along, axis.opening, rad(-angle)) : scale(along, -1);
      const local: Vec3 = [dot(way, x), dot(way, y), dot(way, z)];
      const put = (pushN: number, sense: Sense): void => {
        samples.push({
          caseId: plan.caseId,
          angleDeg,
          sense,
          pushN,
          forceN: scale(local, pushN * shockFactor),
        });
      };
      put(out, 'extending');
      put(inn, 'compressing');
      const arm = row.leverArmMm[i]!;
      const turning = strut.quantity * arm;
      if (i === count - 1 && plan.stoppedBy === strut.id && Math.abs(arm) > 1) {
        // what moment is left over the strut's stop takes up; a hand that opens further adds to it
        const own = arm >= 0 ? out : inn;
        const left = table.openingMomentNm[i]! * 1000;
        if (left > 0) put(own - left / turning, 'stop');
        put(own - (Math.max(left, 0) + job.limits.handOpenN * plan.gripRadiusMm) / turning, 'hand on stop');
      }
      if (i === 0 && strut.strokeMm - row.compressionMm[i]! < SOLID_MM && arm > 1)
        put(inn + (job.limits.handCloseN * plan.gripRadiusMm) / turning, 'hand on stop');
    }
  });
  const finite = samples.filter((s) => Number.isFinite(s.pushN));
  const governing = envelope(finite);
  const largest = finite.reduce<LoadSample | null>(
    (a, b) => (a && Math.abs(a.pushN) >= Math.abs(b.pushN) ? a : b),
    null,
  );
  return { samples: finite, governing, largest, shockFactor, gaps };
}

/** At one angle every force lies along one line: the largest push and the largest pull stand for all of them. */
function envelope(samples: readonly LoadSample[]): LoadSample[] {
  const best = new Map<string, LoadSample>();
  for (const s of samples) {
    const key = `${s.angleDeg} ${s.pushN < 0}`;
    const old = best.get(key);
    if (!old || Math.abs(s.pushN) > Math.abs(old.pushN)) best.set(key, s);
  }
  return [...best.values()].filter((s) => s.pushN !== 0);
}
