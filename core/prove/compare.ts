import { type Expectation, balanceAngles } from './expect';
import { type Trial, isBalance, makeProber } from './trial';
import type { Reading } from './types';

/** agrees: within two of its combined σ. doubtful: within three. off: further. unknown: nothing can be predicted there. */
export type Verdict = 'agrees' | 'doubtful' | 'off' | 'unknown';

/** One reading beside what was predicted. */
export interface Comparison {
  readonly reading: Reading;
  /** In the reading's own unit; null where nothing can be predicted (a strut out of its stroke, or no such angle). */
  readonly predicted: number | null;
  /** Two standard deviations of prediction and reading together, in the reading's own unit. */
  readonly plusMinus: number | null;
  /** Difference over the combined σ, signed: read more than predicted is positive. */
  readonly z: number;
  readonly verdict: Verdict;
}

/** Largest |z| that still agrees, and that is only doubtful. */
export const AGREES_WITHIN = 2;
export const DOUBTFUL_WITHIN = 3;

/**
 * Each reading beside its prediction. The ± holds the tool's σ, the angle's and the doubts about the lid (AS_BUILT, the
 * strut's stated tolerance, what is known of the survey). An angle of balance is judged by the hand force that would be
 * needed there.
 */
export function compareReadings(trial: Trial, e: Expectation, slope: ArrayLike<number>): Comparison[] {
  const strict = makeProber(trial, e.readings).read({}, true);
  return e.readings.map((reading, i) => {
    const sigma = Math.hypot(e.readSigma[i]!, e.predictedSigma[i]!);
    const balance = isBalance(reading);
    let predicted: number | null = Number.isFinite(strict[i]!) ? strict[i]! : null;
    let plusMinus: number | null = 2 * sigma;
    let z = e.difference[i]! / sigma;
    if (balance) {
      const near = balanceAngles(trial, reading).sort(
        (a, b) => Math.abs(a.deg - reading.value) - Math.abs(b.deg - reading.value),
      )[0];
      predicted = near?.deg ?? null;
      plusMinus = near ? (2 * sigma) / Math.max(Math.abs(slope[i]!), 1e-9) : null;
      // a lid that must still be held at the angle read goes off later than predicted, or earlier where the force grows
      if (near) z = Math.abs(z) * Math.sign(reading.value - near.deg || 1);
    }
    const size = Math.abs(z);
    const verdict: Verdict =
      !Number.isFinite(size) || (predicted === null && !balance)
        ? 'unknown'
        : size <= AGREES_WITHIN
          ? 'agrees'
          : size <= DOUBTFUL_WITHIN
            ? 'doubtful'
            : 'off';
    return { reading, predicted, plusMinus: predicted === null ? null : plusMinus, z, verdict };
  });
}
