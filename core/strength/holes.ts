import type { Thread } from '../bracket';
import type { DemandCapacity } from './types';

export const TABLE_3_4 = 'EN 1993-1-8 table 3.4';
export const TEAR_OUT = 'plain statics, two shear planes; EN 1993-1-8 3.10.2';

/** Partial factor for bolts, welds and plates in bearing. Source: EN 1993-1-8 table 2.1. */
export const GAMMA_M2 = 1.25;

/** Sizes round a hole, mm. */
export interface HolePlace {
  readonly thicknessMm: number;
  readonly boltMm: number;
  readonly holeMm: number;
  /** Hole's middle to the edge that the bolt pushes towards. */
  readonly endMm: number;
  /** Hole's middle to the nearer edge beside it. */
  readonly sideMm: number;
  /** To the next hole; Infinity where there is none. */
  readonly pitchMm: number;
  readonly slotted?: boolean;
}

/**
 * Bearing resistance of a plate at one hole, N: F_b,Rd = k₁·α_b·f_u·d·t/γ_M2, α_b = min(e₁/3d₀, p/3d₀ − 1/4, f_ub/f_u, 1),
 * k₁ = min(2.8·e₂/d₀ − 1.7, 1.4·p/d₀ − 1.7, 2.5); the one distance to the next hole stands for p₁ and p₂ (on the safe side);
 * slotted: 0.6 of it. Source: EN 1993-1-8 table 3.4.
 */
export function bearingN(place: HolePlace, ultimateMPa: number, boltTensileMPa: number): number {
  const { thicknessMm, boltMm, holeMm, endMm, sideMm, pitchMm, slotted } = place;
  const alpha = Math.min(endMm / (3 * holeMm), pitchMm / (3 * holeMm) - 0.25, boltTensileMPa / ultimateMPa, 1);
  const k1 = Math.min((2.8 * sideMm) / holeMm - 1.7, (1.4 * pitchMm) / holeMm - 1.7, 2.5);
  return (Math.max(0, k1) * Math.max(0, alpha) * ultimateMPa * boltMm * thicknessMm * (slotted ? 0.6 : 1)) / GAMMA_M2;
}

/** A rectangle round a hole's middle, in two coordinates from it, mm. */
interface Box {
  readonly a: readonly number[];
  readonly b: readonly number[];
}

/** Distance from the origin to a box's edge along a direction, mm. */
function ray(box: Box, da: number, db: number): number {
  const hit = (d: number, [low, high]: readonly number[]): number =>
    Math.abs(d) < 1e-12 ? Infinity : d > 0 ? high! / d : low! / d;
  return Math.max(0, Math.min(hit(da, box.a), hit(db, box.b)));
}

/** From a hole's middle ahead of the force to the edge, and to the nearer edge beside it, mm. Source: EN 1993-1-8 table 3.4. */
export function boxDistances(box: Box, force: readonly [number, number]): { endMm: number; sideMm: number } {
  const size = Math.hypot(force[0], force[1]);
  if (!(size > 0)) return { endMm: Infinity, sideMm: Infinity };
  const [a, b] = [force[0] / size, force[1] / size];
  return { endMm: ray(box, a, b), sideMm: Math.min(ray(box, -b, a), ray(box, b, -a)) };
}

/**
 * Bearing at a hole under a skew force: its parts square to the edges are looked at one by one, each with its own end and side
 * distance. Source: EN 1993-1-8 table 3.4, note on loads not parallel to an edge.
 */
export const bearingByParts = (
  [a, b]: readonly [number, number],
  box: Box,
  capacity: (distances: { endMm: number; sideMm: number }) => number,
): readonly DemandCapacity[] =>
  (
    [
      [a, 0],
      [0, b],
    ] as const
  ).map((part) => ({
    demand: Math.hypot(...part),
    capacity: capacity(boxDistances(box, part)),
  }));

/**
 * Force that shears out the plate in front of a bolt, N: two planes of length e₁ − d₀/2, f_u/√3 over γ_M2.
 * Source: plain statics; resistance as the shear term of block tearing, EN 1993-1-8 3.10.2, with f_u.
 */
export const tearOutN = (thicknessMm: number, endMm: number, holeMm: number, ultimateMPa: number): number =>
  (2 * thicknessMm * Math.max(0, endMm - holeMm / 2) * ultimateMPa) / (Math.sqrt(3) * GAMMA_M2);

/** Force that pulls a head or nut through a plate, N: 0.6·π·d_m·t·f_u/γ_M2. Source: EN 1993-1-8 table 3.4, punching shear. */
export const pullThroughN = (headMm: number, thicknessMm: number, ultimateMPa: number): number =>
  (0.6 * Math.PI * headMm * thicknessMm * ultimateMPa) / GAMMA_M2;

/** Shear resistance of a bolt through its thread, N: α_v·f_ub·A_s/γ_M2. Source: EN 1993-1-8 table 3.4. */
export const boltShearN = (shearFactor: number, tensileMPa: number, areaMm2: number): number =>
  (shearFactor * tensileMPa * areaMm2) / GAMMA_M2;

/** Tension resistance of a bolt, N: 0.9·f_ub·A_s/γ_M2. Source: EN 1993-1-8 table 3.4. */
export const boltTensionN = (tensileMPa: number, areaMm2: number): number => (0.9 * tensileMPa * areaMm2) / GAMMA_M2;

/** Shear and tension together: F_v/F_v,Rd + F_t/(1.4·F_t,Rd), and F_t/F_t,Rd alone; the larger. 1 is the limit. Source: EN 1993-1-8 table 3.4. */
export const boltUse = (shearN: number, shearRdN: number, tensionN: number, tensionRdN: number): number =>
  Math.max(shearN / shearRdN + tensionN / (1.4 * tensionRdN), tensionN / tensionRdN);

/** Shear strength of a thread over tensile strength: steel 0.6 (from memory, VDI 2230). */
const SHEAR_RATIO = 0.6;
/** For the pressing apart and bending of the threads (VDI 2230 C₁·C₃, from memory; the lower end). */
const STRIP_FACTOR = 0.9;

/**
 * Force that strips a thread over an engaged length, N, without a partial factor: the weaker of the thread in the part,
 * A = π·d·(m/P)·(P/2 + (d − d₂)·tan 30°), and that on the bolt, A = π·D₁·(m/P)·(P/2 + (d₂ − D₁)·tan 30°), each times
 * 0.6·R_m·0.9. Source: shear areas of VDI 2230 and ISO 898-2's background (from memory), basic sizes.
 */
export function stripN(
  thread: Pick<Thread, 'diameterMm' | 'pitchDiameterMm' | 'minorDiameterMm' | 'pitchMm'>,
  engagementMm: number,
  partMPa: number,
  boltMPa: number,
): number {
  const { diameterMm: d, pitchDiameterMm: d2, minorDiameterMm: d1, pitchMm: p } = thread;
  const turns = engagementMm / p;
  const tan30 = 1 / Math.sqrt(3);
  const part = Math.PI * d * turns * (p / 2 + (d - d2) * tan30) * partMPa;
  const bolt = Math.PI * d1 * turns * (p / 2 + (d2 - d1) * tan30) * boltMPa;
  return SHEAR_RATIO * STRIP_FACTOR * Math.min(part, bolt);
}

/** Friction torque that a single fixing holds, N·mm: μ·F·r_m. Source: plain statics. @example spinHoldNmm(0.5, 100, 4) // 200 */
export const spinHoldNmm = (friction: number, preloadN: number, meanRadiusMm: number): number =>
  friction * preloadN * meanRadiusMm;
