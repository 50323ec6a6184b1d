import { type EndName, type Job, type Num, indexOf, setValue } from '../job';
import type { Vec3 } from '../space';

/** Puts a fitting on a strut's end with its working range, degrees; stem and mount stay, what was stated of the old one goes. */
export function setFitting(
  job: Job,
  args: { strut: string; end: EndName; fitting: string; rangeDeg: Num; swingDeg?: Num; swingMiddle?: Vec3 },
): Job {
  const i = indexOf(job, 'struts', args.strut);
  const { swingDeg: _swing, swingMiddle: _middle, separatingN: _held, ...rest } = job.struts[i]!.ends[args.end];
  const next = {
    ...rest,
    fitting: args.fitting,
    rangeDeg: args.rangeDeg,
    ...(args.swingDeg === undefined ? {} : { swingDeg: args.swingDeg }),
    ...(args.swingMiddle === undefined ? {} : { swingMiddle: args.swingMiddle }),
  };
  return setValue(job, { path: ['struts', i, 'ends', args.end], value: next });
}
