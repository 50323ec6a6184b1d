import { demandOf } from '../demands';
import type { ResolvedJob, Spec } from '../job';
import { type ShownUnits, METRIC, formatQuantity } from '../quantity';
import { type Vec3, acos, dot, norm, perpendicularTo, sin, sub, toDeg, toRad } from '../space';
import { LEAST_ARM_MM, lengthAt, lengthRange, makePlan, turned } from '../travel';
import type { Workings } from '../workings';
import { type Geometry, geometryOf, strutIndexOf } from './geometry';
import { narrowForce, narrowLength } from './narrow';
import { type PivotPull, steepestFall } from './pivots';
import { Rest } from './rest';
import { defaultLeastOpenDeg } from './rank';
import {
  type Bound,
  type ForceWindow,
  type LengthWindow,
  type OpenBody,
  forceWindow,
  lengthWindow,
  openBody,
} from './window';

/**
 * Balance force over the travel of one load case, N: what one strut would need to carry what other struts and springs leave.
 * `openN` is at the last angle of the whole-degree table.
 */
export interface BalanceNeed {
  readonly caseId: string;
  readonly closedN: number | null;
  readonly openN: number | null;
  readonly greatestN: number | null;
  readonly greatestDeg: number | null;
}

/** Two demands that no strut between these pivots can meet together, and what would help. */
export interface Fight {
  readonly kind: 'length' | 'force';
  /** The demand that asks for more, and the one that asks for less. */
  readonly more: Bound;
  readonly less: Bound;
  /** How far they are apart, mm or N; null where no force at all would do. */
  readonly gap: number | null;
  readonly unit: 'mm' | 'N';
  /** Moves of either pivot that close the gap fastest; `perTenMm` in `unit`. */
  readonly cures: readonly PivotPull[];
  readonly text: string;
}

/** How a strut stands to the lid where it turns it least. */
export interface Pushing {
  /** Angle between the strut and the line from the hinge axis to its lid pivot, seen along the hinge, degrees 0 to 90. */
  readonly angleDeg: number;
  readonly atDeg: number;
  /** Share of the strut's force that turns the lid there. */
  readonly turningShare: number;
  /** True where it pushes along the lid rather than turning it. */
  readonly along: boolean;
  readonly text: string;
}

export interface Needs {
  readonly strutId: string;
  readonly closedMm: number;
  readonly openMm: number;
  readonly shortestMm: number;
  readonly longestMm: number;
  /** Longest less shortest and both reserves, mm. */
  readonly strokeNeededMm: number;
  readonly balance: readonly BalanceNeed[];
  /** The greatest over all load cases that must hold. */
  readonly greatest: { readonly forceN: number; readonly caseId: string; readonly deg: number } | null;
  readonly temperatureC: { readonly low: number; readonly high: number };
  /** For the strut's own stroke. */
  readonly length: LengthWindow;
  /** For strokes from the least one up, as lists have them. */
  readonly lengths: readonly LengthWindow[];
  readonly force: ForceWindow;
  /** The body that the force window is for: the job's own, or its lengths made to fit. */
  readonly body: { readonly extendedMm: number; readonly strokeMm: number; readonly madeToFit: boolean };
  readonly fights: readonly Fight[];
  readonly pushing: Pushing;
}

/** Strokes that a table of lengths shows, mm: the usual ones (common practice). */
const STROKES_MM = [60, 80, 100, 120, 150, 180, 200, 220, 250, 275, 300, 350, 400, 450, 500, 600, 700, 800];
/** A strut nearer to the lid's own line than this pushes along it, degrees (common practice, no source). */
export const ALONG_DEG = 20;

/** A demand in words: "holding open (Winter morning)". */
export const boundWords = (b: Bound): string =>
  `${demandOf(b.id)?.words ?? b.id}${b.caseName === null ? '' : ` (${b.caseName})`}`;

/** The strut's body for a geometry: its own where that fits, else lengths from the middle of their window. */
function fittingBody(g: Geometry, spec: Spec, leastOpenDeg: number): OpenBody & { madeToFit: boolean } {
  const body = openBody(spec);
  const own = lengthWindow(g, spec.strokeMm, leastOpenDeg);
  if (!own.empty && spec.extendedMm >= own.fromMm - 1e-6 && spec.extendedMm <= own.toMm + 1e-6)
    return { ...body, madeToFit: false };
  const strokeMm = Math.max(spec.strokeMm, own.leastStrokeMm, 20);
  const window = lengthWindow(g, strokeMm, leastOpenDeg);
  return { ...body, strokeMm, extendedMm: (window.fromMm + window.toMm) / 2, madeToFit: true };
}

/** The force window of a job's strut with its own or a fitting body, by the strut's own demands alone. @internal for tests */
export function forceWindowOf(job: ResolvedJob, strutId?: string): ForceWindow {
  const g = geometryOf(job, strutId);
  return forceWindow(g, fittingBody(g, g.strut.spec, defaultLeastOpenDeg(job)));
}

/** The same, for a job whose pivots were moved: the body is shifted along, so that only the geometry counts. */
function movedWindow(job: ResolvedJob, strutId: string, body: OpenBody, oldLongestMm: number): ForceWindow {
  const g = geometryOf(job, strutId);
  const longest = lengthRange(g.law, g.openDeg).longestMm;
  return forceWindow(g, { ...body, extendedMm: body.extendedMm + longest - oldLongestMm });
}

/**
 * What the geometry asks of a strut (by id; the first without one): lengths, forces, windows, and where a window is
 * empty which two demands fight. Windows are by every demand that can fail, the job's own brackets, joints, clearances and ratings
 * among them. Pure; takes up to some seconds where these are many.
 * Throws a LidwrightError when there is no such strut or the job can't be computed.
 */
export function needs(outcome: Pick<Workings, 'job' | 'frame'>, strutId?: string, units: ShownUnits = METRIC): Needs {
  const { job } = outcome;
  const k = strutIndexOf(job, strutId);
  const g = geometryOf(job, strutId);
  const { spec } = g.strut;
  const leastOpenDeg = defaultLeastOpenDeg(job);
  // as far as the lid opens now: where the strut is the stop, another may let it further
  const openDeg = Math.min(g.openDeg, outcome.frame.openDeg);
  const range = lengthRange(g.law, openDeg);
  const rest = new Rest(job, k, units);
  const ownLength = lengthWindow(g, spec.strokeMm, leastOpenDeg);
  const length = narrowLength(g, ownLength, rest);
  const body = fittingBody(g, spec, leastOpenDeg);
  const ownForce = forceWindow(g, body);
  const force = narrowForce(g, body, ownForce, rest);

  let greatest: Needs['greatest'] = null;
  const balance = g.cases.map((grid): BalanceNeed => {
    const n = g.angleDeg.filter((deg) => deg <= openDeg + 1e-9).length;
    const at = (i: number): number | null => {
      const arm = g.armMm[i]!;
      // what friction does not help with and other struts and springs leave over
      const moment = (grid.openingNmm[i]! + grid.closingNmm[i]!) / 2;
      if (Math.abs(arm) < LEAST_ARM_MM || grid.quantity === 0 || Number.isNaN(moment)) return null;
      return -moment / (grid.quantity * arm);
    };
    let greatestN: number | null = null;
    let greatestDeg: number | null = null;
    for (let i = 0; i < n; i++) {
      const value = at(i);
      if (value !== null && (greatestN === null || value > greatestN))
        [greatestN, greatestDeg] = [value, g.angleDeg[i]!];
    }
    if (grid.mustHold && greatestN !== null && (greatest === null || greatestN > greatest.forceN))
      greatest = { forceN: greatestN, caseId: grid.loadCase.id, deg: greatestDeg! };
    return { caseId: grid.loadCase.id, closedN: at(0), openN: at(n - 1), greatestN, greatestDeg };
  });

  const temps = job.loadCases.map((c) => c.tempC);
  const f = (v: number, d: 'length' | 'force'): string => formatQuantity(v, d, units);
  const fights: Fight[] = [];
  const none = (of: 'length' | 'force', b: Bound, unit: 'mm' | 'N'): Fight => ({
    ...{ kind: of, more: b, less: b, gap: null, unit, cures: [] },
    text: `No ${of} that does for the strut by itself does for the rest of the job: ${boundWords(b)} fails with every one.`,
  });
  if (length.blocked) fights.push(none('length', length.blocked, 'mm'));
  if (force.blocked) fights.push(none('force', force.blocked, 'N'));
  if (ownLength.empty)
    fights.push({
      kind: 'length',
      more: ownLength.from,
      less: ownLength.to,
      gap: -ownLength.widthMm,
      unit: 'mm',
      cures: steepestFall(
        job,
        k,
        (moved) => -lengthWindow(geometryOf(moved, strutId), spec.strokeMm, leastOpenDeg).widthMm,
      ),
      text: `With a stroke of ${f(spec.strokeMm, 'length')} no length does both, ${boundWords(ownLength.from)} and ${boundWords(ownLength.to)}: ${f(-ownLength.widthMm, 'length')} are missing. It takes a stroke of ${f(ownLength.leastStrokeMm, 'length')} or more.`,
    });
  const more = ownForce.least ?? ownForce.most;
  const less = ownForce.most ?? ownForce.least;
  if (ownForce.empty && more && less) {
    const apart = ownForce.least !== null && ownForce.most !== null && Number.isFinite(ownForce.widthN);
    const { longestMm } = lengthRange(g.law, g.openDeg);
    fights.push({
      ...{ kind: 'force', more, less, unit: 'N' },
      gap: apart ? -ownForce.widthN : null,
      cures: apart ? steepestFall(job, k, (moved) => -movedWindow(moved, g.strut.id, body, longestMm).widthN) : [],
      text: apart
        ? `No force does both: ${boundWords(more)} asks for ${f(more.forceN, 'force')} or more, ${boundWords(less)} for ${f(less.forceN, 'force')} or less.`
        : `No force does for ${boundWords(more.forceN === Infinity ? more : less)}: the strut’s lever arm works the wrong way or not at all there.`,
    });
  }

  return {
    strutId: g.strut.id,
    closedMm: lengthAt(g.law, 0),
    openMm: lengthAt(g.law, openDeg),
    shortestMm: range.shortestMm,
    longestMm: range.longestMm,
    strokeNeededMm: length.leastStrokeMm,
    balance,
    greatest,
    temperatureC: { low: Math.min(...temps), high: Math.max(...temps) },
    length,
    lengths: STROKES_MM.filter((s) => s >= length.leastStrokeMm)
      .slice(0, 8)
      .map((s) => lengthWindow(g, s, leastOpenDeg)),
    force,
    body: { extendedMm: body.extendedMm, strokeMm: body.strokeMm, madeToFit: body.madeToFit },
    fights,
    pushing: pushing(job, g, openDeg),
  };
}

/** How the strut stands to the lid, where it turns it least. */
function pushing(job: ResolvedJob, g: Geometry, openDeg: number): Pushing {
  const plan = makePlan(g.frame, job.loadCases[0]!.id);
  const strut = plan.struts[g.strutIndex]!;
  const axis = plan.axis.opening;
  let worst = { angleDeg: 91, atDeg: 0, share: 1 };
  for (const at of g.angleDeg) {
    if (at > openDeg + 1e-9) break;
    const lid = turned(strut.lid, toRad(at));
    const d = sub(lid, strut.base);
    const across = perpendicularTo(d, axis);
    const radius: Vec3 = perpendicularTo(lid, axis);
    const size = norm(across) * norm(radius);
    const cosine = size > 0 ? Math.min(1, Math.abs(dot(across, radius)) / size) : 1;
    const angleDeg = toDeg(acos(cosine));
    if (angleDeg < worst.angleDeg)
      worst = { angleDeg, atDeg: at, share: size > 0 ? (sin(toRad(angleDeg)) * norm(across)) / norm(d) : 0 };
  }
  const along = worst.angleDeg < ALONG_DEG;
  const angle = `${worst.angleDeg.toFixed(0)}°`;
  const percent = `${(worst.share * 100).toFixed(0)} %`;
  const at = `${Number(worst.atDeg.toFixed(1))}°`;
  return {
    angleDeg: worst.angleDeg,
    atDeg: worst.atDeg,
    turningShare: worst.share,
    along,
    text: along
      ? `At ${at} the strut pushes along the lid instead of turning it: it stands only ${angle} from the line between hinge and lid pivot, so ${percent} of its force turns the lid and the rest loads the hinges.`
      : `The strut turns the lid well: ${angle} or more from the line between hinge and lid pivot (least at ${at}, where ${percent} of its force turns the lid).`,
  };
}

/** The direction at each pivot that lowers the force needed most. */
export interface ForceGradient {
  /** What falls: the least nominal force over all load cases, or where that is not known the greatest balance force. */
  readonly of: 'least-force' | 'balance-force';
  readonly base: PivotPull;
  readonly lid: PivotPull;
}

/**
 * At both pivots the direction that lowers the force needed most, and newtons per 10 mm, by central differences. The
 * strut's lengths go along with the move, so that only the geometry counts.
 */
export function forceGradient(outcome: Pick<Workings, 'job'>, strutId?: string): ForceGradient {
  const { job } = outcome;
  const g = geometryOf(job, strutId);
  const body = fittingBody(g, g.strut.spec, defaultLeastOpenDeg(job));
  const { longestMm } = lengthRange(g.law, g.openDeg);
  const known = Number.isFinite(forceWindow(g, body).least?.forceN ?? NaN);
  const [base, lid] = steepestFall(job, g.strutIndex, (moved) =>
    known
      ? (movedWindow(moved, g.strut.id, body, longestMm).least?.forceN ?? NaN)
      : greatestBalanceN(geometryOf(moved, strutId)),
  );
  return { of: known ? 'least-force' : 'balance-force', base, lid };
}

function greatestBalanceN(g: Geometry): number {
  let greatest = -Infinity;
  for (const grid of g.cases) {
    if (!grid.mustHold || grid.quantity === 0) continue;
    for (let i = 0; i < g.angleDeg.length; i++) {
      const arm = g.armMm[i]!;
      if (Math.abs(arm) < LEAST_ARM_MM) continue;
      greatest = Math.max(greatest, -(grid.openingNmm[i]! + grid.closingNmm[i]!) / (2 * grid.quantity * arm));
    }
  }
  return greatest;
}
