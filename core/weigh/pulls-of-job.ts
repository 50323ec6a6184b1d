import { attempt, fail, type Issue } from '../error';
import type { Mass, ResolvedJob } from '../job';
import { type Vec3, add, dot, scale, sub } from '../space';
import { type Beside, type KnownItem, type MassProposal, knownItems, proposalFromPulls } from './proposal';
import { type FirstMoment, type PullGeometry, type PullReading } from './pull';
import { expectedPullN, firstMomentFromPulls, frictionPullN, planeAxes, pullGeometry } from './pull';

/** How sure readings are where nobody says (common practice, no source): a luggage scale with hinge friction and an unsteady hand in it. */
export const USUAL_PULL = { sigmaN: 3, sigmaDeg: 0.5, sigmaKg: 0.5, sigmaArmMm: 10 } as const;

/** Over this size of w a reading is suspect (Baarda, α = 0.001). */
export const SUSPECT_W = 3.29;

/** One reading beside what it should have been. */
export interface ReadingCheck {
  readonly id: string;
  /** Switched on. */
  readonly used: boolean;
  /** null where nothing could be found. */
  readonly expectedN: number | null;
  /** Read less expected. */
  readonly offN: number | null;
  readonly w: number | null;
}

/** What the pulls in a job say. What can't be found is null, and `trouble` says why. */
export interface PullsFound {
  readonly geometry: PullGeometry | null;
  readonly readings: readonly ReadingCheck[];
  /** First moment of all that was on the lid. */
  readonly moment: FirstMoment | null;
  /** The same as the mass items have it, kg·mm. */
  readonly listed: Moment | null;
  /** First moment of what was weighed: the known items on the lid taken off. */
  readonly own: FirstMoment | null;
  readonly item: Mass | null;
  /** The one fact that the pulls don't give, and whether somebody typed it. */
  readonly beside: { readonly fact: Beside; readonly typed: boolean } | null;
  readonly proposal: MassProposal | null;
  readonly trouble: readonly Issue[];
}

/** The directions that a first moment is given along. */
export type MomentAxes = Pick<FirstMoment, 'acrossAxis' | 'uprightAxis'>;
export type Moment = Pick<FirstMoment, 'acrossKgMm' | 'uprightKgMm'>;

/** The mass item that was weighed, or null; and the others that were on the lid then. */
export function weighedItems(
  job: ResolvedJob,
  way: 'pulls' | 'lifted',
): { readonly item: Mass | null; readonly place: Vec3; readonly known: readonly KnownItem[] } {
  const at = new Map(job.points.map((p) => [p.id, p.at as Vec3]));
  const item = job.masses.find((m) => m.id === job.weighings?.[way]?.of) ?? null;
  const on = onLidAt(job, way)[firstUsed(job, way)] ?? allOn(job, way);
  return { item, place: (item && at.get(item.at)) ?? middleOfLid(job), known: knownOn(job, on, item) };
}

const allOn = (job: ResolvedJob, way: 'pulls' | 'lifted'): readonly string[] =>
  job.masses.map((m) => m.id).filter((id) => !job.weighings?.[way]?.off?.includes(id));

/** Mass items that were on the lid at each reading, by their ids. */
export const onLidAt = (job: ResolvedJob, way: 'pulls' | 'lifted'): (readonly string[])[] =>
  (job.weighings?.[way]?.readings ?? []).map((r) => r.on ?? allOn(job, way));

/** The reading that says what was on the lid, for those that are of one weighing: the first that is used. */
const firstUsed = (job: ResolvedJob, way: 'pulls' | 'lifted'): number =>
  Math.max(
    0,
    (job.weighings?.[way]?.readings ?? []).findIndex((r) => r.use !== false),
  );

/** Items of these ids with their places, one left out. */
function knownOn(job: ResolvedJob, on: readonly string[], item: Mass | null): KnownItem[] {
  const at = new Map(job.points.map((p) => [p.id, p.at as Vec3]));
  return job.masses
    .filter((m) => m.id !== item?.id && on.includes(m.id) && at.has(m.at))
    .map((m) => ({ kg: m.kg, atMm: at.get(m.at)! }));
}

/** Where a lid's own weight is taken to be along a direction that was not measured: the middle of its outline, or the grip. */
function middleOfLid(job: ResolvedJob): Vec3 {
  const at = new Map(job.points.map((p) => [p.id, p.at as Vec3]));
  const corners = job.outline.map((id) => at.get(id)).filter((p) => p !== undefined);
  if (corners.length === 0) return at.get(job.grip) ?? [0, 0, 0];
  return scale(
    corners.reduce((s, c) => add(s, c), [0, 0, 0] as Vec3),
    1 / corners.length,
  );
}

/** First moment of items about the hinge, along a moment's own axes, kg·mm. */
export const momentOf = (
  items: readonly KnownItem[],
  geometry: Pick<PullGeometry, 'originMm'>,
  axes: MomentAxes,
): Moment => {
  const along = (axis: Vec3): number => items.reduce((s, i) => s + i.kg * dot(sub(i.atMm, geometry.originMm), axis), 0);
  return { acrossKgMm: along(axes.acrossAxis), uprightKgMm: along(axes.uprightAxis) };
};

/** A first moment with known items taken away; they count as exact. */
export function momentWithout(
  moment: FirstMoment,
  geometry: Pick<PullGeometry, 'originMm'>,
  items: readonly KnownItem[],
): FirstMoment {
  const taken = momentOf(items, geometry, moment);
  return {
    ...moment,
    acrossKgMm: moment.acrossKgMm - taken.acrossKgMm,
    uprightKgMm: moment.uprightKgMm - taken.uprightKgMm,
  };
}

/**
 * The geometry and readings of a job's pulls so that a positive reading holds the lid up: where the lid opens downwards the
 * sense of turning is turned round. Throws a LidwrightError as pullGeometry does.
 */
export function pullsOf(job: ResolvedJob): {
  readonly geometry: PullGeometry;
  readonly readings: readonly PullReading[];
} {
  const pulls = job.weighings?.pulls;
  const plain = pullGeometry(job, pulls?.pitchDeg ?? 0, pulls?.rollDeg ?? 0);
  const down = job.hinge.opens === 'down';
  return {
    geometry: down ? { ...plain, opening: scale(plain.opening, -1) } : plain,
    readings: (pulls?.readings ?? []).map((r, row) => ({
      told: { row, angleDeg: r.angleDeg },
      angleDeg: down ? -r.angleDeg : r.angleDeg,
      forceN: r.forceN,
      sigmaN: pulls?.sigmaN ?? USUAL_PULL.sigmaN,
      sigmaDeg: pulls?.sigmaDeg ?? USUAL_PULL.sigmaDeg,
      pull: r.pull ?? 'square',
    })),
  };
}

/**
 * What a reading has in it that others have not, N: things that were on the lid at it and not at the first (and the other way
 * round), and hinge friction where it was read on one way only. NaN where what is to be found was not on the lid.
 */
function extraOf(job: ResolvedJob, { geometry, readings }: ReturnType<typeof pullsOf>, item: Mass | null): number[] {
  const rows = job.weighings?.pulls?.readings ?? [];
  const on = onLidAt(job, 'pulls');
  const first = on[firstUsed(job, 'pulls')] ?? [];
  const axes = planeAxes(geometry);
  return rows.map((row, i) => {
    if (item && !on[i]!.includes(item.id)) return NaN;
    const pull = (ids: readonly string[]): number =>
      ids.length === 0
        ? 0
        : expectedPullN(geometry, { ...axes, ...momentOf(knownOn(job, ids, item), geometry, axes) }, readings[i]!);
    const more = pull(on[i]!.filter((id) => !first.includes(id))) - pull(first.filter((id) => !on[i]!.includes(id)));
    const rub = row.while ? frictionPullN(geometry, readings[i]!, job.hinge.frictionNm * 1000) : 0;
    return more + (row.while === 'lowering' ? -rub : rub);
  });
}

/** The fact beside the pulls: typed in the job, or as the item to correct has it; null where nobody says. */
function besideOf(job: ResolvedJob, item: Mass | null, armMm: number): PullsFound['beside'] {
  const pulls = job.weighings?.pulls ?? {};
  const { sigmaKg = USUAL_PULL.sigmaKg, sigmaArmMm = USUAL_PULL.sigmaArmMm } = pulls;
  if ((pulls.known ?? 'arm') === 'mass') {
    const kg = pulls.kg ?? item?.kg;
    return kg === undefined ? null : { fact: { kg, sigmaKg }, typed: pulls.kg !== undefined };
  }
  return { fact: { acrossMm: pulls.armMm ?? armMm, sigmaMm: sigmaArmMm }, typed: pulls.armMm !== undefined };
}

/** Level distance from the hinge to a place with the lid closed, mm. */
const armOf = (place: Vec3, geometry: PullGeometry, moment: FirstMoment): number =>
  dot(sub(place, geometry.originMm), moment.acrossAxis);

/**
 * All that the pulls in a job give: the first moment, each reading against it, and a proposal for the mass item that was
 * weighed. Never throws for what was read: `trouble` says what keeps it from an answer, with paths into the job.
 */
export function pullsFound(job: ResolvedJob): PullsFound {
  const rows = job.weighings?.pulls?.readings ?? [];
  const { item, place, known } = weighedItems(job, 'pulls');
  const found = {
    geometry: null as PullGeometry | null,
    readings: rows.map((r): ReadingCheck => ({
      id: r.id,
      used: r.use !== false,
      expectedN: null,
      offN: null,
      w: null,
    })),
    moment: null as FirstMoment | null,
    listed: null as Moment | null,
    own: null as FirstMoment | null,
    item,
    beside: null as PullsFound['beside'],
    proposal: null as MassProposal | null,
    trouble: [] as readonly Issue[],
  };
  const { error } = attempt(() => {
    const pulls = pullsOf(job);
    const { geometry, readings } = pulls;
    found.geometry = geometry;
    const used = rows.flatMap((r, i) => (r.use === false ? [] : [i]));
    const extra = extraOf(job, pulls, item);
    const without = used.find((i) => Number.isNaN(extra[i]));
    if (without !== undefined)
      fail(
        `${item!.name ?? item!.id} was not on the lid at reading ${without + 1}`,
        ['weighings', 'pulls', 'readings', without, 'on'],
        'Say that it was, or switch that reading off.',
      );
    const moment = firstMomentFromPulls(
      geometry,
      used.map((i) => ({ ...readings[i]!, forceN: readings[i]!.forceN - extra[i]! })),
    );
    found.moment = moment;
    found.readings = rows.map((r, i) => {
      const k = used.indexOf(i);
      const expectedN =
        k < 0 ? expectedOrNull(geometry, moment, readings[i]!, extra[i]!) : r.forceN + moment.residualsN[k]!;
      return {
        id: r.id,
        used: k >= 0,
        expectedN,
        offN: expectedN === null ? null : r.forceN - expectedN,
        w: k < 0 ? null : moment.w[k]!,
      };
    });
    const now = item ? [...known, { kg: item.kg, atMm: place }] : known;
    found.listed = momentOf(now, geometry, moment);
    found.own = momentWithout(moment, geometry, known);
    found.beside = besideOf(job, item, armOf(place, geometry, moment));
    if (found.beside) found.proposal = proposalFromPulls(found.own, geometry, found.beside.fact, place);
  });
  if (error)
    found.trouble = error.issues.map((issue) => ({
      ...issue,
      where: issue.where[0] === 'pulls' ? ['weighings', 'pulls', 'readings', ...issue.where.slice(1)] : issue.where,
    }));
  return found;
}

/** An upright pull has no expected force where it has no arm. */
function expectedOrNull(
  geometry: PullGeometry,
  moment: FirstMoment,
  reading: PullReading,
  extraN: number,
): number | null {
  const value = expectedPullN(geometry, moment, reading) + extraN;
  return Number.isFinite(value) && Math.abs(value) < 1e6 ? value : null;
}

/** The most suspect reading, or null where none is. */
export const mostSuspect = (readings: readonly ReadingCheck[]): ReadingCheck | null =>
  readings.reduce<ReadingCheck | null>(
    (worst, r) => (r.w !== null && Math.abs(r.w) > SUSPECT_W && Math.abs(r.w) > Math.abs(worst?.w ?? 0) ? r : worst),
    null,
  );

/** All mass items of a job with their places, lid closed. */
export const allItems = (job: ResolvedJob): KnownItem[] => knownItems(job, null);

/** Level first moment of items about a job's hinge with the lid closed and the base level, kg·mm; null where it can't be told. */
export function closedMoment(job: ResolvedJob, items: readonly KnownItem[]): number | null {
  return attempt(() => {
    const geometry = pullGeometry(job);
    return momentOf(items, geometry, planeAxes(geometry)).acrossKgMm;
  }).value;
}
