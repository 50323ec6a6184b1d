import type { EndName, ResolvedJob } from '../../../core/job';
import { stemFromMount } from '../../../core/joint';
import { type Vec3, add, rotateVec, scale, toRad } from '../../../core/space';
import type { Axis } from '../../../core/travel';
import type { Projection } from './projection';
import type { Scene } from './scene';

/** A handle on a stem: at its tip to turn the azimuth, half-way to lean it. */
export interface StemHandle {
  readonly strut: string;
  readonly end: EndName;
  readonly what: 'azimuth' | 'tilt';
  readonly at: Vec3;
  readonly ball: Vec3;
}

/** How far the azimuth handle stands from the ball, px; the tilt handle at this share of it. */
export const STEM_HANDLE_PX = 64;
const TILT_SHARE = 0.62;

/** Handles of all ends that stand on a mount. */
export function stemHandles(job: ResolvedJob, scene: Scene, pxPerMm: number): StemHandle[] {
  const reachMm = STEM_HANDLE_PX / pxPerMm;
  return scene.struts.flatMap((strut) =>
    strut.joints.flatMap((joint): StemHandle[] => {
      const spec = job.struts.find((s) => s.id === strut.id)?.ends[joint.end];
      if (!spec?.mount) return [];
      const common = { strut: strut.id, end: joint.end, ball: joint.at };
      return [
        { ...common, what: 'azimuth', at: add(joint.at, scale(joint.stem, reachMm)) },
        { ...common, what: 'tilt', at: add(joint.at, scale(joint.stem, reachMm * TILT_SHARE)) },
      ];
    }),
  );
}

const LARGEST_TILT_DEG = 60;

/**
 * The azimuth (or tilt), degrees to 0.1, that brings the handle nearest to a place in a view; where the view sees the
 * stem's circle from its edge two do, and the one nearer to the present value is taken. `toMm` is the place on paper.
 */
export function turnTo(
  job: ResolvedJob,
  handle: StemHandle,
  axis: Axis | null,
  angleDeg: number,
  projection: Projection,
  toMm: readonly [number, number],
  pxPerMm: number,
): number {
  const spec = job.struts.find((s) => s.id === handle.strut)!.ends[handle.end];
  const azimuth: number = spec.azimuthDeg ?? 0;
  const tilt: number = spec.tiltDeg ?? 0;
  const turning = handle.what === 'azimuth';
  const reachMm = (STEM_HANDLE_PX / pxPerMm) * (turning ? 1 : TILT_SHARE);
  const { right, rightSign, up } = projection;
  const miss = (value: number): number => {
    let stem = stemFromMount(spec.mount!, toRad(turning ? value : azimuth), toRad(turning ? tilt : value));
    if (handle.end === 'lid' && axis) stem = rotateVec(stem, axis.opening, toRad(angleDeg));
    const p = add(handle.ball, scale(stem, reachMm));
    return Math.hypot(rightSign * p[right] - toMm[0], p[up] - toMm[1]);
  };
  const present = turning ? azimuth : tilt;
  // a tie between two places is settled by nearness, worth a hair of distance
  const cost = (value: number): number =>
    miss(value) + (1e-4 * reachMm * Math.abs(((value - present + 540) % 360) - 180)) / 180;
  let best = present;
  let least = Infinity;
  const scan = (from: number, to: number, step: number): void => {
    for (let v = from; v <= to + 1e-9; v += step) {
      const c = cost(v);
      if (c < least) [best, least] = [v, c];
    }
  };
  if (turning) scan(-180, 180, 3);
  else scan(-LARGEST_TILT_DEG, LARGEST_TILT_DEG, 3);
  for (const step of [0.5, 0.1]) scan(best - 6 * step, best + 6 * step, step);
  const limit = turning ? best : Math.min(Math.max(best, -LARGEST_TILT_DEG), LARGEST_TILT_DEG);
  const wrapped = limit > 180 ? limit - 360 : limit <= -180 ? limit + 360 : limit;
  return Math.round(wrapped * 10) / 10 + 0;
}
