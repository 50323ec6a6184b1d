import type { Vec3 } from '../space';
import { type Path, indexOf, setValue } from './edits';
import type { Num } from './number-field';
import type { EndName, Job } from './types';

/** Puts a fitting on a strut's end with its working range, degrees; stem and mount stay. */
export function setFitting(
  job: Job,
  args: { strut: string; end: EndName; fitting: string; rangeDeg: Num; swingDeg?: Num; swingMiddle?: Vec3 },
): Job {
  const i = indexOf(job, 'struts', args.strut);
  const { swingDeg: _swing, swingMiddle: _middle, ...rest } = job.struts[i]!.ends[args.end];
  const next = {
    ...rest,
    fitting: args.fitting,
    rangeDeg: args.rangeDeg,
    ...(args.swingDeg === undefined ? {} : { swingDeg: args.swingDeg }),
    ...(args.swingMiddle === undefined ? {} : { swingMiddle: args.swingMiddle }),
  };
  return setValue(job, { path: ['struts', i, 'ends', args.end], value: next });
}

/** Says which end the rod is at. */
export const setRodEnd = (job: Job, args: { strut: string; rodAt: EndName }): Job =>
  setValue(job, { path: ['struts', indexOf(job, 'struts', args.strut), 'rodAt'], value: args.rodAt });

/** Puts several values at their paths as one edit: what a finding proposes. */
export const setValues = (
  job: Job,
  args: { settings: readonly { readonly path: Path; readonly value: unknown }[] },
): Job => args.settings.reduce((next, setting) => setValue(next, setting), job);
