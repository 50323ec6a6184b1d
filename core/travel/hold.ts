import { toRad } from '../space';
import { momentLaw } from './moment';
import type { Plan } from './plan';

/**
 * What keeps a lid open at an angle, N·m: the moment left over with no friction counted, neither the hinge's nor a strut's. A
 * strut whose friction is assumed is taken as having none, so that its gas pushes no harder for it either. The struts must be
 * inside their stroke there.
 */
export const holdingNm = (plan: Plan, angleDeg: number = plan.openDeg): number =>
  momentLaw({ ...plan, struts: plan.struts.map((s) => ({ ...s, gas: s.held })) }).at(toRad(angleDeg)).value / 1000;
