import { strutIndexOf, geometryOf, entrySpec } from '../choose';
import { fail } from '../error';
import { type EndName, type Job, type ResolvedJob, type Spec, resolveJob } from '../job';
import { fittingKind, fittingOf } from '../joint';
import { type Vec3, cos, cross, dot, norm, perpendicularTo, rad, sin, sub, toRad, unit, axisVec } from '../space';
import {
  ATMOSPHERE_MPA,
  type StrutListEntry,
  forcesOf,
  gasBody,
  genericMetricList,
  specIssues,
  strutBuckling,
  usualBody,
} from '../strut';
import { type Axis, pushingCount } from '../travel';
import { type Site, siteOf } from './site';

/** One entry of the list with all its forces, as the innermost loop wants it. Forces of an index, load cases within. */
export interface Body {
  readonly entry: number;
  readonly extendedMm: number;
  readonly compressedMm: number;
  readonly strokeMm: number;
  readonly tubeMm: number;
  readonly specs: readonly Spec[];
  readonly halfN: number;
  readonly atmosphereN: number;
  /** Rod area over gas volume, 1/mm, by force; and of what may be counted on to hold. */
  readonly fill: Float64Array;
  readonly heldFill: Float64Array;
  /** Absolute push at full extension, N, by force and load case; and of what may be counted on to hold. */
  readonly fullN: Float64Array;
  readonly heldN: Float64Array;
  readonly plainN: number;
  readonly steppedN: number;
}

/** A load case that must hold, over the rows of the table. */
export interface FieldCase {
  readonly id: string;
  /** Moment of all but the strut, N·mm, friction against the motion taken off: opening side, closing side. */
  readonly openingNmm: Float64Array;
  readonly closingNmm: Float64Array;
  /** What of the rest holds the lid open, N·mm, by index of `opens`. */
  readonly holdsNmm: readonly number[];
  /** How many push where one is fitted, and where a pair is. */
  readonly pushing: readonly [0 | 1 | 2, 0 | 1 | 2];
}

/** How far the lid may open: the table's rows are the first `rows`. */
export interface OpenEnd {
  readonly deg: number;
  readonly rows: number;
}

/** How an end's joint may lean. */
export interface EndLimits {
  readonly fitting: string;
  readonly rangeDeg: number;
  readonly axial: boolean;
}

/** What is looked for, made ready: everything that no place and no strut changes. */
export interface Field {
  readonly raw: Job;
  readonly job: ResolvedJob;
  readonly strutIndex: number;
  readonly list: readonly StrutListEntry[];
  readonly bodies: readonly Body[];
  readonly baseSites: readonly Site[];
  readonly lidSites: readonly Site[];
  readonly quantities: readonly (1 | 2)[];
  readonly opens: readonly OpenEnd[];
  /** Where the strut is to be the stop: it must open the lid at least so far, degrees; 0: it may be one or not. */
  readonly leastStopDeg: number | null;
  readonly axis: Axis;
  /** Unit, square to the hinge and to each other; with axis.opening right-handed. */
  readonly x: Vec3;
  readonly y: Vec3;
  readonly gripRadiusMm: number;
  /** Distance of the latch from the axis, mm, where it has a rating. */
  readonly latch: { readonly armMm: number; readonly ratedN: number } | null;
  readonly cos: Float64Array;
  readonly sin: Float64Array;
  readonly cases: readonly FieldCase[];
  readonly ends: Readonly<Record<EndName, EndLimits>>;
  /** Something stands in the way, or is rated, that only the full findings look at. */
  readonly slow: boolean;
  readonly keepSpare: number;
  readonly keepPlayMm: number;
}

export interface FieldOptions {
  /** Wins over the job's own. */
  readonly list?: readonly StrutListEntry[];
  /** The job's first without it. */
  readonly strutId?: string;
  /** What stands now is looked at: no zones are needed, how many and how far it opens stays, and without a list the strut too. */
  readonly asFitted?: boolean;
}

const QUANTITIES = { one: [1], pair: [2], either: [1, 2] } as const;

/** A place from hinge point A along x, y and the opening axis, mm. */
export const toAxes = ({ axis, x, y }: Pick<Field, 'axis' | 'x' | 'y'>, at: Vec3): Vec3 => {
  const d = sub(at, axis.origin);
  return [dot(d, x), dot(d, y), dot(d, axis.opening)];
};

const entryBody = (entry: StrutListEntry, index: number, job: ResolvedJob): Body | null =>
  bodyOf(
    forcesOf(entry)
      .map((forceN) => entrySpec(entry, forceN))
      .filter((spec) => specIssues(spec).length === 0),
    index,
    job,
  );

/** Struts of one build, by rising force; null for none. */
function bodyOf(specs: readonly Spec[], index: number, job: ResolvedJob): Body | null {
  const [first] = specs;
  if (!first) return null;
  const cases = job.loadCases.filter((c) => c.mustHold);
  const area = (Math.PI * first.rodMm * first.rodMm) / 4;
  const bodies = specs.map((spec) => gasBody(spec, 'nominal'));
  const held = specs.map((spec) =>
    spec.assumed?.includes('frictionN') ? gasBody({ ...spec, frictionN: 0 }, 'nominal') : gasBody(spec, 'nominal'),
  );
  const full = (gases: typeof bodies): Float64Array =>
    Float64Array.from(
      specs.flatMap((spec, f) =>
        cases.map(({ force, ageLossPercent, tempC }) => {
          const shift = force === 'low' ? spec.toleranceN[0] : force === 'high' ? spec.toleranceN[1] : 0;
          const { halfFrictionN, fillPerMm } = gases[f]!;
          const gauge = ((spec.forceN + shift + halfFrictionN) / area) * (1 - ageLossPercent / 100);
          return (gauge + ATMOSPHERE_MPA) * ((tempC + 273.15) / 293.15) * (1 - 5 * fillPerMm) * area;
        }),
      ),
    );
  const { wallMm } = usualBody(first.rodMm, first.tubeMm);
  const column = strutBuckling(first.extendedMm, first.strokeMm, first.rodMm, first.tubeMm, wallMm);
  return {
    entry: index,
    extendedMm: first.extendedMm,
    compressedMm: first.extendedMm - first.strokeMm,
    strokeMm: first.strokeMm,
    tubeMm: first.tubeMm,
    specs,
    halfN: bodies[0]!.halfFrictionN,
    atmosphereN: ATMOSPHERE_MPA * area,
    fill: Float64Array.from(bodies, (b) => b.fillPerMm),
    heldFill: Float64Array.from(held, (b) => b.fillPerMm),
    fullN: full(bodies),
    heldN: full(held),
    ...column,
  };
}

const listOf = (job: ResolvedJob): readonly StrutListEntry[] => {
  const { list } = job.find ?? {};
  return typeof list === 'object' ? (list.entries as readonly StrutListEntry[]) : genericMetricList();
};

function opensOf(job: ResolvedJob): OpenEnd[] {
  const { openDeg } = job.find ?? {};
  if (!openDeg || job.travel.stop === 'strut') {
    const deg = openDeg ? Math.floor(openDeg[1]) : job.travel.openDeg;
    const whole = Math.floor(deg + 1e-9);
    return [{ deg, rows: whole + 1 + (deg - whole > 1e-9 ? 1 : 0) }];
  }
  const [least, most] = [Math.max(1, Math.ceil(openDeg[0])), Math.floor(openDeg[1])];
  return Array.from({ length: most - least + 1 }, (_, i) => ({ deg: least + i, rows: least + i + 1 }));
}

/**
 * Makes ready what places are looked for with. Throws a LidwrightError when the job has no strut, no zone on base or lid, no
 * strut in its list, or can't be computed.
 */
export function fieldOf(raw: Job, options: FieldOptions = {}): Field {
  const { asFitted = false } = options;
  const given = resolveJob(raw);
  const job: ResolvedJob = asFitted ? { ...given, find: undefined } : given;
  const strutIndex = strutIndexOf(job, options.strutId);
  const sites = job.zones.map(siteOf);
  const on = (end: EndName): Site[] => {
    const there = sites.filter((s) => s.zone.on === end);
    return there.length > 0 || asFitted
      ? there
      : fail(
          `no zone on the ${end} says where the strut may be fixed`,
          ['zones'],
          `Draw a zone on the ${end}: a patch of a surface where a mount could be fixed.`,
        );
  };
  const list = options.list ?? listOf(job);
  const own = asFitted && !options.list;
  const bodies = own
    ? [bodyOf([job.struts[strutIndex]!.spec], 0, job)!]
    : list.flatMap((entry, i) => entryBody(entry, i, job) ?? []);
  if (bodies.length === 0)
    return fail('the list has no strut that can exist', ['find', 'list'], 'Give a list with one strut at least.');
  const opens = opensOf(job);
  const most = opens.at(-1)!;
  // where other struts stop the lid it opens no further
  const strut = job.struts[strutIndex]!;
  const g = geometryOf({ ...job, travel: { ...job.travel, openDeg: most.deg } }, strut.id);
  const { axis } = g.frame;
  const reachable = opens.filter(({ deg }) => deg <= g.openDeg + 1e-9);
  const ends = reachable.length > 0 ? reachable : [{ deg: g.openDeg, rows: g.angleDeg.length }];
  const least = axis.opening.map(Math.abs).indexOf(Math.min(...axis.opening.map(Math.abs)));
  const x = unit(perpendicularTo(axisVec(least), axis.opening));
  const { limits } = job;
  const latchAt = job.latch?.ratedN === undefined ? undefined : job.points.find((p) => p.id === job.latch!.at)?.at;
  const wish = job.find?.fitting;
  const endOf = (end: EndName): EndLimits => {
    const own = strut.ends[end];
    const fitting = wish ?? own.fitting;
    const rangeDeg = fitting === own.fitting ? own.rangeDeg : (fittingOf(fitting)?.rangeDeg.value ?? own.rangeDeg);
    return { fitting, rangeDeg, axial: fittingKind(fitting) === 'axial-ball' };
  };
  const angles = Array.from(g.angleDeg, (deg) => toRad(deg));
  return {
    raw,
    job,
    strutIndex,
    list,
    bodies,
    baseSites: on('base'),
    lidSites: on('lid'),
    quantities: asFitted ? [strut.quantity] : QUANTITIES[job.find?.quantity ?? 'either'],
    opens: ends,
    leastStopDeg:
      job.travel.stop === 'strut'
        ? asFitted
          ? 0
          : job.find?.openDeg
            ? Math.ceil(job.find.openDeg[0])
            : Math.max(1, most.deg / 2)
        : null,
    axis,
    x,
    y: cross(axis.opening, x),
    gripRadiusMm: g.frame.gripRadiusMm,
    latch: latchAt
      ? {
          armMm: Math.max(1e-6, norm(perpendicularTo(sub(latchAt, axis.origin), axis.along))),
          ratedN: job.latch!.ratedN!,
        }
      : null,
    cos: Float64Array.from(angles, (a) => cos(rad(a))),
    sin: Float64Array.from(angles, (a) => sin(rad(a))),
    cases: g.cases
      .filter((c) => c.mustHold)
      .map((c) => ({
        id: c.loadCase.id,
        openingNmm: c.openingNmm,
        closingNmm: c.closingNmm,
        holdsNmm: ends.map(({ deg }) => c.restHoldsAt(deg) * 1000),
        pushing: [
          pushingCount({ id: strut.id, quantity: 1 }, c.loadCase),
          pushingCount({ id: strut.id, quantity: 2 }, c.loadCase),
        ],
      })),
    ends: { base: endOf('base'), lid: endOf('lid') },
    slow:
      job.obstacles.length > 0 ||
      (job.panel !== undefined && job.outline.length > 2) ||
      job.brackets.length > 0 ||
      job.masses.some((m) => m.body) ||
      job.hinge.ratedN !== undefined ||
      job.hinge.screws !== undefined ||
      limits.letGoJ !== undefined,
    keepSpare: job.find?.keep?.spare ?? 0,
    keepPlayMm: job.find?.keep?.playMm ?? 0,
  };
}
