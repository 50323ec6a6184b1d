import { fail } from '../error';
import type { ResolvedJob } from '../job';
import { STANDARD_GRAVITY } from '../quantity';
import {
  type Rad,
  type Vec3,
  add,
  applyMat,
  cross,
  dot,
  norm,
  perpendicularTo,
  rad,
  scale,
  slopeMatrix,
  sub,
  toRad,
  transpose,
  unit,
} from '../space';
import { openingAxis, turned, turning } from '../travel';
import { type Matrix, generalisedFit } from './fit';

/** Where the lid turns and where it is pulled; base frame, lid closed. */
export interface PullGeometry {
  /** A point on the hinge axis, mm. */
  readonly originMm: Vec3;
  /** Unit vector about which a positive angle opens. */
  readonly opening: Vec3;
  readonly gripMm: Vec3;
  /** Unit vector that points up, base frame: (0, 0, 1) with the base level. */
  readonly up: Vec3;
}

/** One reading of a scale at the grip. */
export interface PullReading {
  readonly angleDeg: number;
  /** What holds the lid still there, N; a luggage scale's kilograms times 9.80665. Positive lifts. */
  readonly forceN: number;
  readonly sigmaN: number;
  /** square: at right angles to the line from hinge to grip, as the grip moves; upright: straight up, as a hung scale pulls. */
  readonly pull: 'square' | 'upright';
  /** σ of the opening angle, degrees; 0 where not given. */
  readonly sigmaDeg?: number;
  /** How refusals name it: its row and angle as the person has them; its place in the list and `angleDeg` where not given. */
  readonly told?: { readonly row: number; readonly angleDeg: number };
}

/**
 * First moment of the lid about its hinge: Σ m·(r − A) with the lid closed, in the plane square to the axis. This, and not the
 * mass, is what pulls at the grip can tell: twice the mass at half the arm pulls the same.
 */
export interface FirstMoment {
  /** Along `acrossAxis`: level, away from the hinge with the lid closed, kg·mm. */
  readonly acrossKgMm: number;
  /** Along `uprightAxis`: upwards, kg·mm. Positive: the centre of mass lies above the hinge. */
  readonly uprightKgMm: number;
  /** Of [across, upright], (kg·mm)². */
  readonly covariance: Matrix;
  readonly acrossAxis: Vec3;
  readonly uprightAxis: Vec3;
  /** What each reading should have been less what it was, N. */
  readonly residualsN: readonly number[];
  /** Residual over its own σ: over 3.29 in size, the reading is suspect (Baarda, α = 0.001); null where nothing is spare. */
  readonly w: readonly (number | null)[];
  readonly spare: number;
}

/** What to say beside the result: pulls alone don't give the mass. */
export const PULLS_GIVE_NO_MASS =
  'Pulls at the grip give how strongly the weight turns the lid (mass × arm), not the mass itself. For that, lift the lid off and weigh it, or give the mass or the arm.';

/** The geometry of a job for pulls at its grip: base as pitched and rolled. Throws a LidwrightError as openingAxis does. */
export function pullGeometry(job: ResolvedJob, pitchDeg = 0, rollDeg = 0): PullGeometry {
  const axis = openingAxis(job);
  const grip = job.points.find((p) => p.id === job.grip);
  if (!grip) return fail(`there is no point "${job.grip}"`, ['grip'], 'Choose the point where you pull.');
  return {
    originMm: axis.origin,
    opening: axis.opening,
    gripMm: grip.at,
    up: applyMat(transpose(slopeMatrix(toRad(pitchDeg), toRad(rollDeg))), [0, 0, 1]),
  };
}

/** Level and upright directions in the plane square to the hinge. Throws a LidwrightError for a hinge that stands upright. */
export function planeAxes(g: PullGeometry): Pick<FirstMoment, 'acrossAxis' | 'uprightAxis'> {
  const up = perpendicularTo(g.up, g.opening);
  if (!(norm(up) > 0.05))
    return fail(
      'the hinge stands upright, so the weight does not turn the lid and a pull tells nothing of it',
      ['hinge'],
      'Lift the lid off and weigh it.',
    );
  const upright = unit(up);
  const side = cross(upright, g.opening);
  const arm = sub(g.gripMm, g.originMm);
  return { uprightAxis: upright, acrossAxis: dot(side, arm) < 0 ? scale(side, -1) : side };
}

/** Moment about the hinge that 1 N of the pull makes, mm, positive towards opening. */
function pullArm(g: PullGeometry, reading: PullReading, angleRad: Rad): number {
  const arm = turned(turning(sub(g.gripMm, g.originMm), g.opening), angleRad);
  if (reading.pull === 'square') return norm(perpendicularTo(arm, g.opening));
  return dot(g.opening, cross(arm, g.up));
}

/** What hinge friction (N·mm) adds to a pull that lifts, N; a pull that lowers is as much less. */
export const frictionPullN = (g: PullGeometry, reading: PullReading, frictionNmm: number): number =>
  frictionNmm / pullArm(g, reading, toRad(reading.angleDeg));

/** The part of a reading (N) that each component of the first moment makes, N per kg·mm. */
function pullRow(
  g: PullGeometry,
  axes: Pick<FirstMoment, 'acrossAxis' | 'uprightAxis'>,
  r: PullReading,
  angleRad: Rad,
): [number, number] {
  const arm = pullArm(g, r, angleRad);
  const part = (axis: Vec3): number =>
    (STANDARD_GRAVITY * dot(g.opening, cross(turned(turning(axis, g.opening), angleRad), g.up))) / arm;
  return [part(axes.acrossAxis), part(axes.uprightAxis)];
}

/**
 * The first moment of the lid from pulls at the grip, struts off, at two or more opening angles. With S the first moment and
 * û up, the pull F balances it: F·arm = â·(S(θ) × g·û), which is A·cos θ + B·sin θ. Hinge friction is left out: take the mean
 * of a slow lift and a slow lowering at each angle. Weighted least squares; σ of the angles is carried as force.
 * Throws a LidwrightError for fewer than two angles, angles too near each other, a pull that has no arm, or an upright hinge.
 */
export function firstMomentFromPulls(geometry: PullGeometry, readings: readonly PullReading[]): FirstMoment {
  const axes = planeAxes(geometry);
  readings.forEach((r, i) => {
    const { row, angleDeg } = r.told ?? { row: i, angleDeg: r.angleDeg };
    if (![r.angleDeg, r.forceN].every(Number.isFinite))
      fail(`pull ${row + 1} is not a number`, ['pulls', row], 'Give its angle and its force.');
    if (!(r.sigmaN > 0) || !((r.sigmaDeg ?? 0) >= 0))
      fail(`pull ${row + 1} has a σ that is not over 0`, ['pulls', row], 'Give how finely the scale reads, in N.');
    const reach = norm(perpendicularTo(sub(geometry.gripMm, geometry.originMm), geometry.opening));
    if (!(reach > 0)) fail('the grip lies on the hinge', ['grip'], 'Pull at a point away from the hinge.');
    if (!(pullArm(geometry, r, toRad(r.angleDeg)) > 0.05 * reach))
      fail(
        `at ${angleDeg}° an upright pull at the grip has no arm about the hinge`,
        ['pulls', row],
        'Pull square to the lid there, or read at another angle.',
      );
  });
  const angles = readings.map((r) => r.angleDeg);
  const span = readings.length > 0 ? Math.max(...angles) - Math.min(...angles) : 0;
  if (readings.length < 2 || span < 5)
    return fail(
      readings.length < 2
        ? 'one pull alone does not place the weight'
        : `the pulls are within ${span.toFixed(1)}° of each other`,
      ['pulls'],
      'Read the pull nearly closed and again well open: 30° apart or more is good.',
    );
  const rows = readings.map((r) => pullRow(geometry, axes, r, toRad(r.angleDeg)));
  const values = readings.map((r) => r.forceN);
  let s: readonly number[] = [0, 0];
  let fit = null as ReturnType<typeof generalisedFit> | null;
  // the angle's σ works through the slope, which needs the answer: twice is enough
  for (let pass = 0; pass < 3; pass++) {
    const covariance = readings.map((r, i) =>
      readings.map((_, j) => (i === j ? r.sigmaN ** 2 + angleShare(geometry, axes, r, s) ** 2 : 0)),
    );
    fit = generalisedFit(rows, values, covariance, ['pulls']);
    s = fit.x;
  }
  return {
    acrossKgMm: s[0]!,
    uprightKgMm: s[1]!,
    covariance: fit!.covariance,
    acrossAxis: axes.acrossAxis,
    uprightAxis: axes.uprightAxis,
    residualsN: fit!.residuals,
    w: fit!.w,
    spare: fit!.spare,
  };
}

/** σ that the angle puts on a reading, N. */
function angleShare(
  g: PullGeometry,
  axes: Pick<FirstMoment, 'acrossAxis' | 'uprightAxis'>,
  r: PullReading,
  s: readonly number[],
): number {
  const sigma = toRad(r.sigmaDeg ?? 0);
  if (sigma === 0) return 0;
  const at = (angle: number): number => {
    const row = pullRow(g, axes, r, rad(angle));
    return row[0] * s[0]! + row[1] * s[1]!;
  };
  const h = 1e-5;
  const angle = toRad(r.angleDeg);
  return (sigma * (at(angle + h) - at(angle - h))) / (2 * h);
}

/** Moment that a level first moment of mass makes at standard gravity, N·m from kg·mm. */
export const weightMomentNm = (kgMm: number): number => (kgMm * STANDARD_GRAVITY) / 1000;

/** σ of a first moment's part (0 across, 1 upright), kg·mm. */
export const momentSigmaKgMm = (moment: Pick<FirstMoment, 'covariance'>, part: 0 | 1): number =>
  Math.sqrt(moment.covariance[part]![part]!);

/** What the scale would read for a first moment, N: for the drawing of readings, and for checks. */
export function expectedPullN(
  geometry: PullGeometry,
  moment: { readonly acrossKgMm: number; readonly uprightKgMm: number },
  reading: Pick<PullReading, 'angleDeg' | 'pull'>,
): number {
  const r = { forceN: 0, sigmaN: 1, ...reading };
  const row = pullRow(geometry, planeAxes(geometry), r, toRad(reading.angleDeg));
  return row[0] * moment.acrossKgMm + row[1] * moment.uprightKgMm;
}

/** Where a reading was taken and the unit way in which its pull went, mm, base frame; `raising`: 1 where the lid opens upward, −1 down. */
export function pullSeen(
  g: PullGeometry,
  reading: Pick<PullReading, 'angleDeg' | 'forceN'> & { readonly pull?: PullReading['pull'] | undefined },
  raising: 1 | -1,
): { readonly gripMm: Vec3; readonly way: Vec3 } {
  const arm = turned(turning(sub(g.gripMm, g.originMm), g.opening), toRad(reading.angleDeg));
  const square = scale(unit(cross(g.opening, perpendicularTo(arm, g.opening))), raising);
  const way = scale(reading.pull === 'upright' ? g.up : square, Math.sign(reading.forceN));
  return { gripMm: add(g.originMm, arm), way };
}
