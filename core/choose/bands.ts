import { type Frame, type Plan, caseTable, makePlan, momentsAt } from '../travel';
import type { Workings } from '../workings';

/** What is not computed, in words for the screen and the papers. */
export const OPENING_SPEED_NOTE =
  'How fast the lid opens is not computed: it hangs on the oil and the damping inside the strut, which no list states. Try it with a hand on the lid and nobody under it.';

/** From–to of an angle, degrees, as the strut's force goes from low to high tolerance; null where it doesn't happen. */
export interface AngleBand {
  readonly lowForceDeg: number | null;
  readonly highForceDeg: number | null;
}

/** Hand forces of one load case as bands: friction parts opening from closing, tolerance widens both. */
export interface CaseBands {
  readonly caseId: string;
  readonly angleDeg: Float64Array;
  /** Hand force while opening with the weakest and the strongest strut, N; NaN where a strut can't be there. */
  readonly openingWeakN: Float64Array;
  readonly openingStrongN: Float64Array;
  readonly closingWeakN: Float64Array;
  readonly closingStrongN: Float64Array;
  /** Runs [from, to], degrees, where friction keeps the lid still whatever the tolerance gives. */
  readonly restDeg: readonly (readonly [number, number])[];
  /** First angle from which the lid lifts by itself: pop-up. */
  readonly popUp: AngleBand;
  /** Coming down from open: the angle below which the lid begins to fall by itself. */
  readonly startsToFall: AngleBand;
}

/** Angles are pinned to this, degrees. */
const EXACT_DEG = 1e-4;

/** Where f turns between a (false) and b (true), degrees. */
function turn(f: (deg: number) => boolean, a: number, b: number): number {
  let [no, yes] = [a, b];
  while (Math.abs(yes - no) > EXACT_DEG) {
    const middle = (no + yes) / 2;
    if (f(middle)) yes = middle;
    else no = middle;
  }
  return (no + yes) / 2;
}

/** First angle, degrees, from which the lid opens by itself; null when it never does. */
function popUpDeg(plan: Plan, angleDeg: Float64Array): number | null {
  const moments = momentsAt(plan);
  const lifts = (deg: number): boolean => moments(deg).opening > 0;
  for (let i = 0; i < angleDeg.length; i++) {
    if (!lifts(angleDeg[i]!)) continue;
    return i === 0 ? 0 : turn(lifts, angleDeg[i - 1]!, angleDeg[i]!);
  }
  return null;
}

/** Highest angle, degrees, at which the lid falls shut by itself; null when it falls nowhere. */
function fallDeg(plan: Plan, angleDeg: Float64Array): number | null {
  const moments = momentsAt(plan);
  const falls = (deg: number): boolean => moments(deg).closing < 0;
  for (let i = angleDeg.length - 1; i >= 0; i--) {
    if (!falls(angleDeg[i]!)) continue;
    return i === angleDeg.length - 1 ? angleDeg[i]! : turn(falls, angleDeg[i + 1]!, angleDeg[i]!);
  }
  return null;
}

/**
 * Bands of hand force, rest range, pop-up and fall for every load case. A case that states a low or high force has no
 * width from tolerance: it is that force. Pure; two more sweeps a case.
 */
export function bands(outcome: Workings): CaseBands[] {
  const { job, frame, tables, plans, kinematics } = outcome;
  const at = (level: 'low' | 'high'): Frame => {
    const loadCases = job.loadCases.map((c) => (c.force === 'nominal' ? { ...c, force: level } : c));
    return { ...frame, job: { ...frame.job, loadCases } };
  };
  const [weakFrame, strongFrame] = [at('low'), at('high')];
  return plans.map((plan, c): CaseBands => {
    const { angleDeg } = tables[c]!;
    const weakPlan = makePlan(weakFrame, plan.caseId);
    const strongPlan = makePlan(strongFrame, plan.caseId);
    const weak = caseTable(weakPlan, kinematics);
    const strong = caseTable(strongPlan, kinematics);
    const restDeg: [number, number][] = [];
    let from: number | null = null;
    for (let i = 0; i <= angleDeg.length; i++) {
      const still =
        i < angleDeg.length &&
        Math.max(weak.openingMomentNm[i]!, strong.openingMomentNm[i]!) <= 0 &&
        Math.min(weak.closingMomentNm[i]!, strong.closingMomentNm[i]!) >= 0;
      if (still && from === null) from = angleDeg[i]!;
      if (!still && from !== null) {
        restDeg.push([from, angleDeg[i - 1]!]);
        from = null;
      }
    }
    return {
      caseId: plan.caseId,
      angleDeg,
      openingWeakN: weak.handOpeningN,
      openingStrongN: strong.handOpeningN,
      closingWeakN: weak.handClosingN,
      closingStrongN: strong.handClosingN,
      restDeg,
      popUp: { lowForceDeg: popUpDeg(weakPlan, angleDeg), highForceDeg: popUpDeg(strongPlan, angleDeg) },
      startsToFall: { lowForceDeg: fallDeg(weakPlan, angleDeg), highForceDeg: fallDeg(strongPlan, angleDeg) },
    };
  });
}
