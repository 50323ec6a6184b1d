import type { ResolvedJob, Strut } from '../job';
import { STANDARD_GRAVITY } from '../quantity';
import { norm, perpendicularTo, sub } from '../space';
import { usualBody } from '../strut';
import type { Trial } from './trial';
import type { Change, StrutChange } from './types';

/** Something that is never exactly as entered, even on a lid fitted well; one standard deviation in its own unit. */
export interface Doubt {
  readonly what: 'mass' | 'centre' | 'hinge-friction' | 'force' | 'strut-friction' | 'ratio' | 'pivot' | 'extended';
  readonly sigma: number;
  readonly change: (value: number) => Change;
}

/**
 * How exactly a well fitted lid is as entered where nobody says better: one standard deviation.
 * Common practice, no source.
 */
export const AS_BUILT = {
  /** Of the whole lid, as a share: added up from a scale and data sheets. */
  massShare: 0.02,
  /** Common centre of mass, each way, as a share of the distance from hinge to grip. */
  centreShare: 0.007,
  /** Hinges and seals: a share of what is entered, and at least as much as this share of the closed weight's moment. */
  hingeShare: 0.25,
  hingeOfWeight: 0.002,
  /** Each component of a pivot, mm. */
  pivotMm: 1,
  /** A strut's own length between its ends, mm. */
  extendedMm: 1,
  /** Friction band of a strut, as a share of what is entered or usual. */
  strutFrictionShare: 0.2,
  /** Fill of the gas: a ratio stated by the maker; where it is assumed, twice that. */
  fillShare: 0.05,
  /** Charge of a strut without a stated tolerance, as a share of F1. */
  forceShare: 0.03,
} as const;

/** What is better known than AS_BUILT, one standard deviation each. */
export interface Known {
  /** Each component of a point, from an adjusted survey, mm. */
  readonly pointMm?: ReadonlyMap<string, number>;
  /** The whole lid's mass, from its weighing, kg. */
  readonly massKg?: number;
}

/** A change of one strut alone. */
export const forStrut = (id: string, change: StrutChange): Change => ({ struts: { [id]: change } });

/** Friction band that a strut is taken to have when none is entered, N. */
export const bandOf = (strut: Strut): number =>
  strut.spec.frictionN > 0 ? strut.spec.frictionN : usualBody(strut.spec.rodMm, strut.spec.tubeMm).frictionN.usual;

/** Largest weight moment about the hinge with all masses on, N·m; at least 1. */
export function weightNm(job: ResolvedJob, trial: Trial): number {
  const { axis, points } = trial.frame;
  let first = [0, 0, 0] as readonly [number, number, number];
  for (const m of job.masses) {
    const r = sub(points.get(m.at)!, axis.origin);
    first = [first[0] + m.kg * r[0], first[1] + m.kg * r[1], first[2] + m.kg * r[2]];
  }
  return Math.max(1, (norm(perpendicularTo(first, axis.opening)) * STANDARD_GRAVITY) / 1000);
}

/** Everything that a well fitted lid may differ in, each with how much. */
export function doubtsOf(trial: Trial, known: Known = {}): Doubt[] {
  const { job, frame } = trial;
  const total = job.masses.reduce((sum, m) => sum + m.kg, 0);
  const reach = frame.gripRadiusMm;
  const weight = weightNm(job, trial);
  const share = known.massKg !== undefined && total > 0 ? known.massKg / total : AS_BUILT.massShare;
  const point = (id: string): number => known.pointMm?.get(id) ?? AS_BUILT.pivotMm;
  return [
    { what: 'mass', sigma: share, change: (massShare) => ({ massShare }) },
    { what: 'centre', sigma: AS_BUILT.centreShare * reach, change: (v) => ({ centreMm: [v, 0] }) },
    { what: 'centre', sigma: AS_BUILT.centreShare * reach, change: (v) => ({ centreMm: [0, v] }) },
    {
      what: 'hinge-friction',
      sigma: Math.max(AS_BUILT.hingeShare * job.hinge.frictionNm, AS_BUILT.hingeOfWeight * weight),
      change: (hingeNm) => ({ hingeNm }),
    },
    ...job.struts.flatMap(({ id, base, lid, spec, ...rest }): Doubt[] => {
      const [low, high] = spec.toleranceN;
      // the two ends of a stated tolerance are taken as two standard deviations either way
      const force = high > low ? (high - low) / 4 / spec.forceN : AS_BUILT.forceShare;
      const fill = AS_BUILT.fillShare * (spec.assumed?.includes('ratio') ? 2 : 1);
      const friction = AS_BUILT.strutFrictionShare * bandOf({ id, base, lid, spec, ...rest });
      const of = (c: StrutChange): Change => forStrut(id, c);
      return [
        { what: 'force', sigma: force, change: (v) => of({ forceFactor: 1 + v }) },
        { what: 'strut-friction', sigma: friction, change: (v) => of({ frictionN: v }) },
        { what: 'ratio', sigma: fill, change: (v) => of({ fillFactor: 1 + v }) },
        { what: 'pivot', sigma: point(base), change: (v) => of({ baseMm: [v, 0] }) },
        { what: 'pivot', sigma: point(base), change: (v) => of({ baseMm: [0, v] }) },
        { what: 'pivot', sigma: point(lid), change: (v) => of({ lidMm: [v, 0] }) },
        { what: 'pivot', sigma: point(lid), change: (v) => of({ lidMm: [0, v] }) },
        { what: 'extended', sigma: AS_BUILT.extendedMm, change: (v) => of({ extendedMm: v }) },
      ];
    }),
  ];
}
