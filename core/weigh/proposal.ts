import { fail } from '../error';
import {
  type Job,
  type ResolvedJob,
  addMass,
  addPoint,
  freshId,
  heldCoordinates,
  indexOf,
  movePoint,
  setValue,
  usesOfPoint,
} from '../job';
import { type Mat3, type Rad, type Vec3, add, dot, mulMat, rotationMatrix, scale, sub, transpose } from '../space';
import { type Matrix, carriedThrough } from './fit';
import type { MassFound } from './lifted';
import type { FirstMoment, PullGeometry } from './pull';

/** A mass item as a weighing would have it: kg and place with the lid closed, and how sure each is. */
export interface MassProposal {
  readonly kg: number;
  readonly at: Vec3;
  /** σ of kg, and of the place along x, y, z, mm; along what was assumed it is 0. */
  readonly sigma: { readonly kg: number; readonly atMm: Vec3 };
  /** Of [kg, x, y, z]. */
  readonly covariance: Matrix;
  /** Unit directions along which the place was not measured. */
  readonly assumed: readonly Vec3[];
  /** One or two plain sentences for the person. */
  readonly text: string;
}

/** Covariance of a proposal's place (mm²) with the lid turned by angleRad about a unit axis: R·C·Rᵀ; as closed without an axis. */
export function placeCovariance({ covariance: c }: MassProposal, axis: Vec3 | null, angleRad: Rad): Mat3 {
  const closed = [1, 2, 3].map((i) => [c[i]![1]!, c[i]![2]!, c[i]![3]!]) as unknown as Mat3;
  if (!axis) return closed;
  const turn = rotationMatrix(axis, angleRad);
  return mulMat(mulMat(turn, closed), transpose(turn));
}

/** What is known beside the first moment: the mass, or how far out the centre of mass lies. */
export type Beside =
  | { readonly kg: number; readonly sigmaKg: number }
  /** Level distance from the hinge to the centre of mass, lid closed. */
  | { readonly acrossMm: number; readonly sigmaMm: number };

/** The proposal of a lid that was lifted off and weighed. */
export function proposalFromLifted(found: MassFound): MassProposal {
  const off = found.assumed.length;
  const text =
    `${found.kg.toFixed(1)} ± ${found.sigmaKg.toFixed(1)} kg, place within ± ${Math.max(...found.sigmaMm).toFixed(0)} mm where it was measured.` +
    (off > 0 ? ` ${off === 1 ? 'One direction was' : `${off} directions were`} not measured: taken as assumed.` : '');
  return {
    kg: found.kg,
    at: found.atMm,
    sigma: { kg: found.sigmaKg, atMm: found.sigmaMm },
    covariance: found.covariance,
    assumed: found.assumed,
    text,
  };
}

/**
 * The proposal of pulls at the grip and one thing more: with the mass known they give the place in the plane square to the hinge;
 * with the arm known they give the mass and the height. Along the hinge the place is that of `assumedMm`.
 * Throws a LidwrightError when what is known is not over 0, or the moment has no level part to take the mass from.
 */
export function proposalFromPulls(
  moment: FirstMoment,
  geometry: Pick<PullGeometry, 'originMm' | 'opening'>,
  beside: Beside,
  assumedMm: Vec3,
): MassProposal {
  const { acrossKgMm: a, uprightKgMm: b } = moment;
  const byMass = 'kg' in beside;
  const known = byMass ? beside.kg : beside.acrossMm;
  const sigma = byMass ? beside.sigmaKg : beside.sigmaMm;
  if (!(known > 0) || !(sigma >= 0))
    return fail(
      byMass ? `the mass given is ${known} kg` : `the arm given is ${known} mm`,
      [],
      'Give a number over 0, and its σ.',
    );
  const kg = byMass ? known : a / known;
  if (!(kg > 0))
    return fail(
      'these pulls push the lid open, so no mass on that side explains them',
      ['pulls'],
      'Check the signs of the readings.',
    );
  const across = a / kg;
  const upright = b / kg;
  // unknowns carried: [a, b, what is known]
  const rows = byMass
    ? { kg: [0, 0, 1], across: [1 / kg, 0, -across / kg], upright: [0, 1 / kg, -upright / kg] }
    : {
        kg: [1 / known, 0, -kg / known],
        across: [0, 0, 1],
        upright: [-upright / a, 1 / kg, upright / known],
      };
  const slope = [
    rows.kg,
    ...[0, 1, 2].map((i) =>
      [0, 1, 2].map((k) => moment.acrossAxis[i]! * rows.across[k]! + moment.uprightAxis[i]! * rows.upright[k]!),
    ),
  ];
  const c = moment.covariance;
  const covariance = carriedThrough(slope, [
    [c[0]![0]!, c[0]![1]!, 0],
    [c[1]![0]!, c[1]![1]!, 0],
    [0, 0, sigma ** 2],
  ]);
  const alongHinge = scale(geometry.opening, dot(sub(assumedMm, geometry.originMm), geometry.opening));
  const inPlane = add(scale(moment.acrossAxis, across), scale(moment.uprightAxis, upright));
  const root = (k: number): number => Math.sqrt(Math.max(0, covariance[k]![k]!));
  return {
    kg,
    at: add(geometry.originMm, add(alongHinge, inPlane)),
    sigma: { kg: root(0), atMm: [root(1), root(2), root(3)] },
    covariance,
    assumed: [geometry.opening],
    text: byMass
      ? `With ${kg.toFixed(1)} kg given, the pulls put the centre of mass ${across.toFixed(0)} mm out from the hinge and ${upright.toFixed(0)} mm above it. Its place along the hinge is taken as assumed.`
      : `With the centre of mass ${across.toFixed(0)} mm out given, the pulls make it ${kg.toFixed(1)} ± ${root(0).toFixed(1)} kg, ${upright.toFixed(0)} mm above the hinge. Its place along the hinge is taken as assumed.`,
  };
}

/** A mass item that is known apart from the weighed whole. */
export interface KnownItem {
  readonly kg: number;
  readonly atMm: Vec3;
}

/**
 * What is left of a weighed whole when the items that are known (and were on it) are taken away; they are taken as exact.
 * Throws a LidwrightError when nothing is left.
 */
export function withoutKnown(whole: MassProposal, items: readonly KnownItem[]): MassProposal {
  if (items.length === 0) return whole;
  const taken = items.reduce((s, i) => s + i.kg, 0);
  const kg = whole.kg - taken;
  if (!(kg > 1e-3 * whole.kg))
    return fail(
      `the whole weighs ${whole.kg.toFixed(1)} kg, and the items on it already ${taken.toFixed(1)} kg`,
      ['masses'],
      'Correct the items, or take out those that were not on the lid when it was weighed.',
    );
  const first = items.reduce<Vec3>((s, i) => sub(s, scale(i.atMm, i.kg)), scale(whole.at, whole.kg));
  const at = scale(first, 1 / kg);
  // d(at)/d(kg) = (whole.at − at)/kg, d(at)/d(whole.at) = whole.kg/kg
  const slope = [
    [1, 0, 0, 0],
    ...[0, 1, 2].map((i) => [(whole.at[i]! - at[i]!) / kg, ...[0, 1, 2].map((j) => (i === j ? whole.kg / kg : 0))]),
  ];
  const covariance = carriedThrough(slope, whole.covariance);
  const root = (k: number): number => Math.sqrt(Math.max(0, covariance[k]![k]!));
  return {
    ...whole,
    kg,
    at,
    sigma: { kg: root(0), atMm: [root(1), root(2), root(3)] },
    covariance,
    text: `${kg.toFixed(1)} ± ${root(0).toFixed(1)} kg are left of ${whole.kg.toFixed(1)} kg when the known items are taken off.`,
  };
}

/** The known items of a job: all masses but the one that is to be corrected. */
export function knownItems(job: ResolvedJob, except: string | null): KnownItem[] {
  const at = new Map(job.points.map((p) => [p.id, p.at]));
  return job.masses.filter((m) => m.id !== except).map((m) => ({ kg: m.kg, atMm: at.get(m.at)! }));
}

/** Grams and tenths of a millimetre: a finer number would only look exact. */
const rounded = (p: MassProposal): { kg: number; at: Vec3 } => {
  const tenth = (v: number): number => Math.round(v * 10) / 10;
  return { kg: Math.round(p.kg * 1000) / 1000, at: [tenth(p.at[0]), tenth(p.at[1]), tenth(p.at[2])] };
};

/**
 * The job with the proposal put in: as a new mass item, or correcting one (its mass and its point). Throws a LidwrightError
 * for a mass that isn't there.
 */
export function applyMassProposal(
  job: Job,
  args: { readonly proposal: MassProposal } & ({ readonly name: string } | { readonly massId: string }),
): Job {
  const { kg, at } = rounded(args.proposal);
  if ('name' in args) return addMass(job, { name: args.name, kg, at });
  const i = indexOf(job, 'masses', args.massId);
  const mass = job.masses[i]!;
  const point = job.points[indexOf(job, 'points', mass.at)]!;
  if (typeof mass.kg !== 'number' || heldCoordinates(point).includes(true))
    return fail(
      `the mass "${mass.name ?? mass.id}" takes its number or its place from a given or an expression`,
      ['masses', i],
      'Type plain numbers there first, or add what was weighed as a new mass.',
    );
  const corrected = setValue(job, { path: ['masses', i, 'kg'], value: kg });
  if (usesOfPoint(job, mass.at).length === 1) return movePoint(corrected, { id: mass.at, at });
  // the point is something else's too: the mass gets one of its own
  const id = freshId(corrected, 'points', `cg-${mass.id}`);
  const withPoint = addPoint(corrected, { id, name: `Centre of ${mass.name ?? mass.id}`, on: 'lid', at });
  return setValue(withPoint, { path: ['masses', i, 'at'], value: id });
}
