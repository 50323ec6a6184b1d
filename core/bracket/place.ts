import { fail } from '../error';
import { cross, isFiniteVec, norm, perpendicularTo, scale, sub, unit, type Vec3 } from '../space';
import type { BentAngle } from './spec';

/**
 * Where the bracket frame lies in the frame that the inputs are given in (base or lid). Origin: on the mount's surface,
 * under the stud hole, in the outer face of the upright. x along the stud, out of that face; z out of the mount; y = z × x.
 * The base leg runs from the origin towards −x.
 */
export interface BracketPlacement {
  readonly originMm: Vec3;
  readonly axes: { readonly x: Vec3; readonly y: Vec3; readonly z: Vec3 };
}

/**
 * Puts a bracket so that its stud's axis goes through the ball centre, heightMm over the mount, with the upright's outer
 * face `ballOffsetMm` behind the ball centre. `mountNormal` and `azimuthDirection` need not be unit; the azimuth is taken at
 * right angles to the normal. Throws a LidwrightError when they are parallel, zero or not finite.
 */
export function placeBracket(input: {
  readonly ball: Vec3;
  readonly mountNormal: Vec3;
  readonly azimuthDirection: Vec3;
  readonly ballOffsetMm: number;
  readonly spec: Pick<BentAngle, 'studHole'>;
}): BracketPlacement {
  const { ball, mountNormal, azimuthDirection, ballOffsetMm, spec } = input;
  if (!isFiniteVec(ball)) fail('the ball centre is not a point.', ['ball'], 'Give three numbers in mm.');
  if (!Number.isFinite(ballOffsetMm))
    fail(`the ball offset is ${ballOffsetMm}.`, ['ballOffsetMm'], 'Give a length in mm.');
  if (!isFiniteVec(mountNormal) || norm(mountNormal) === 0)
    fail('the mount normal has no direction.', ['mountNormal'], 'Give at least one component that is not 0.');
  if (!isFiniteVec(azimuthDirection) || norm(azimuthDirection) === 0)
    fail('the azimuth has no direction.', ['azimuthDirection'], 'Give at least one component that is not 0.');
  const z = unit(mountNormal);
  const flat = perpendicularTo(unit(azimuthDirection), z);
  if (norm(flat) < 1e-9)
    fail(
      'the azimuth direction is parallel to the mount normal.',
      ['azimuthDirection'],
      'Turn it into the mount surface.',
    );
  const x = unit(flat);
  const y = cross(z, x);
  return { originMm: sub(sub(ball, scale(x, ballOffsetMm)), scale(z, spec.studHole.heightMm)), axes: { x, y, z } };
}
