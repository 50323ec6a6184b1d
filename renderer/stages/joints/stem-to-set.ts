import { bestStem, offNominal, stemOfEnd, swingOf } from '../../../core/findings';
import type { EndName } from '../../../core/job';
import { type Mount, type MountedStem, type Wedge, roundStem, wedgeWithTurn } from '../../../core/joint';
import type { Plan, StrutPlan } from '../../../core/travel';

interface StemToSet {
  /** Free of any rounding, how far off it gets, degrees. */
  readonly leastDeg: number;
  readonly rounded: MountedStem & { readonly costDeg: number };
  readonly wedge: Wedge;
}

/** The best stud axis there is, rounded to what a workshop can set; throws what core throws. */
export function stemToSet(
  plan: Plan,
  strut: StrutPlan,
  end: EndName,
  { mount, fitting }: { readonly mount?: Mount; readonly fitting: string },
  stepDeg: number,
): StemToSet | null {
  if (!mount) return null;
  const best = bestStem(plan, strut, end, fitting);
  const rounded = roundStem(swingOf(plan, strut, end), mount, best.stem, stepDeg, offNominal(fitting));
  return {
    leastDeg: best.deviationDeg,
    rounded,
    wedge: wedgeWithTurn(mount, stemOfEnd(strut, end), rounded.stem),
  };
}
