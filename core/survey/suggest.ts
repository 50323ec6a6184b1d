import type { Job, Observation } from '../job';
import { type Vec3, distance, dot, sub, scale, axisVec, applyMat } from '../space';
import type { SurveyPoint, SurveyResult } from './adjust';
import { AXIS_INDEX } from './equations';
import { sigmaOf } from './instruments';
import { makeNetwork } from './network';
import { readingName, sentence } from './readings';
import { blockOf, principal } from './spread';

export interface Suggestion {
  /** The reading to take, without its value. */
  readonly reading: Omit<Observation, 'id'>;
  /** The weakest point, and its largest standard deviation in any direction now (null: not determined) and then, mm. */
  readonly point: string;
  readonly beforeMm: number | null;
  readonly afterMm: number | null;
  readonly text: string;
}

/** A tape shorter than this is no tape reading, mm. */
const LEAST_TAPE_MM = 60;
/** A reading that leaves more than this share of the σ is not worth the trouble. */
const WORTH = 0.95;

/** The reading that would do most for the weakest point, of those taken with tape, rule or level; null where none helps it by 5 %. */
export function suggestReading(raw: Job, result: SurveyResult): Suggestion | null {
  if (result.points.length === 0) return null;
  const { layout, readings } = makeNetwork(raw);
  const size = 3 * layout.ids.length;
  const spread = (p: SurveyPoint): number =>
    p.covariance ? Math.sqrt(Math.max(0, principal(p.covariance)[0]!.value)) : Infinity;
  const weakest = result.points.reduce((m, p) => (spread(p) > spread(m) ? p : m));
  const before = spread(weakest);
  if (!(before > 0)) return null;
  const taken = new Set(readings.map((o) => `${o.kind} ${o.axis ?? ''} ${[...o.points].sort().join(' ')}`));
  const firm = result.points.filter((p) => p.covariance !== null && p.id !== weakest.id);
  const candidates: { reading: Omit<Observation, 'id'>; gradient: Vec3; other: SurveyPoint | null }[] = [];
  const offer = (reading: Omit<Observation, 'id'>, gradient: Vec3, other: SurveyPoint | null): void => {
    const key = `${reading.kind} ${reading.axis ?? ''} ${[...reading.points].sort().join(' ')}`;
    if (!taken.has(key)) candidates.push({ reading, gradient, other });
  };
  for (const axis of ['x', 'y', 'z'] as const) {
    offer({ kind: 'coordinate', axis, points: [weakest.id] }, axisVec(AXIS_INDEX[axis]), null);
  }
  for (const other of firm) {
    const d = distance(weakest.at, other.at);
    if (d >= LEAST_TAPE_MM)
      offer({ kind: 'tape', points: [other.id, weakest.id] }, scale(sub(weakest.at, other.at), 1 / d), other);
    offer({ kind: 'height-difference', points: [other.id, weakest.id] }, [0, 0, 1], other);
  }
  let best: { reading: Omit<Observation, 'id'>; score: number; after: number | null } | null = null;
  for (const { reading, gradient, other } of candidates) {
    const sigma = sigmaOf({ id: '', ...reading }).value;
    const rated = weakest.covariance
      ? after(
          result.covariance,
          size,
          layout.indexOf(weakest.id),
          other ? layout.indexOf(other.id) : null,
          gradient,
          sigma,
        )
      : null;
    // undetermined: the reading that looks most nearly along a free direction; a sure one before an unsure one
    const score =
      rated === null
        ? -Math.max(...weakest.canMove.map((d) => Math.abs(dot(d, gradient)))) / (sigma + (other ? spread(other) : 0))
        : rated;
    if (best === null || score < best.score - 1e-9) best = { reading, score, after: rated };
  }
  if (!best || (best.after !== null && best.after > WORTH * before)) return null;
  const words = sentence(readingName({ id: '', ...best.reading }, layout));
  const name = weakest.name.charAt(0).toLowerCase() + weakest.name.slice(1);
  return {
    reading: best.reading,
    point: weakest.id,
    beforeMm: weakest.covariance ? before : null,
    afterMm: best.after,
    text:
      best.after === null
        ? `${words} would help most to hold ${name}.`
        : `${words} would help most: ${name} from ±${before.toFixed(1)} mm to ±${best.after.toFixed(1)} mm.`,
  };
}

/** Largest σ of point i after one more reading with this gradient (the opposite one at point j): Σ − Σa·aᵀΣ/(σ² + aᵀΣa). */
function after(full: Float64Array, size: number, i: number, j: number | null, a: Vec3, sigma: number): number {
  const own = blockOf(full, size, i);
  let reach = applyMat(own, a);
  let variance = dot(reach, a);
  if (j !== null) {
    const cross = applyMat(blockOf(full, size, i, j), a);
    const other = applyMat(blockOf(full, size, j), a);
    reach = sub(reach, cross);
    variance += dot(other, a) - 2 * dot(cross, a);
  }
  const share = 1 / (sigma * sigma + variance);
  const row = (k: 0 | 1 | 2): Vec3 => sub(own[k], scale(reach, reach[k] * share));
  return Math.sqrt(Math.max(0, principal([row(0), row(1), row(2)])[0]!.value));
}
