import { type Vec3, add, cross, dot, norm, perpendicularTo, scale, sub, unit } from '../space';
import { ATMOSPHERE_MPA, type GasBody, RATING_MM } from '../strut';
import { type Frame, type Plan, type StrutPlan, lengthLaw, turning } from '../travel';
import type { Change, StrutChange } from './types';

/** The two directions in the plane square to the hinge in which things are looked for, lid closed; unit vectors. */
export interface Directions {
  /** From the hinge to the grip. */
  readonly out: Vec3;
  /** The way the grip moves when the lid begins to open. */
  readonly opening: Vec3;
}

/** Directions of a frame. The grip is off the axis in every job that can be computed. */
export function directionsOf(frame: Frame): Directions {
  const { even, odd } = frame.grip;
  return { out: unit(even), opening: unit(odd) };
}

const along = (d: Directions, [out, opening]: readonly [number, number]): Vec3 =>
  add(scale(d.out, out), scale(d.opening, opening));

/** A plan with everything of a change in it: the same numbers as planning the changed job afresh. */
export function patchPlan(plan: Plan, change: Change, d: Directions): Plan {
  const o = plan.axis.opening;
  const { fixed, even } = plan.firstMoment;
  let first = scale(add(fixed, even), 1 + (change.massShare ?? 0));
  let massKg = plan.massKg * (1 + (change.massShare ?? 0));
  const loadCase = plan.job.loadCases.find((c) => c.id === plan.caseId);
  for (const mass of plan.job.masses) {
    const more = change.massKg?.[mass.id];
    if (more === undefined || loadCase?.off.includes(mass.id)) continue;
    massKg += more;
    first = add(first, scale(sub(plan.points.get(mass.at) as Vec3, plan.axis.origin), more));
  }
  if (change.centreMm) first = add(first, scale(along(d, change.centreMm), massKg));
  const firstMoment = turning(first, o);
  return {
    ...plan,
    massKg,
    firstMoment,
    cosNmm: dot(o, cross(firstMoment.even, plan.gravity)),
    sinNmm: dot(o, cross(firstMoment.odd, plan.gravity)),
    frictionNmm: Math.max(0, plan.frictionNmm + 1000 * (change.hingeNm ?? 0)),
    struts: plan.struts.map((s) => {
      const c = change.struts?.[s.id];
      return c ? patchStrut(s, c, o, d) : s;
    }),
  };
}

function patchStrut(s: StrutPlan, c: StrutChange, opening: Vec3, d: Directions): StrutPlan {
  const moved = c.baseMm ?? c.lidMm;
  const base = c.baseMm ? add(s.base, along(d, c.baseMm)) : s.base;
  const lid = c.lidMm ? turning(add(add(s.lid.fixed, s.lid.even), along(d, c.lidMm)), opening) : s.lid;
  const patched = (gas: GasBody): GasBody => {
    // F1 is the force while extending, P₁ = (F1 + FR/2)/a + P_atm; friction from dirt or side load leaves the gas as it is
    const ratedN = ((gas.ratedMPa - ATMOSPHERE_MPA) * gas.rodAreaMm2 - gas.halfFrictionN) * (c.forceFactor ?? 1);
    return {
      ...gas,
      halfFrictionN: Math.max(0, gas.halfFrictionN + (c.frictionN ?? 0) / 2),
      ratedMPa: (ratedN + gas.halfFrictionN) / gas.rodAreaMm2 + ATMOSPHERE_MPA,
      fillPerMm: gas.fillPerMm * (c.fillFactor ?? 1),
    };
  };
  return {
    ...s,
    quantity: c.working ?? s.quantity,
    base,
    lid,
    law: moved ? lengthLaw(base, lid) : s.law,
    extendedMm: s.extendedMm + (c.extendedMm ?? 0),
    gas: patched(s.gas),
    held: patched(s.held),
  };
}

/** How far beyond its stroke a strut is carried on by its own gas law while causes are fitted, mm. */
const ROOM_MM = 40;

/**
 * The same strut with room beyond both ends of its stroke, its force carried on by its gas law: a fit may look a little
 * past the end without its sums turning into NaN. Inside the stroke nothing changes.
 */
export function withRoom(s: StrutPlan): StrutPlan {
  const { fillPerMm: c, ratedMPa } = s.gas;
  // s' = s + room: 1 − c·s = (1 + c·room)·(1 − c'·s') with c' = c/(1 + c·room)
  const fill = c / (1 + c * ROOM_MM);
  // stay clear of the pole where the gas is squeezed to nothing
  const most = 0.98 / fill;
  return {
    ...s,
    extendedMm: s.extendedMm + ROOM_MM,
    strokeMm: Math.min(s.strokeMm + 2 * ROOM_MM, most),
    gas: {
      ...s.gas,
      fillPerMm: fill,
      ratedMPa: (ratedMPa * (1 - RATING_MM * c)) / ((1 + c * ROOM_MM) * (1 - RATING_MM * fill)),
    },
  };
}

/** How far the lid would turn for a force at the grip along `up`, mm: its lever arm about the hinge. */
export function uprightArmMm(plan: Plan, gripAt: Vec3): number {
  const up = scale(plan.gravity, -1 / norm(plan.gravity));
  return dot(plan.axis.opening, cross(perpendicularTo(gripAt, plan.axis.opening), up));
}
