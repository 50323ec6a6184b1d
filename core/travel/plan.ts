import { fail } from '../error';
import {
  type EndName,
  type JobPart,
  type LoadCase,
  type ResolvedJob,
  type Spec,
  type Spring,
  type Strut,
  assertComputable,
  partsOf,
} from '../job';
import { stemFromMount } from '../joint';
import { STANDARD_GRAVITY } from '../quantity';
import {
  type Rad,
  type Vec3,
  add,
  applyMat,
  cos,
  cross,
  dot,
  norm,
  perpendicularTo,
  plateOf,
  rad,
  scale,
  sin,
  slopeMatrix,
  sub,
  toDeg,
  toRad,
  transpose,
  unit,
} from '../space';
import { type CoilLaw, type GasBody, STROKE_SLACK_MM, type TorsionLaw, agedBody, gasBody } from '../strut';
import { type Axis, type LengthLaw, type Turning, anglesOfLength, lengthLaw, openingAxis, turning } from './pose';

/** Air at sea level, kg/m³. Source: US Standard Atmosphere 1976. */
const SEA_LEVEL_AIR_KG_M3 = 1.225;
/** A normal that moves the centroid's way by less than this share of its arm says nothing of the way the lid opens. */
const NO_OPENING = 1e-9;

/** What of a strut no load case changes; vectors from hinge point A, mm. */
export interface StrutGeometry {
  readonly id: string;
  readonly base: Vec3;
  readonly lid: Turning;
  readonly law: LengthLaw;
  readonly extendedMm: number;
  readonly strokeMm: number;
  /** Base stem (unit), fixed. */
  readonly baseStem: Vec3;
  /** Lid stem (unit), turning. */
  readonly lidStem: Turning;
}

/** A strut in one load case. */
export interface StrutPlan extends StrutGeometry {
  /** How many of it push: 2 is a mirror pair, 0 a single one that is lost. */
  readonly quantity: 0 | 1 | 2;
  readonly gas: GasBody;
  /** What may be counted on to hold the lid open: the same, without friction where that is assumed. */
  readonly held: GasBody;
}

/** A spring prepared for the sweep: a coil between two points, or a torsion spring round the hinge. */
export type SpringPlan = { readonly id: string; readonly quantity: 1 | 2 } & (
  | {
      readonly coil: CoilLaw;
      readonly base: Vec3;
      readonly lid: Turning;
      readonly law: LengthLaw;
      readonly torsion: null;
    }
  | { readonly coil: null; readonly torsion: TorsionLaw }
);

/** What frames and plans are made from. */
export const FRAME_PARTS = [
  'points',
  'hinge',
  'travel',
  'grip',
  'masses',
  'struts',
  'springs',
  'loadCases',
  'limits',
  'outline',
  'seal',
  'latch',
] as const satisfies readonly JobPart[];
export type FrameJob = Pick<ResolvedJob, (typeof FRAME_PARTS)[number]>;

/** The lid as a plate, for what presses on all of it: vectors from hinge point A, mm. */
export interface PlatePlan {
  readonly centroid: Turning;
  /** Unit, pointing the way the lid opens. */
  readonly normal: Turning;
  readonly areaMm2: number;
  /** Distance of the centroid from the hinge axis, mm. */
  readonly radiusMm: number;
}

/** A seal pressing at the plate's centroid: its push with the lid closed, N, and over what way it goes, mm. */
export interface SealPlan {
  readonly forceN: number;
  readonly overMm: number;
  readonly centroid: Turning;
  readonly radiusMm: number;
}

/** Wind on the plate: q·C·A, N, and where it blows (unit, base axes), or 1 with the normal, −1 against it. */
export interface WindPlan {
  readonly fullN: number;
  readonly towards: Vec3 | 1 | -1;
  readonly plate: PlatePlan;
}

/** What the poses of a lid hang on. */
export interface Linkage {
  readonly axis: Axis;
  readonly grip: Turning;
  readonly gripRadiusMm: number;
  readonly struts: readonly StrutGeometry[];
  readonly springs: readonly SpringPlan[];
  readonly seal: SealPlan | null;
}

/** Everything of a job that does not depend on the load case. */
export interface Frame extends Linkage {
  readonly job: FrameJob;
  /** How far the lid opens, degrees, after its stop. */
  readonly openDeg: number;
  /** Which strut stops the lid, if one does. */
  readonly stoppedBy: string | null;
  readonly points: ReadonlyMap<string, Vec3>;
  /** Null where the outline has no area; then there is neither seal nor wind. */
  readonly plate: PlatePlan | null;
}

/** A job and one load case, ready to sweep. */
export interface Plan extends Frame {
  readonly caseId: string;
  readonly tempC: number;
  readonly massKg: number;
  /** Σ m·(r − A) over the masses that are on, kg·mm, turning with the lid. */
  readonly firstMoment: Turning;
  /** Gravity in base axes less the base's own acceleration, m/s². */
  readonly gravity: Vec3;
  /** Weight moment about the opening axis, N·mm: cosNmm·cos θ + sinNmm·sin θ. */
  readonly cosNmm: number;
  readonly sinNmm: number;
  readonly frictionNmm: number;
  readonly wind: WindPlan | null;
  readonly struts: readonly StrutPlan[];
}

/** A strut without what it pushes with. */
export type StrutBody = Omit<Strut, 'spec'> & {
  readonly spec: Pick<Strut['spec'], 'extendedMm' | 'strokeMm' | 'rodMm' | 'tubeMm'>;
};

/** What the struts sweep over: all of a plan that no force, mass or temperature changes. */
export interface Passage extends Pick<Plan, 'axis' | 'openDeg' | 'caseId'> {
  readonly job: { readonly struts: readonly StrutBody[] };
  readonly struts: readonly (StrutGeometry & Pick<StrutPlan, 'quantity'>)[];
}

/** The passage of a plan. */
export const passageOf = ({ axis, openDeg, caseId, job, struts }: Plan): Passage => ({
  axis,
  openDeg,
  caseId,
  job: {
    struts: job.struts.map(({ spec: { extendedMm, strokeMm, rodMm, tubeMm }, ...strut }) => ({
      spec: { extendedMm, strokeMm, rodMm, tubeMm },
      ...strut,
    })),
  },
  struts: struts.map(({ gas: _gas, held: _held, ...strut }) => strut),
});

/**
 * Which end a strut's rod is at: as the job says, else the lower one with the lid closed, so that oil stays on its seal
 * (common practice, no source).
 */
export const rodEndOf = (strut: Pick<Strut, 'rodAt'>, baseClosed: Vec3, lidClosed: Vec3): EndName =>
  strut.rodAt ?? (baseClosed[2] <= lidClosed[2] ? 'base' : 'lid');

/** The stem of a strut end as a unit vector in its own body's axes, lid closed. */
export function stemOf(end: Strut['ends']['base']): Vec3 {
  if (end.stem) return unit(end.stem);
  if (!end.mount)
    return fail('this strut end has neither a direction of its stud nor a mount', [], 'Give one of them.');
  return stemFromMount(end.mount, toRad(end.azimuthDeg ?? 0), toRad(end.tiltDeg ?? 0));
}

/**
 * First θ > 0, rad, at which a strut reaches an end of its stroke moving outward; null when it never does, or when it
 * is out of its stroke already with the lid closed (then it can't be fitted, and stops nothing).
 */
export function strutStop(law: LengthLaw, extendedMm: number, strokeMm: number): Rad | null {
  const closedMm = Math.sqrt(Math.max(0, law.k + law.p));
  if (closedMm > extendedMm + STROKE_SLACK_MM || closedMm < extendedMm - strokeMm - STROKE_SLACK_MM) return null;
  const slope = (angle: Rad): number => law.q * cos(angle) - law.p * sin(angle);
  const outward = [
    ...anglesOfLength(law, extendedMm).filter((a) => slope(a) > 0),
    ...anglesOfLength(law, extendedMm - strokeMm).filter((a) => slope(a) < 0),
  ];
  return outward.length > 0 ? rad(Math.min(...outward)) : null;
}

/**
 * What all load cases share. Throws a LidwrightError when the job can't be computed (assertComputable) or its opening
 * sense can't be told.
 */
export function makeFrame(job: ResolvedJob): Frame {
  assertComputable(job);
  return frameOf(partsOf(job, FRAME_PARTS));
}

/** The same for a job that has passed assertComputable, from the parts that count. */
export function frameOf(job: FrameJob): Frame {
  const axis = openingAxis(job);
  const points = new Map(job.points.map((p) => [p.id, p.at]));
  const gripArm = sub(points.get(job.grip) as Vec3, axis.origin);
  const struts = job.struts.map((strut): StrutGeometry => ({
    id: strut.id,
    ...pivotsOf(strut, points, axis),
    extendedMm: strut.spec.extendedMm,
    strokeMm: strut.spec.strokeMm,
    baseStem: stemOf(strut.ends.base),
    lidStem: turning(stemOf(strut.ends.lid), axis.opening),
  }));
  let openDeg: number = job.travel.openDeg;
  let stoppedBy: string | null = null;
  if (job.travel.stop === 'strut') {
    for (const strut of struts) {
      const stop = strutStop(strut.law, strut.extendedMm, strut.strokeMm);
      if (stop !== null && toDeg(stop) < openDeg) {
        openDeg = toDeg(stop);
        stoppedBy = strut.id;
      }
    }
  }
  const plate = platePlan(job, points, axis);
  return {
    job,
    axis,
    points,
    plate,
    seal:
      job.seal && plate
        ? {
            forceN: job.seal.forceN,
            overMm: job.seal.overMm,
            centroid: plate.centroid,
            radiusMm: plate.radiusMm,
          }
        : null,
    openDeg,
    stoppedBy,
    grip: turning(gripArm, axis.opening),
    gripRadiusMm: norm(perpendicularTo(gripArm, axis.opening)),
    struts,
    springs: job.springs.map((spring) => springPlan(spring, points, axis)),
  };
}

function platePlan(job: FrameJob, points: ReadonlyMap<string, Vec3>, axis: Axis): PlatePlan | null {
  const plate = plateOf(job.outline.map((id) => points.get(id) as Vec3));
  if (!plate) return null;
  const arm = sub(plate.centroid, axis.origin);
  const opens = dot(plate.normal, cross(axis.opening, arm));
  const sign = Math.abs(opens) > NO_OPENING * Math.max(1, norm(arm)) && opens < 0 ? -1 : 1;
  return {
    centroid: turning(arm, axis.opening),
    normal: turning(scale(plate.normal, sign), axis.opening),
    areaMm2: plate.areaMm2,
    radiusMm: norm(perpendicularTo(arm, axis.opening)),
  };
}

/** q·C·A with the wind's dynamic pressure q = ½·ρ·v². Null without wind. */
function windPlan({ wind }: LoadCase, plate: PlatePlan | null): WindPlan | null {
  if (!wind || !plate) return null;
  const { ms, coefficient, towards } = wind;
  return {
    fullN: 0.5 * SEA_LEVEL_AIR_KG_M3 * ms * ms * coefficient * plate.areaMm2 * 1e-6,
    towards: towards === 'open' ? 1 : towards === 'shut' ? -1 : unit(towards),
    plate,
  };
}

function pivotsOf(
  ends: { readonly base: string; readonly lid: string },
  points: ReadonlyMap<string, Vec3>,
  axis: Axis,
): { readonly base: Vec3; readonly lid: Turning; readonly law: LengthLaw } {
  const base = sub(points.get(ends.base) as Vec3, axis.origin);
  const lid = turning(sub(points.get(ends.lid) as Vec3, axis.origin), axis.opening);
  return { base, lid, law: lengthLaw(base, lid) };
}

/** How many of a strut push in a load case: of a pair one is left when it is lost, of a single one none. */
export const pushingCount = (strut: Pick<Strut, 'id' | 'quantity'>, loadCase: LoadCase): 0 | 1 | 2 =>
  loadCase.lost.includes(strut.id) ? (strut.quantity === 2 ? 1 : 0) : strut.quantity;

function springPlan(spring: Spring, points: ReadonlyMap<string, Vec3>, axis: Axis): SpringPlan {
  const { id, quantity, kind } = spring;
  if (kind === 'torsion')
    return {
      id,
      quantity,
      coil: null,
      torsion: {
        turns: spring.turns ?? 'open',
        rateNmPerDeg: spring.rateNmPerDeg as number,
        preloadNm: spring.preloadNm ?? 0,
      },
    };
  return {
    id,
    quantity,
    torsion: null,
    coil: {
      kind,
      rateNPerMm: spring.rateNPerMm as number,
      lengthMm: spring.lengthMm as number,
      preloadN: spring.preloadN ?? 0,
    },
    ...pivotsOf({ base: spring.base as string, lid: spring.lid as string }, points, axis),
  };
}

/** Prepares one load case of a frame. Throws a LidwrightError when there is no case of that id. */
export function makePlan(frame: Frame, caseId: string): Plan {
  const { struts, ...rest } = frame;
  const { job, axis, points } = rest;
  const loadCase =
    job.loadCases.find((c) => c.id === caseId) ??
    fail(`there is no load case "${caseId}"`, ['loadCases'], 'Choose one of the job’s.');
  const toLevel = slopeMatrix(toRad(loadCase.pitchDeg), toRad(loadCase.rollDeg));
  const level = applyMat(transpose(toLevel), [0, 0, -STANDARD_GRAVITY]);
  const gravity = sub(level, scale(loadCase.accelG, STANDARD_GRAVITY));
  let massKg = 0;
  let first: Vec3 = [0, 0, 0];
  for (const mass of job.masses) {
    if (loadCase.off.includes(mass.id)) continue;
    massKg += mass.kg;
    first = add(first, scale(sub(points.get(mass.at) as Vec3, axis.origin), mass.kg));
  }
  const firstMoment = turning(first, axis.opening);
  // spreads come last: with one first, V8 makes a new hidden class for every plan, and every step of a drag leaves some behind
  return {
    caseId,
    tempC: loadCase.tempC,
    massKg,
    firstMoment,
    gravity,
    cosNmm: dot(axis.opening, cross(firstMoment.even, gravity)),
    sinNmm: dot(axis.opening, cross(firstMoment.odd, gravity)),
    frictionNmm: job.hinge.frictionNm * 1000,
    wind: windPlan(loadCase, frame.plate),
    struts: job.struts.map(({ spec, ...strut }, i) => {
      const charged = (of: Spec): GasBody => agedBody(gasBody(of, loadCase.force), loadCase.ageLossPercent);
      const gas = charged(spec);
      return {
        quantity: pushingCount(strut, loadCase),
        gas,
        held: spec.assumed?.includes('frictionN') ? charged({ ...spec, frictionN: 0 }) : gas,
        ...struts[i]!,
      };
    }),
    ...rest,
  };
}
