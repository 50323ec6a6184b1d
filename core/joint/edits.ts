import { fail } from '../error';
import { type EndName, type Job, type JobEnd, type Num, indexOf, resolveJob, setValue, standOnMount } from '../job';
import { type Vec3, cross, dot, mapVec, norm, scale, toDeg, toRad, unit } from '../space';
import { azimuthAndTilt, mountFrame, stemFromMount } from './stem';

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

const AXES: readonly Vec3[] = [
  [0, 0, 1],
  [1, 0, 0],
  [0, 1, 0],
];
/** A direction lies well enough in a surface to measure azimuths from: 11.5° off its normal. */
const LYING = 0.2;
/** Four decimals are finer than any workshop, and never −0. */
const tidy = (x: number): number => Math.round(x * 1e4) / 1e4 + 0;

/** Where an end's stud points, unit; null where neither stem nor mount says so yet. */
function stemAt(job: Job, strut: string, end: EndName): Vec3 | null {
  const { stem, mount, azimuthDeg = 0, tiltDeg = 0 } = resolveJob(job).struts[indexOf(job, 'struts', strut)]!.ends[end];
  if (stem) return norm(stem) > 0 ? unit(stem) : null;
  const whole = mount && norm(mount.normal) > 0 && norm(cross(unit(mount.normal), mount.reference)) > 0;
  return whole ? stemFromMount(mount, toRad(azimuthDeg), toRad(tiltDeg)) : null;
}

/**
 * Puts an end on a surface with its stem where it points, so that only azimuth and tilt are told anew. Azimuths count from the
 * first that lies in the surface: `wish`, the reference it had, the stem, an axis. Without a normal the mount lies flat under the
 * stem, its normal the axis most square to it: up, and down from a lid. Throws a LidwrightError for a normal of no length.
 */
export function standOnSurface(
  job: Job,
  args: { strut: string; end: EndName; normal?: Vec3 | undefined; wish?: Vec3 | undefined },
): Job {
  const { strut, end, wish } = args;
  if (args.normal && !(norm(args.normal) > 0))
    return fail('that surface faces no way', ['normal'], 'Give the direction that points out of it.');
  const stem = stemAt(job, strut, end) ?? [0, 1, 0];
  const flattest = AXES.reduce((a, b) => (Math.abs(dot(b, stem)) < Math.abs(dot(a, stem)) - 1e-9 ? b : a));
  const normal = unit(args.normal ?? scale(flattest, end === 'lid' ? -1 : 1));
  const old = resolveJob(job).struts[indexOf(job, 'struts', strut)]!.ends[end].mount?.reference;
  const lies = (way: Vec3): boolean => norm(cross(normal, way)) > LYING * norm(way) && norm(way) > 0;
  const reference = [wish, old, stem, [0, 1, 0] as Vec3, ...AXES].find((way) => way !== undefined && lies(way))!;
  const mount = { normal: mapVec(normal, tidy), reference: mapVec(mountFrame({ normal, reference }).e, tidy) };
  const { azimuthRad, tiltRad } = azimuthAndTilt(mount, stem);
  return standOnMount(job, {
    ...{ strut, end, ...mount },
    ...{ azimuthDeg: tidy(toDeg(azimuthRad)), tiltDeg: tidy(toDeg(tiltRad)) },
  });
}

/**
 * Sets one component of a mount's normal or reference. Where the reference then stands along the normal another takes its
 * place, and the stem stays where it points.
 */
export function setMountAxis(
  job: Job,
  args: { strut: string; end: EndName; key: 'normal' | 'reference'; component: 0 | 1 | 2; value: Num },
): Job {
  const { strut, end, key, component, value } = args;
  const i = indexOf(job, 'struts', strut);
  const next = setValue(job, { path: ['struts', i, 'ends', end, 'mount', key, component], value });
  const mount = resolveJob(next).struts[i]!.ends[end].mount!;
  if (!(norm(mount.normal) > 0 && norm(mount.reference) > 0)) return next;
  if (norm(cross(unit(mount.normal), unit(mount.reference))) > 1e-5) return next;
  const stem = stemAt(job, strut, end) ?? [0, 1, 0];
  const reference = AXES.map((_, k) => AXES[(k + 2) % 3]!).find((way) => norm(cross(way, unit(mount.normal))) > LYING)!;
  const lying = mapVec(mountFrame({ normal: mount.normal, reference }).e, tidy);
  const { azimuthRad, tiltRad } = azimuthAndTilt({ normal: mount.normal, reference: lying }, stem);
  const at: JobEnd = next.struts[i]!.ends[end];
  return setValue(next, {
    path: ['struts', i, 'ends', end],
    value: {
      ...at,
      mount: { ...at.mount!, reference: lying },
      ...{ azimuthDeg: tidy(toDeg(azimuthRad)), tiltDeg: tidy(toDeg(tiltRad)) },
    },
  });
}
