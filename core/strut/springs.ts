/** A coil spring between two points: it acts on one side of `lengthMm` only. */
export interface CoilLaw {
  readonly kind: 'compression' | 'extension';
  /** N per mm. */
  readonly rateNPerMm: number;
  /** Length at which the preload acts: free length, or the length it is caged at, mm. */
  readonly lengthMm: number;
  readonly preloadN: number;
}

/** A torsion spring round the hinge. */
export interface TorsionLaw {
  readonly turns: 'open' | 'shut';
  readonly rateNmPerDeg: number;
  /** Moment with the lid closed, N·m. */
  readonly preloadNm: number;
}

/** How far a coil is deflected from `lengthMm` at a length between its ends, mm; 0 where it is slack. */
export const coilDeflectionMm = (law: CoilLaw, lengthMm: number): number =>
  Math.max(0, law.kind === 'compression' ? law.lengthMm - lengthMm : lengthMm - law.lengthMm);

/**
 * Push of a coil along its own line, N: positive drives its ends apart (compression), negative draws them together
 * (extension), 0 where it is slack. Hooke's law with a preload.
 */
export function coilPushN(law: CoilLaw, lengthMm: number): number {
  const side = law.kind === 'compression' ? law.lengthMm - lengthMm : lengthMm - law.lengthMm;
  if (side < 0) return 0;
  const force = law.preloadN + law.rateNPerMm * side;
  return law.kind === 'compression' ? force : -force;
}

/** Energy in a coil over its state at `lengthMm`, J. */
export function coilEnergyJ(law: CoilLaw, lengthMm: number): number {
  const s = coilDeflectionMm(law, lengthMm);
  return (law.preloadN * s + (law.rateNPerMm * s * s) / 2) / 1000;
}

/**
 * Moment of a torsion spring about the opening axis at an opening angle (degrees), N·m: one that turns the lid open
 * unwinds as it opens and goes loose at 0; one that turns it shut winds up.
 */
export function torsionMomentNm(law: TorsionLaw, angleDeg: number): number {
  return law.turns === 'open'
    ? Math.max(0, law.preloadNm - law.rateNmPerDeg * angleDeg)
    : -(law.preloadNm + law.rateNmPerDeg * angleDeg);
}

/** Energy in a torsion spring over its loose state, J, up to a constant. */
export function torsionEnergyJ(law: TorsionLaw, angleDeg: number): number {
  const moment = torsionMomentNm(law, angleDeg);
  return ((moment * moment) / (2 * law.rateNmPerDeg)) * (Math.PI / 180);
}
