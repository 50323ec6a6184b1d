import { toRad } from '../space';
import { type Fitting, threadRootMm } from './fittings';

/** Young's modulus of steel, N/mm² (EN 1993-1-1, from memory). */
export const STEEL_E_MPA = 210_000;
/** Yield that a rod-end thread is held against: property class 8.8 up to M16, ISO 898-1. The rod's own steel is not known. */
export const THREAD_YIELD_MPA = 640;

/** What a joint past its range does to the rod's end. Lengths mm, forces N, moments N·mm, stresses N/mm². */
export interface OverRange {
  readonly excessDeg: number;
  readonly forceN: number;
  /** Ball centre to where the socket's rim rests on the stud's neck. */
  readonly armMm: number;
  /** The strut's own force carried by the rim instead of the ball. */
  readonly momentNmm: number;
  /** Bending and thrust at the root of the rod-end thread under that moment. */
  readonly threadMPa: number;
  /** The same moment, and the force across the stud's neck, at the root of the stud's thread. */
  readonly studMPa: number | null;
  /** Moment if the lid forces the end round by the excess and nothing yields: the rod as a springy bar, far end free to turn. */
  readonly forcedNmm: number;
  readonly forcedThreadMPa: number;
  /** What gives first when the excess is forced: its stress over THREAD_YIELD_MPA is over 1. */
  readonly yields: boolean;
}

const modulus = (diameterMm: number): number => (Math.PI * diameterMm ** 3) / 32;
const area = (diameterMm: number): number => (Math.PI * diameterMm ** 2) / 4;

/**
 * Two pictures of a joint driven `excessDeg` past its range, for a strut of `lengthMm` pushing with `forceN` on a rod of
 * `rodMm`. Neither is the whole truth, so both are given.
 *
 * 1. Carried by the rim. The socket's rim rests on the stud and the strut's force goes through it, off the ball's centre by
 *    the radius of the socket's head: M = F·e at the rod's end, σ = M/(πd₃³/32) + F/(πd₃²/4). What the force alone can do.
 * 2. Forced by the lid. The lid has more lever than the strut has force: it turns the end by the excess whatever that takes.
 *    A bar of the rod's section over the whole length, its far end free to turn, needs M = 3·E·I·δ/ℓ. What it comes to as long
 *    as nothing yields; once over yield the thread bends, and cracks when it is bent again and again.
 *
 * Source: elementary statics and beam theory (a pinned bar turned at one end), thread root by ISO 724. Throws nothing; the
 * fitting must have a thread (sizedFitting).
 */
export function overRange(input: {
  readonly fitting: Fitting;
  readonly excessDeg: number;
  readonly forceN: number;
  readonly rodMm: number;
  readonly lengthMm: number;
}): OverRange {
  const { fitting, excessDeg, forceN, rodMm, lengthMm } = input;
  const rootMm = threadRootMm(fitting.thread!);
  const armMm = fitting.rimMm!.value;
  const momentNmm = forceN * armMm;
  const inertia = (Math.PI * rodMm ** 4) / 64;
  const forcedNmm = (3 * STEEL_E_MPA * inertia * toRad(excessDeg)) / lengthMm;
  const thrust = forceN / area(rootMm);
  const studArm = fitting.studArmMm?.value;
  const forcedThreadMPa = forcedNmm / modulus(rootMm) + thrust;
  return {
    excessDeg,
    forceN,
    armMm,
    momentNmm,
    threadMPa: momentNmm / modulus(rootMm) + thrust,
    studMPa: studArm === undefined ? null : (forceN * studArm + momentNmm) / modulus(rootMm),
    forcedNmm,
    forcedThreadMPa,
    yields: forcedThreadMPa > THREAD_YIELD_MPA,
  };
}
