import type { Job } from '../job';
import { movePoint } from '../job';
import { type Reason, adjustment, chiSquareTail, criticalW, findConflict, freedom, solve } from '../solve';
import { type Mat3, type Vec3, distance, rad, toDeg } from '../space';
import { sigmaOf } from './instruments';
import { pointAt } from './layout';
import { type SurveyCamera, camerasAfter } from './photo-cameras';
import { type Network, makeNetwork } from './network';
import { readingName } from './readings';
import { relationName } from './relations';
import { type ErrorEllipse, blockOf, ellipseIn, principal } from './spread';
import type { SurveyReading } from './survey-reading';
import { suspicionText, uncontrolledText } from './words';

export type { SurveyReading } from './survey-reading';

export interface SurveyPoint {
  readonly id: string;
  readonly name: string;
  /** Adjusted position and how far it lies from where the job has it, mm. */
  readonly at: Vec3;
  readonly movedMm: number;
  /** One standard deviation of x, y and z, mm; null where nothing determines that coordinate. */
  readonly sigmaMm: readonly [number | null, number | null, number | null];
  /** Covariance, mm²; null where the point is not determined in every direction. */
  readonly covariance: Mat3 | null;
  /** One-σ error ellipses; null where the point is not determined in every direction. */
  readonly ellipses: { readonly side: ErrorEllipse; readonly top: ErrorEllipse; readonly front: ErrorEllipse } | null;
  /** Directions in which neither readings nor relations hold it. */
  readonly canMove: readonly Vec3[];
}

export interface SurveyResult {
  readonly reason: Reason | 'nothing-to-adjust';
  /** What stands in the way, or null: relations that can't hold together, a survey that does not settle. */
  readonly problem: string | null;
  readonly points: readonly SurveyPoint[];
  readonly readings: readonly SurveyReading[];
  /** How often the readings control one another. */
  readonly freedom: number;
  /** Scatter of the residuals over the stated σ; null without redundancy. */
  readonly s0: number | null;
  /** Chance that readings with the stated σ scatter as much as these; null without redundancy. */
  readonly chance: number | null;
  /** True where that chance is under 0.1 %: the points' σ are then widened by s0. */
  readonly widened: boolean;
  /** Cameras of the photos that are marked; those that can't be found say why. */
  readonly cameras: readonly SurveyCamera[];
  /** The reading to doubt first, in words; `alike` are those that the survey can't tell from it. */
  readonly worst: { readonly id: string; readonly text: string; readonly alike: readonly string[] } | null;
  /** Readings that no other reading controls, in words; null where there is none. */
  readonly uncontrolled: string | null;
  /** Full covariance over the job's points (three variables each, mm²), for suggestReading. */
  readonly covariance: Float64Array;
}

/**
 * A slip in one reading takes w² off the sum of squares: where another's takes off less by no more than this, that one is
 * less than 100 times likelier to have been the cause, 2·ln 100.
 */
const CANNOT_TELL = 2 * Math.log(100);

/** Scatter with less chance than this is no accident. */
const LEAST_CHANCE = 0.001;

/**
 * Adjusts a job's readings with its relations held exactly, and tests every reading (Baarda's w at α 0.001). The job itself
 * is not changed: `applySurvey` takes the points over. Throws a LidwrightError for a reading or relation that refers to
 * what isn't there.
 */
export function adjustSurvey(raw: Job): SurveyResult {
  const network = makeNetwork(raw);
  const { layout, problem, readings, photos } = network;
  const size = problem.variables.length;
  const ofPoints = layout.values.length;
  const nothing = {
    points: [],
    readings: [],
    freedom: 0,
    s0: null,
    chance: null,
    widened: false,
    cameras: camerasAfter({ ...photos, cameras: [] }, layout.values, new Float64Array(0), []),
    worst: null,
    uncontrolled: null,
    covariance: new Float64Array(ofPoints * ofPoints),
  };
  if (readings.length === 0)
    return {
      ...nothing,
      reason: 'nothing-to-adjust',
      problem: photos.leftOut[0]
        ? `The marks on ${photos.leftOut[0].photo.name ?? photos.leftOut[0].photo.id} are not used: ${photos.leftOut[0].why}`
        : 'There is no reading in use yet. Type what you measured.',
    };
  const found = solve(problem);
  const why = trouble(network, found.reason);
  if (found.reason === 'contradictory') return { ...nothing, reason: found.reason, problem: why };

  const a = adjustment(problem, found.x);
  const s0 = a.varianceFactor === null ? null : Math.sqrt(a.varianceFactor);
  const chance = a.freedom > 0 ? chiSquareTail(a.sumSquares, a.freedom) : null;
  const widened = chance !== null && chance < LEAST_CHANCE;
  const factor = widened ? a.varianceFactor! : 1;
  const covariance = a.covariance.map((v) => v * factor);
  const moves = a.open > 0 ? freedom(problem, found.x, 'all').directions : [];

  const points = layout.ids.flatMap((id, i): SurveyPoint[] => {
    if (!network.points.has(id)) return [];
    const at = pointAt(found.x, i);
    const own = blockOf(covariance, size, i);
    const known = [0, 1, 2].map((k) => a.undetermined[3 * i + k] !== 1);
    const whole = known.every(Boolean);
    return [
      {
        id,
        name: layout.names[i]!,
        at,
        movedMm: distance(at, pointAt(layout.values, i)),
        sigmaMm: [0, 1, 2].map((k) =>
          known[k] ? Math.sqrt(own[k as 0]![k]!) : null,
        ) as unknown as SurveyPoint['sigmaMm'],
        covariance: whole ? own : null,
        ellipses: whole
          ? { side: ellipseIn(own, 'side'), top: ellipseIn(own, 'top'), front: ellipseIn(own, 'front') }
          : null,
        canMove: whole ? [] : directionsOf(moves, i),
      },
    ];
  });

  const tested = readings.map((o): SurveyReading => {
    const parts = a.residuals.filter((r) => r.name === o.id);
    const worst = parts.reduce((m, r) => (Math.abs(r.w ?? 0) > Math.abs(m.w ?? 0) ? r : m));
    const { unit } = sigmaOf(o);
    const shown = (v: number | null): number | null => (v === null ? null : unit === 'deg' ? toDeg(rad(v)) : v);
    return {
      id: o.id,
      kind: o.kind,
      name: readingName(o, layout),
      unit,
      residual: shown(worst.residual)!,
      sigma: shown(worst.sigma)!,
      redundancy: worst.redundancy,
      w: worst.w,
      detectable: shown(worst.detectable),
      blunder: worst.w === null ? null : shown(-worst.residual / worst.redundancy),
      verdict: worst.w === null ? 'uncontrolled' : Math.abs(worst.w) > criticalW() ? 'suspicious' : 'fits',
    };
  });
  const byDoubt = tested.filter((r) => r.w !== null).sort((p, q) => Math.abs(q.w!) - Math.abs(p.w!));
  const first = byDoubt[0]?.verdict === 'suspicious' ? byDoubt[0] : undefined;
  const alike = first ? byDoubt.slice(1).filter((r) => first.w! ** 2 - r.w! ** 2 < CANNOT_TELL) : [];
  return {
    reason: found.reason,
    problem: why,
    points,
    readings: tested,
    freedom: a.freedom,
    s0,
    chance,
    widened,
    worst: first ? { id: first.id, text: suspicionText(first, alike), alike: alike.map((r) => r.id) } : null,
    cameras: camerasAfter(photos, found.x, covariance, a.residuals),
    uncontrolled: uncontrolledText(tested),
    covariance: upperLeft(covariance, size, ofPoints),
  };
}

/** The first n rows and columns of a matrix of `size` rows. */
function upperLeft(full: Float64Array, size: number, n: number): Float64Array {
  if (n === size) return full;
  const part = new Float64Array(n * n);
  for (let i = 0; i < n; i++) part.set(full.subarray(i * size, i * size + n), i * n);
  return part;
}

/** Takes the adjusted points over into the job (coordinates held by givens stay). */
export const applySurvey = (job: Job, args: { result: SurveyResult }): Job =>
  args.result.points.reduce(
    (next, p) => (p.canMove.length === 0 ? movePoint(next, { id: p.id, at: p.at }) : next),
    job,
  );

function directionsOf(moves: readonly Float64Array[], i: number): Vec3[] {
  const m = [0, 1, 2].map((r) => [0, 1, 2].map((c) => moves.reduce((s, d) => s + d[3 * i + r]! * d[3 * i + c]!, 0)));
  const found = principal(m as unknown as Mat3);
  return found.filter((p) => p.value > 1e-6 * Math.max(found[0]!.value, 1e-12)).map((p) => p.direction);
}

function trouble(network: Network, reason: Reason): string | null {
  switch (reason) {
    case 'converged':
      return null;
    case 'rank-deficient':
      return 'Not every point is held yet: the table says which, and which way it can still move.';
    case 'contradictory': {
      const conflict = findConflict(network.problem);
      const names = (conflict?.names ?? []).map((id) =>
        relationName(
          network.relations.find((r) => r.id === id)!,
          network.layout,
        ),
      );
      return `These conditions can't hold together: ${names.join('; ')}. Remove one of them.`;
    }
    case 'stalled':
    case 'limit-reached':
      return 'The readings do not settle on one answer. Look for a slip of the pen, or start the points nearer to where they are.';
  }
}
