import type { Job } from '../../../core/job';
import { resolveJob } from '../../../core/job';
import type { Finding } from '../../../core/findings';
import type { ShownUnits } from '../../../core/quantity';
import { type Workings, workings } from '../../../core/workings';
import { type LidParts, type StrutParts, constantForce, lid } from '../../support/build';

/** One lid that all findings are tried on: skew numbers, a constant force at 20 °C. */
export const PARTS: LidParts & { struts: StrutParts[] } = {
  a: [0, 410, 300],
  b: [6, -390, 302],
  grip: [-880, 30, 310],
  masses: [{ kg: 22, at: [-430, 12, 320] }],
  struts: [
    { base: [-90, 395, 20], lid: [-310, 400, 290], spec: { ...constantForce(800, 580, 270), toleranceN: [-20, 20] } },
  ],
  openDeg: 70,
  frictionNm: 1.5,
  limits: { handOpenN: 150, handCloseN: 200, reserveMm: 5, holdOpenNm: 5 },
};

export const job = (
  over: Partial<LidParts> = {},
  spec: StrutParts['spec'] = {},
  strut: Partial<StrutParts> = {},
): Job =>
  lid({ ...PARTS, struts: [{ ...PARTS.struts[0]!, ...strut, spec: { ...PARTS.struts[0]!.spec, ...spec } }], ...over });

export const outcome = (j: Job, units?: ShownUnits): Workings => workings(resolveJob(j), units);

/** The one finding of an id (in a case, where it has one). */
export function finding(o: Workings, id: string, caseId = 'case0'): Finding {
  const found = o.findings.filter((f) => f.id === id && f.case === caseId);
  if (found.length !== 1) throw new Error(`${found.length} findings "${id}" in ${caseId}`);
  return found[0]!;
}
