import { type EndName, type ResolvedJob } from '../../../core/job';
import { turnTo } from '../../../core/joint';
import { type Vec3, add, rotateVec, scale, toRad } from '../../../core/space';
import type { Projection } from './projection';
import type { Scene } from './scene';

/** A handle on a stem: at its tip to turn the azimuth, half-way to lean it. */
export interface StemHandleOf {
  readonly strut: string;
  readonly end: EndName;
  readonly what: 'azimuth' | 'tilt';
  readonly at: Vec3;
  readonly ball: Vec3;
}

/** How far a handle stands from the ball, px. */
const REACH_PX = { azimuth: 64, tilt: 64 * 0.62 } as const;

/** Handles of all ends that stand on a mount. */
export const stemHandles = (job: ResolvedJob, scene: Scene, pxPerMm: number): StemHandleOf[] =>
  job.struts.flatMap((strut) =>
    (scene.struts.get(strut.id)?.joints ?? []).flatMap(({ end, at: ball, stem }): StemHandleOf[] => {
      if (!strut.ends[end].mount) return [];
      const handle = (what: 'azimuth' | 'tilt'): StemHandleOf => ({
        ...{ strut: strut.id, end, what, ball },
        at: add(ball, scale(stem, REACH_PX[what] / pxPerMm)),
      });
      return [handle('azimuth'), handle('tilt')];
    }),
  );

/** The azimuth (or tilt), degrees to 0.1, that brings a handle nearest to a place on a view's paper, mm. */
export function handleTo(
  job: ResolvedJob,
  { strut, end, what, ball }: StemHandleOf,
  { axis }: Scene,
  angleDeg: number,
  { right, rightSign, up }: Projection,
  to: readonly [number, number],
  pxPerMm: number,
): number {
  const spec = job.struts.find((s) => s.id === strut)!.ends[end];
  const turns = end === 'lid' ? axis : null;
  return turnTo({
    ...{ mount: spec.mount!, azimuthDeg: spec.azimuthDeg ?? 0, tiltDeg: spec.tiltDeg ?? 0, what, ball, to },
    reachMm: REACH_PX[what] / pxPerMm,
    pose: (stem) => (turns ? rotateVec(stem, turns.opening, toRad(angleDeg)) : stem),
    seen: (p) => [rightSign * p[right], p[up]],
  });
}
