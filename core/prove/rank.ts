import { Matrix, determinant, solve } from 'ml-matrix';
import { chiSquareTail } from '../solve';
import { type Cause, causesOf } from './causes';
import { type Doubt, type Known, doubtsOf } from './doubts';
import { type Fitted, fitHypothesis, whitener } from './evidence';
import { type Expectation, expect } from './expect';
import { together } from './together';
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
export function rankCauses(
  trial: Trial,
  readings: readonly Reading[],
  known: Known = {},
  against: Against = setAgainst(trial, readings, known),
): Ranking {
  const { used, left } = against;
  const nothing = fitHypothesis(used.length, [], () => left({}));
  const fitted = causesOf(trial, used).map((cause): Unshared => fitCause(against, cause));
  const best = Math.max(nothing.lnEvidence, ...fitted.map((f) => f.lnEvidence));
  const own = Math.exp(nothing.lnEvidence - best);
  const mean = fitted.reduce((total, f) => total + Math.exp(f.lnEvidence - best), 0) / Math.max(1, fitted.length);
  const causes = shared(fitted);
  return {
    causes,
    nothingWrong: own / (own + mean),
    chance: used.length === 0 ? 1 : chiSquareTail(nothing.chiSquare, used.length),
    apart: isApart(causes),
  };
}

type Unshared = Omit<RankedCause, 'share'>;

const isApart = (causes: readonly RankedCause[]): boolean => (causes[1]?.share ?? 0) < APART * (causes[0]?.share ?? 1);

/** Best first, each with its share of the evidence of all. */
function shared(fitted: readonly Unshared[]): RankedCause[] {
  const best = Math.max(...fitted.map((f) => f.lnEvidence));
  const weight = (f: Unshared): number => Math.exp(f.lnEvidence - best);
  const sum = fitted.reduce((total, f) => total + weight(f), 0);
  return fitted
    .map((f): RankedCause => ({ ...f, share: sum > 0 ? weight(f) / sum : 0 }))
    .sort((a, b) => b.lnEvidence - a.lnEvidence);
}

/** Readings set against a job: the model of their errors, and what is left over under a change. */
export interface Against {
  readonly trial: Trial;
  readonly used: readonly Reading[];
  readonly expectation: Expectation;
  readonly doubts: readonly Doubt[];
  /** Read less predicted under a change, as independent errors of σ 1. */
  readonly left: (change: Change) => Float64Array;
}

/** Sets readings against a job. Angles of joints follow from how the stems were set, which is no cause here: compared, but not fitted. */
export function setAgainst(trial: Trial, readings: readonly Reading[], known: Known = {}): Against {
  const used = readings.filter((r) => r.what !== 'joint-angle');
  const doubts = doubtsOf(trial, known);
  const expectation = expect(trial, used, doubts);
  const { whiten } = whitener(expectation.readSigma, expectation.effects);
  const left = (change: Change): Float64Array => {
    const predicted = expectation.read(change);
    return whiten(expectation.observed.map((v, i) => v - predicted[i]!));
  };
  return { trial, used, expectation, doubts, left };
}

function fitCause({ used, left }: Against, cause: Cause): Unshared {
  const fit = fitHypothesis(used.length, cause.widths, (v) => left(cause.change(v)));
  const freedom = Math.max(1, used.length - fit.values.length);
  return {
    ...fit,
    cause,
    change: cause.change(fit.values),
    explains: chiSquareTail(fit.chiSquare, freedom) > EXPLAINED,
  };
}

/**
 * How much rarer any two things wrong at once are than any one: a pair counts this share of its evidence, spread over the pairs
 * that a cause has. Common practice, no source.
 */
const PAIR_ODDS = 0.2;

/** Pairs that are fitted in full: those that fit best as far as readings change evenly with what is wrong. */
const PAIRS_FITTED = 8;

/**
 * The same with every two causes at once beside the single ones. All pairs are weighed by their effects on the readings taken
 * as linear; the best of them are then fitted like any cause. One list of shares: a pair that comes near the best single
 * cause can't be told from it, nor the other way round.
 */
export function rankPairs(against: Against, { causes, ...ranking }: Ranking): Ranking {
  const { used, left, trial } = against;
  if (causes.length < 2 || used.length === 0) return { causes, ...ranking };
  const lines = causesOf(trial, used).map((cause) => {
    const start = left(cause.change(cause.widths.map(() => 0)));
    const columns = cause.widths.map((width, k) => {
      const at = (by: number): Float64Array =>
        left(cause.change(cause.widths.map((_, j) => (j === k ? by * width : 0))));
      const [up, down] = [at(0.5), at(-0.5)];
      return up.map((v, i) => down[i]! - v);
    });
    return { cause, start, columns };
  });
  const none = left({});
  const pairs = lines.flatMap((a, i) =>
    lines.slice(i + 1).flatMap((b) => {
      // two that give nothing, or one that gives nothing and is weaker besides: no pair
      if (a.cause.strut === b.cause.strut && [a, b].some((of) => of.cause.kind === 'lost')) return [];
      const residual = none.map((v, k) => a.start[k]! + b.start[k]! - v);
      return [{ cause: pairOf(a.cause, b.cause), rough: linearEvidence(residual, [...a.columns, ...b.columns]) }];
    }),
  );
  const odds = Math.log(PAIR_ODDS / (causes.length - 1));
  const fitted = pairs
    .filter((p) => Number.isFinite(p.rough))
    .sort((a, b) => b.rough - a.rough)
    .slice(0, PAIRS_FITTED)
    .map(({ cause }) => fitCause(against, cause))
    .map((fit) => ({ ...fit, lnEvidence: fit.lnEvidence + odds }));
  const all = shared([...causes, ...fitted]);
  return { ...ranking, causes: all, apart: isApart(all) };
}

/** Two causes as one, each with its own numbers. */
function pairOf(a: Cause, b: Cause): Cause {
  const n = a.widths.length;
  return {
    id: `${a.id}+${b.id}`,
    kind: 'pair',
    both: [a, b],
    widths: [...a.widths, ...b.widths],
    unit: '',
    change: (v) => together(a.change(Array.from(v).slice(0, n)), b.change(Array.from(v).slice(n))),
  };
}

/** ln evidence, as fitHypothesis has it, of a residual that falls by `columns` for a width of each value; −∞ where it can't be told. */
function linearEvidence(residual: Float64Array, columns: readonly Float64Array[]): number {
  const dot = (a: Float64Array, b: Float64Array): number => a.reduce((sum, v, i) => sum + v * b[i]!, 0);
  const size = dot(residual, residual);
  if (columns.length === 0) return -size / 2;
  const normal = new Matrix(columns.map((a, i) => columns.map((b, j) => dot(a, b) + (i === j ? 1 : 0))));
  const slope = Matrix.columnVector(columns.map((c) => dot(c, residual)));
  if (![...normal.to1DArray(), size].every(Number.isFinite)) return -Infinity;
  const gain = slope.transpose().mmul(solve(normal, slope)).get(0, 0);
  return -(size - gain) / 2 - Math.log(determinant(normal)) / 2;
}
