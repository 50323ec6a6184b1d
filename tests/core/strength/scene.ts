import type { Job, JobBracket } from '../../../core/job';
import { resolveJob } from '../../../core/job';
import { type Assessment, type CheckId, type StrengthResult, assessBracket } from '../../../core/strength';
import { type Workings, workings } from '../../../core/workings';
import { type LidParts, constantForce, lid } from '../../support/build';

/** A lid whose strut pushes with one constant force; its base end stands on a level mount, stem along −Y. */
export const PARTS: LidParts = {
  a: [0, 400, 300],
  b: [0, -400, 300],
  grip: [-900, 0, 310],
  masses: [{ kg: 20, at: [-430, 0, 310] }],
  struts: [
    {
      base: [-80, 380, 20],
      lid: [-330, 385, 290],
      rangeDeg: 18,
      spec: { ...constantForce(400, 620, 300), toleranceN: [0, 0] },
    },
  ],
  openDeg: 70,
};

/** A plain bent angle, two M8. */
export const ANGLE: JobBracket = {
  id: 'b1',
  name: 'Test bracket',
  kind: 'bent-angle',
  strut: 's0',
  end: 'base',
  thicknessMm: 5,
  insideRadiusMm: 6,
  baseLegMm: 60,
  uprightLegMm: 62,
  baseWidthMm: 70,
  topWidthMm: 50,
  baseCornerRadiusMm: 5,
  topCornerRadiusMm: 8,
  baseHole: { diameterMm: 9, spacingMm: 40, fromEndMm: 22 },
  studHole: { diameterMm: 10.5, heightMm: 40 },
  ballOffsetMm: 16,
  shockFactor: 1,
  stud: { thread: 'M10', propertyClass: '8.8' },
  attach: { by: 'bolts', thread: 'M8', propertyClass: '8.8', into: 'through', preloadN: 10_000, friction: 0.15 },
  seat: { thicknessMm: 10, material: { name: 'S235JR' } },
  material: { name: 'S235JR', densityKgM3: 7850 },
};

/** The job with a bracket at its base end, on a mount. */
export function jobWith(bracket: Partial<JobBracket> = {}, over: Partial<LidParts> = {}): Job {
  const job = lid({ ...PARTS, ...over });
  const strut = job.struts[0]!;
  const base = {
    fitting: 'angled-ball-16-m10',
    rangeDeg: 18,
    mount: { normal: [0, 0, 1], reference: [0, -1, 0] },
    azimuthDeg: 0,
    tiltDeg: 0,
  };
  return {
    ...job,
    struts: [{ ...strut, ends: { ...strut.ends, base } }],
    brackets: [{ ...ANGLE, ...bracket }],
  } as unknown as Job;
}

export const outcomeOf = (job: Job): Workings => workings(resolveJob(job));

/** Assessment of the job's first bracket, without findings. */
export function assessed(job: Job): Assessment {
  const resolved = resolveJob({ ...job, brackets: [] });
  const { plans, tables } = workings(resolved);
  const full = resolveJob(job);
  return assessBracket(full, plans, tables, full.brackets[0]!);
}

export function result(a: Assessment, id: CheckId): StrengthResult {
  const found = a.results.find((r) => r.id === id);
  if (!found) throw new Error(`no "${id}" among ${a.results.map((r) => r.id).join(', ')}; ${a.unknown?.why ?? ''}`);
  return found;
}
