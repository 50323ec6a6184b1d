import { fail } from '../error';
import type { LoadCase, ResolvedJob } from '../job';
import { type Vec3, distance, norm, rad, scale, toDeg, toRad } from '../space';
import {
  type Frame,
  type Kinematics,
  type Plan,
  type TravelTable,
  caseTable,
  kinematics,
  makeFrame,
  makePlan,
  strutStop,
  turned,
} from '../travel';
import { type Directions, directionsOf, patchPlan, uprightArmMm, withRoom } from './patch';
import type { Change, Probe } from './types';

/** A job made ready to say what any probe would read under any change. */
export interface Trial {
  readonly job: ResolvedJob;
  readonly frame: Frame;
  readonly directions: Directions;
  /** One plan a condition (load case, temperature, struts off or on), made on first use. */
  plan(probe: Pick<Probe, 'loadCase' | 'tempC' | 'strutsOff'>): Plan;
}

const asMeasured = (c: LoadCase, tempC: number): LoadCase => ({ ...c, tempC, force: 'nominal', ageLossPercent: 0 });

/**
 * Makes a job ready for probing. Struts count as new and nominal, whatever the load case says of force and age: their
 * tolerance goes into the ± instead. Throws a LidwrightError when the job can't be computed.
 */
export function makeTrial(job: ResolvedJob): Trial {
  const frame = makeFrame(job);
  const plans = new Map<string, Plan>();
  return {
    job,
    frame,
    directions: directionsOf(frame),
    plan({ loadCase, tempC, strutsOff }) {
      const key = `${loadCase}|${tempC}|${strutsOff}`;
      const known = plans.get(key);
      if (known) return known;
      const found =
        job.loadCases.find((c) => c.id === loadCase) ??
        fail(`there is no load case "${loadCase}"`, ['proof', 'loadCase'], 'Choose one of the job’s.');
      const as = { ...frame, job: { ...job, loadCases: [asMeasured(found, tempC)] } };
      const made = makePlan(as, loadCase);
      const plan = strutsOff ? { ...made, struts: made.struts.map((s) => ({ ...s, quantity: 0 as const })) } : made;
      plans.set(key, plan);
      return plan;
    },
  };
}

/** How far the lid opens in a plan that was changed, degrees: its stop, or the first strut that comes to its end. */
export function opensToDeg(plan: Plan): number {
  const { travel } = plan.job;
  if (travel.stop === 'lid') return travel.openDeg;
  const stops = plan.struts.map((s) => strutStop(s.law, s.extendedMm, s.strokeMm)).filter((a) => a !== null);
  return Math.min(travel.openDeg, ...stops.map((a) => toDeg(a)));
}

/** Angles of balance are compared as what the hand would hold at the angle that was read, N. */
export const isBalance = (probe: Pick<Probe, 'what'>): boolean =>
  probe.what === 'lifts-from' || probe.what === 'falls-from' || probe.what === 'rests-at';

/** Hand force of a table row for a balance probe, N at the grip. */
export function balanceN(what: Probe['what'], table: TravelTable, i: number): number {
  const opening = table.handOpeningN[i] as number;
  const closing = table.handClosingN[i] as number;
  return what === 'lifts-from' ? opening : what === 'falls-from' ? closing : (opening + closing) / 2;
}

/** Groups probes by condition and keeps one table a group, so that a fit allocates nothing but its answers. */
export interface Prober {
  /**
   * What each probe reads under a change: mm, N, degrees or kg; for an angle of balance the hand force at probe.angleDeg,
   * N, which is 0 where the lid is in balance. Strict: NaN where a strut would be outside its stroke; otherwise its gas law
   * is carried on.
   */
  read(change: Change, strict?: boolean): Float64Array;
}

/** A prober for a fixed list of probes; see Prober. Throws a LidwrightError when a probe's load case isn't there. */
export function makeProber(trial: Trial, probes: readonly Probe[]): Prober {
  const groups = new Map<
    string,
    { plan: Plan; rows: number[]; angles: Float64Array; table?: TravelTable; poses?: Kinematics }
  >();
  probes.forEach((probe, i) => {
    const key = `${probe.loadCase}|${probe.tempC}|${probe.strutsOff}`;
    let group = groups.get(key);
    if (!group) groups.set(key, (group = { plan: trial.plan(probe), rows: [], angles: new Float64Array(0) }));
    group.rows.push(i);
  });
  for (const group of groups.values()) group.angles = new Float64Array(group.rows.length);
  return {
    read(change, strict = false) {
      const out = new Float64Array(probes.length);
      for (const group of groups.values()) {
        const plan = patchPlan(group.plan, change, trial.directions);
        const openDeg = opensToDeg(plan);
        const swept = strict ? plan : { ...plan, struts: plan.struts.map(withRoom) };
        group.rows.forEach((row, k) => {
          const probe = probes[row]!;
          group.angles[k] = probe.at === 'closed' ? 0 : probe.at === 'open' ? openDeg : probe.angleDeg;
        });
        group.poses = kinematics(swept, group.angles, group.poses);
        const table = (group.table = caseTable(swept, group.poses, group.table));
        group.rows.forEach((row, k) => (out[row] = readOne(probes[row]!, plan, table, k, openDeg)));
      }
      return out;
    },
  };
}

/** Distance of a place (from hinge point A) from the nearer hinge point, mm. */
function hingeDistanceMm(plan: Plan, at: Vec3): number {
  return Math.min(norm(at), distance(at, scale(plan.axis.along, plan.axis.spanMm)));
}

function readOne(probe: Probe, plan: Plan, table: TravelTable, k: number, openDeg: number): number {
  const strut = plan.struts.find((s) => s.id === probe.strut);
  switch (probe.what) {
    case 'free-length':
      return strut ? strut.extendedMm : NaN;
    case 'pivot-to-hinge':
      return strut ? hingeDistanceMm(plan, probe.end === 'lid' ? turned(strut.lid, rad(0)) : strut.base) : NaN;
    case 'opens-to':
      return openDeg;
    case 'lid-mass':
      return plan.massKg;
    case 'strut-length':
    case 'joint-angle': {
      const row = table.struts.find((s) => s.id === probe.strut);
      if (!row) return NaN;
      return (probe.what === 'strut-length' ? row.lengthMm : probe.end === 'lid' ? row.lidJointDeg : row.baseJointDeg)[
        k
      ]!;
    }
    case 'hand-force': {
      const square = (probe.way === 'closing' ? table.handClosingN : table.handOpeningN)[k]!;
      if (probe.pull === 'square') return square;
      const arm = uprightArmMm(plan, turned(plan.grip, toRad(table.angleDeg[k]!)));
      return (square * plan.gripRadiusMm) / arm;
    }
    case 'rests-at':
    case 'falls-from':
    case 'lifts-from':
      return balanceN(probe.what, table, k);
  }
}
