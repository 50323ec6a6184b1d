import { ANGLE_SIGMA_DEG, START_SIGMA_N } from './sigma';
import type { Doubt } from './doubts';
import { type Trial, isBalance, makeProber, opensToDeg } from './trial';
import { travelAngles, sweep } from '../travel';
import { balanceN } from './trial';
import type { Change, Probe, Reading } from './types';

/** What the readings should be, as one linear model around the job as entered. Rows are readings; forces stand in for angles of balance. */
export interface Expectation {
  readonly readings: readonly Reading[];
  /** Value read less value predicted, mm, N, degrees or kg. */
  readonly difference: Float64Array;
  /** σ of the reading alone, with its angle's share, in the same unit. */
  readonly readSigma: Float64Array;
  /** σ of the prediction alone, from the doubts. */
  readonly predictedSigma: Float64Array;
  /** One row a reading: what each doubt's one σ does to it. */
  readonly effects: readonly Float64Array[];
  /** Readings as observations of the fit: the value, or 0 for an angle of balance. */
  readonly observed: Float64Array;
  readonly read: (change: Change) => Float64Array;
}

/** Step over which the slope of a force over the angle is taken, degrees. */
const SLOPE_DEG = 0.25;

/** dH/dθ of each probe's force, N per degree; 0 for what is no force. */
export function slopes(trial: Trial, probes: readonly Probe[]): Float64Array {
  const force = probes.map((p) => p.what === 'hand-force' || isBalance(p));
  const at = (by: number): Float64Array =>
    makeProber(
      trial,
      probes.map((p) => ({ ...p, angleDeg: p.angleDeg + by })),
    ).read({});
  const above = at(SLOPE_DEG);
  const below = at(-SLOPE_DEG);
  return above.map((v, i) => (force[i] ? (v - below[i]!) / (2 * SLOPE_DEG) : 0));
}

/** σ of each reading as it enters a comparison, from its own σ and how exactly its angle is known. */
export function readingSigmas(
  probes: readonly (Probe & { readonly sigma: number })[],
  slope: Float64Array,
): Float64Array {
  return Float64Array.from(probes, (p, i) =>
    isBalance(p)
      ? Math.hypot(slope[i]! * p.sigma, START_SIGMA_N)
      : p.what === 'hand-force'
        ? Math.hypot(p.sigma, slope[i]! * ANGLE_SIGMA_DEG)
        : p.sigma,
  );
}

/** What each doubt's one σ does to each probe; rows are probes. */
export function effectsOf(
  read: (change: Change) => Float64Array,
  doubts: readonly Doubt[],
  count: number,
): Float64Array[] {
  const rows = Array.from({ length: count }, () => new Float64Array(doubts.length));
  doubts.forEach((doubt, k) => {
    const up = read(doubt.change(doubt.sigma));
    const down = read(doubt.change(-doubt.sigma));
    for (let i = 0; i < count; i++) {
      const effect = (up[i]! - down[i]!) / 2;
      rows[i]![k] = Number.isFinite(effect) ? effect : 0;
    }
  });
  return rows;
}

/** Sets readings against the job as entered. */
export function expect(trial: Trial, readings: readonly Reading[], doubts: readonly Doubt[]): Expectation {
  const prober = makeProber(trial, readings);
  const read = (change: Change): Float64Array => prober.read(change);
  const predicted = read({});
  const observed = Float64Array.from(readings, (r) => (isBalance(r) ? 0 : r.value));
  const effects = effectsOf(read, doubts, readings.length);
  return {
    readings,
    observed,
    difference: observed.map((v, i) => v - predicted[i]!),
    readSigma: readingSigmas(readings, slopes(trial, readings)),
    predictedSigma: Float64Array.from(effects, (row) => Math.hypot(...row)),
    effects,
    read,
  };
}

/** Where the lid is in balance in a condition, degrees: crossings of the probe's force from holding up to holding down. */
export function balanceAngles(trial: Trial, probe: Probe): { deg: number; slope: number }[] {
  const plan = trial.plan(probe);
  const angles = travelAngles(opensToDeg(plan), 0.5);
  const table = sweep(plan, angles);
  const found: { deg: number; slope: number }[] = [];
  for (let i = 1; i < angles.length; i++) {
    const a = balanceN(probe.what, table, i - 1);
    const b = balanceN(probe.what, table, i);
    if (a * b <= 0 && a !== b) {
      const width = angles[i]! - angles[i - 1]!;
      found.push({ deg: angles[i - 1]! + (width * a) / (a - b), slope: (b - a) / width });
    }
  }
  return found;
}
