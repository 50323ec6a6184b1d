import { type EndName, resolveJob, standOnMount } from '../../core/job';
import { azimuthAndTilt } from '../../core/joint';
import { type Vec3, cross, dot, norm, perpendicularTo, scale, toDeg, unit, mapVec } from '../../core/space';
import { stemOf } from '../../core/travel';
import { edit } from '../state/store';

/** Four decimals are finer than any workshop, and never −0. */
export const tidy = (x: number): number => Math.round(x * 1e4) / 1e4 + 0;

/** A mount on which the present stem lies flat: its normal is the axis most square to the stem. */
export function giveMount(index: number, end: EndName): void {
  edit('Give the end a mount', (job) => {
    const strut = resolveJob(job).struts[index]!;
    const stem = stemOf(strut.ends[end]);
    const axes: Vec3[] = [
      [0, 0, 1],
      [1, 0, 0],
      [0, 1, 0],
    ];
    const up = axes.reduce((a, b) => (Math.abs(dot(b, stem)) < Math.abs(dot(a, stem)) - 1e-9 ? b : a));
    // a lid's mounts look down from under it
    const normal = mapVec(scale(up, end === 'lid' ? -1 : 1), tidy);
    const flat = perpendicularTo(stem, normal);
    const reference = mapVec(norm(flat) > 1e-9 ? unit(flat) : unit(cross(normal, [1, 2, 3])), tidy);
    const { azimuthRad, tiltRad } = azimuthAndTilt({ normal, reference }, stem);
    return standOnMount(job, {
      strut: strut.id,
      end,
      normal,
      reference,
      azimuthDeg: tidy(toDeg(azimuthRad)),
      tiltDeg: tidy(toDeg(tiltRad)),
    });
  });
}
