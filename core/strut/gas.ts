import { type Issue, LidwrightError } from '../error';

/** Standard atmosphere, Pa (exact by definition). */
export const ATMOSPHERE_PA = 101_325;
export const ATMOSPHERE_MPA = ATMOSPHERE_PA * 1e-6;
/** The temperature at which nominal forces are stated, K (20 °C, common practice). */
export const REFERENCE_K = 293.15;
/** 0 °C in K (exact by definition). */
export const ZERO_C_K = 273.15;
/** Nominal forces are stated this far from either end of the stroke, mm (common practice). */
export const RATING_MM = 5;
/** How far outside its stroke a strut is still taken as being at its end, mm: rounding, not play. */
export const STROKE_SLACK_MM = 1e-6;

/** What a gas spring is, in plain numbers: mm, N, −. */
export interface StrutSpec {
  readonly extendedMm: number;
  readonly strokeMm: number;
  /** F1: extending force 5 mm from full extension at 20 °C. */
  readonly forceN: number;
  /** F2/F1, F2 taken 5 mm from full compression. */
  readonly ratio: number;
  readonly rodMm: number;
  readonly tubeMm: number;
  /** FR: compressing force − extending force. */
  readonly frictionN: number;
  /** Lower and upper tolerance of F1. */
  readonly toleranceN: readonly [number, number];
}

export type ForceLevel = 'low' | 'nominal' | 'high';

/** The two numbers of a charged body that the gas law needs, and the band around it. */
export interface GasBody {
  /** Rod area, mm². */
  readonly rodAreaMm2: number;
  /** Rod area over gas volume at full extension, 1/mm: a trait of the body, not of its charge. */
  readonly fillPerMm: number;
  /** Absolute pressure at 5 mm compression and 20 °C, MPa (N/mm²). */
  readonly ratedMPa: number;
  readonly halfFrictionN: number;
}

/**
 * Everything about a spec that no gas spring can have; empty when it can exist.
 * Paths are relative to the spec.
 */
export function specIssues(spec: StrutSpec): Issue[] {
  const issues: Issue[] = [];
  const bad = (key: keyof StrutSpec, what: string, advice: string): void => {
    issues.push({ what, where: [key], advice });
  };
  const shown = (n: number): string => String(Number(n.toPrecision(6)));
  if (!(spec.strokeMm >= 20))
    bad(
      'strokeMm',
      `a stroke of ${shown(spec.strokeMm)} mm is shorter than any gas spring's (20 mm)`,
      'Give the stroke, the travel of the rod, in mm.',
    );
  if (!(spec.forceN > 0))
    bad('forceN', `a force of ${shown(spec.forceN)} N lifts nothing`, 'Give the nominal extending force F1 in N.');
  if (!(spec.ratio >= 1))
    bad(
      'ratio',
      `a force ratio of ${shown(spec.ratio)} is under 1: the gas can only get stronger as it is compressed`,
      'Give F2/F1, mostly 1.1 to 1.6.',
    );
  if (!(spec.rodMm > 0)) bad('rodMm', `a rod of ${shown(spec.rodMm)} mm cannot exist`, 'Give the rod diameter in mm.');
  if (!(spec.tubeMm > spec.rodMm))
    bad(
      'tubeMm',
      `a tube of ${shown(spec.tubeMm)} mm does not go over a rod of ${shown(spec.rodMm)} mm`,
      'Give the outside diameter of the tube in mm.',
    );
  if (!(spec.frictionN >= 0))
    bad(
      'frictionN',
      `a friction band of ${shown(spec.frictionN)} N is negative`,
      'Give compressing force less extending force, 0 or more.',
    );
  if (!(spec.extendedMm > spec.strokeMm))
    bad(
      'extendedMm',
      `an extended length of ${shown(spec.extendedMm)} mm leaves nothing when ${shown(spec.strokeMm)} mm of stroke are pushed in`,
      'Give the extended length between the ball centres; it is over twice the stroke for most struts.',
    );
  if (!(spec.toleranceN[0] <= 0 && spec.toleranceN[1] >= 0))
    bad(
      'toleranceN',
      `a tolerance of ${shown(spec.toleranceN[0])} to ${shown(spec.toleranceN[1])} N does not span the nominal force`,
      'Give the lower (0 or less) and the upper (0 or more) deviation.',
    );
  else if (spec.forceN > 0 && !(spec.forceN + spec.toleranceN[0] > 0))
    bad(
      'toleranceN',
      `a lower tolerance of ${shown(spec.toleranceN[0])} N leaves no force of ${shown(spec.forceN)} N`,
      'Give a smaller lower deviation.',
    );
  if (issues.length > 0) return issues;
  const fill = fillPerMm(spec);
  if (!(fill * spec.strokeMm < 1))
    bad(
      'ratio',
      `a force ratio of ${shown(spec.ratio)} over ${shown(spec.strokeMm)} mm of stroke would squeeze the gas to nothing`,
      'Check the ratio and the stroke: no strut has both.',
    );
  return issues;
}

/** Pressure at 5 mm, MPa absolute, that makes the extending force there `forceN` at 20 °C. */
const ratedMPa = (forceN: number, frictionN: number, rodAreaMm2: number): number =>
  (forceN + frictionN / 2) / rodAreaMm2 + ATMOSPHERE_MPA;

/** Rod area over gas volume, 1/mm, from the ratio of two stated forces: c = (q − 1)/(q·(stroke − 5) − 5). */
function fillPerMm(spec: StrutSpec): number {
  const area = (Math.PI * spec.rodMm * spec.rodMm) / 4;
  const q = ratedMPa(spec.ratio * spec.forceN, spec.frictionN, area) / ratedMPa(spec.forceN, spec.frictionN, area);
  return (q - 1) / (q * (spec.strokeMm - RATING_MM) - RATING_MM);
}

/** A spec's force ratio with its gas filled so many times as much: rod area over gas volume, 1/mm, times `factor`. */
export function ratioFilled(spec: StrutSpec, factor: number): number {
  const area = (Math.PI * spec.rodMm * spec.rodMm) / 4;
  const c = fillPerMm(spec) * factor;
  const rated = ratedMPa(spec.forceN, spec.frictionN, area);
  const pressed = (rated * (1 - RATING_MM * c)) / (1 - (spec.strokeMm - RATING_MM) * c);
  return ((pressed - ATMOSPHERE_MPA) * area - spec.frictionN / 2) / spec.forceN;
}

/**
 * The charged body of a strut. `level` changes only the charge: the body's gas volume comes from the nominal force.
 * Throws a LidwrightError for a spec that no strut has (see specIssues).
 * Source: Boyle's law for the closed gas volume that the rod enters, gas pushing midway between the forces out and in.
 */
export function gasBody(spec: StrutSpec, level: ForceLevel): GasBody {
  const [first, ...also] = specIssues(spec);
  if (first) throw new LidwrightError(first, also);
  const rodAreaMm2 = (Math.PI * spec.rodMm * spec.rodMm) / 4;
  const shift = level === 'low' ? spec.toleranceN[0] : level === 'high' ? spec.toleranceN[1] : 0;
  return {
    rodAreaMm2,
    fillPerMm: fillPerMm(spec),
    ratedMPa: ratedMPa(spec.forceN + shift, spec.frictionN, rodAreaMm2),
    halfFrictionN: spec.frictionN / 2,
  };
}

/**
 * Force of the gas on the rod, N, midway between extending and compressing force, at compression `sMm` (0 = fully
 * extended) and `tempC`. No bounds are checked: the caller knows the stroke.
 * F = (P − P_atm)·a with P = P₁·(T/T₀)·(1 − 5c)/(1 − c·s). Source: ideal gas law, closed volume.
 */
export const gasForceN = (body: GasBody, sMm: number, tempC: number): number =>
  (extendedMPa(body, tempC) / (1 - body.fillPerMm * sMm) - ATMOSPHERE_MPA) * body.rodAreaMm2;

/** Absolute pressure at full extension, MPa: P₁·(T/T₀)·(1 − 5c), all of the gas law that the compression does not change. */
export const extendedMPa = (body: GasBody, tempC: number): number =>
  body.ratedMPa * ((tempC + ZERO_C_K) / REFERENCE_K) * (1 - RATING_MM * body.fillPerMm);

/** Force that the strut gives while it lengthens, N. */
export const extendingN = (body: GasBody, sMm: number, tempC: number): number =>
  gasForceN(body, sMm, tempC) - body.halfFrictionN;

/** Force that it takes to push the strut in, N. */
export const compressingN = (body: GasBody, sMm: number, tempC: number): number =>
  gasForceN(body, sMm, tempC) + body.halfFrictionN;
