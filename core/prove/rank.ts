import { chiSquareTail } from '../solve';
import { type Cause, causesOf } from './causes';
import { type Known, doubtsOf } from './doubts';
import { type Fitted, fitHypothesis, whitener } from './evidence';
import { expect } from './expect';
import type { Trial } from './trial';
import type { Change, Reading } from './types';

/** A cause fitted to the readings. */
export interface RankedCause extends Fitted {
  readonly cause: Cause;
  readonly change: Change;
  /** Share of the evidence among all causes, 0 to 1: how likely it is if one of them is the reason. */
  readonly share: number;
  /** Whether what is left over with it is no more than chance (1 in 1000). */
  readonly explains: boolean;
}

export interface Ranking {
  /** Best first. */
  readonly causes: readonly RankedCause[];
  /** Chance that nothing is wrong, given equal odds before that something is. */
  readonly nothingWrong: number;
  /** Chance of such readings on a lid fitted well. */
  readonly chance: number;
  /** Whether the second best is clearly behind the best: under a fifth of its evidence. */
  readonly apart: boolean;
}

/** The second best with more than this share of the best one's evidence can't be told from it. */
export const APART = 1 / 5;

/** What is left over by chance more often than this counts as explained. */
const EXPLAINED = 0.001;

/**
 * Ranks the causes that may explain the readings, one at a time.
 *
 * The rule: every hypothesis, "nothing is wrong" included, is a model of the readings' errors. All share the errors of the
 * tools and the everyday doubts of AS_BUILT, which act on many readings at once and are therefore taken as one joint normal
 * distribution. A cause adds its own numbers, each normal about 0 with the width in USUALLY_OFF, fitted by weighted least
 * squares (core/solve). Its rank is its evidence (fitHypothesis): the fit it brings, less the price of every number it had to
 * tune. All causes start with equal odds. So a cause with two numbers, or one that must be stretched far beyond its usual
 * width, comes first only when it explains correspondingly more.
 */
export function rankCauses(trial: Trial, readings: readonly Reading[], known: Known = {}): Ranking {
  // angles of joints follow from how the stems were set, which is no cause here: compared, but not fitted
  const used = readings.filter((r) => r.what !== 'joint-angle');
  const e = expect(trial, used, doubtsOf(trial, known));
  const w = whitener(e.readSigma, e.effects);
  const left = (change: Change): Float64Array => {
    const predicted = e.read(change);
    return w.whiten(e.observed.map((v, i) => v - predicted[i]!));
  };
  const nothing = fitHypothesis(used.length, [], () => left({}));
  const fitted = causesOf(trial, used).map((cause) => {
    const fit = fitHypothesis(used.length, cause.widths, (v) => left(cause.change(v)));
    return { cause, fit };
  });
  const best = Math.max(nothing.lnEvidence, ...fitted.map((f) => f.fit.lnEvidence));
  const weight = (ln: number): number => Math.exp(ln - best);
  const sum = fitted.reduce((total, f) => total + weight(f.fit.lnEvidence), 0);
  const causes = fitted
    .map(({ cause, fit }): RankedCause => ({
      ...fit,
      cause,
      change: cause.change(fit.values),
      share: sum > 0 ? weight(fit.lnEvidence) / sum : 0,
      explains: chiSquareTail(fit.chiSquare, Math.max(1, used.length - fit.values.length)) > EXPLAINED,
    }))
    .sort((a, b) => b.lnEvidence - a.lnEvidence);
  const own = weight(nothing.lnEvidence);
  return {
    causes,
    nothingWrong: own / (own + sum / Math.max(1, fitted.length)),
    chance: used.length === 0 ? 1 : chiSquareTail(nothing.chiSquare, used.length),
    apart: (causes[1]?.share ?? 0) < APART * (causes[0]?.share ?? 1),
  };
}
