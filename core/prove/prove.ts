import type { ResolvedJob } from '../job';
import { METRIC, type ShownUnits } from '../quantity';
import { settingsOfChange } from './apply';
import { causeWords } from './cause-words';
import type { CauseKind } from './causes';
import { type Comparison, compareReadings } from './compare';
import { type Known, doubtsOf } from './doubts';
import { expect, slopes } from './expect';
import { type NextStep, tellApart } from './next';
import { type PlanItem, itemsFor, planProbes, probeKey } from './plan';
import { measured } from './measured';
import { type RankedCause, type Ranking, rankCauses, rankPairs, setAgainst } from './rank';
import { readingsOf } from './read-job';
import { type MeasuredDemand, type Plausible, type Safety, safeToGoOn } from './safe';
import { isBalance, makeTrial } from './trial';
import type { Change } from './types';

/** A ranked cause as it is shown: plain data, fit for a message between threads. */
export interface CauseFound {
  readonly id: string;
  readonly kind: CauseKind;
  readonly text: string;
  readonly plusMinus: string;
  readonly look: string;
  readonly change: Change;
  /** How likely it is if one of the causes is the reason, 0 to 1. */
  readonly share: number;
  /** Whether what is left over with it is no more than chance. */
  readonly explains: boolean;
  /** Whether it is something to be taken into the job. */
  readonly takes: boolean;
}

/** none: nothing measured. agrees, doubtful, off: the readings all together. */
export type ProofState = 'none' | 'agrees' | 'doubtful' | 'off';

/** Everything about a proof. */
export interface Proof {
  readonly state: ProofState;
  /** One sentence that says where things stand. */
  readonly text: string;
  readonly comparisons: readonly Comparison[];
  /** Plan of the job, whether measured or not. */
  readonly plan: readonly PlanItem[];
  /** Needed lines of the plan that have no reading yet. */
  readonly missing: readonly PlanItem[];
  /** Best first; empty while there are too few readings to fit anything. */
  readonly causes: readonly CauseFound[];
  /** Whether the second cause is clearly behind the first. */
  readonly apart: boolean;
  readonly next: NextStep | null;
  /** Chance that nothing is wrong, against all causes together. */
  readonly nothingWrong: number;
  readonly safety: Safety;
  /** Every demand with a number, as measured with the first cause. */
  readonly demands: readonly MeasuredDemand[];
}

/** Fewest readings from which causes are fitted. */
export const LEAST_READINGS = 4;
/** "Nothing wrong" with less chance than this is off; over the other it agrees. */
export const OFF_UNDER = 0.05;
export const AGREES_OVER = 0.25;
/** Readings less likely than this by chance are off, whatever the causes say; over the other they agree. */
const CHANCE_OFF = 0.001;
export const CHANCE_AGREES = 0.01;
/** A cause with more than this share of the evidence is looked at when it is asked whether to go on. */
export const PLAUSIBLE = 0.05;

function stateOf(r: Ranking): ProofState {
  if (r.nothingWrong < OFF_UNDER || r.chance < CHANCE_OFF) return 'off';
  return r.nothingWrong > AGREES_OVER && r.chance > CHANCE_AGREES ? 'agrees' : 'doubtful';
}

/**
 * Sets what was measured after fitting (job.proof) against what is predicted, ranks the likely causes of a difference, says
 * what to measure next, and whether it is safe to go on. Throws a LidwrightError when the job can't be computed.
 * `known` holds what an adjusted survey or a weighing says better than AS_BUILT.
 */
export function proveJob(job: ResolvedJob, known: Known = {}, units: ShownUnits = METRIC): Proof {
  const trial = makeTrial(job);
  const readings = readingsOf(job);
  const wanted = planProbes(trial);
  const plan = itemsFor(trial, wanted, known);
  const keys = new Set(readings.map(probeKey));
  const lacks = (item: PlanItem): boolean => !item.optional && item.predicted !== null && !keys.has(item.key);
  // a lid that rubs more than entered may start nowhere by itself: the hand, read both ways, says as much
  const felt = !plan.some((item) => item.probe.what === 'hand-force' && lacks(item));
  const missing = plan.filter((item) => lacks(item) && !(felt && isBalance(item.probe)));
  const e = expect(trial, readings, doubtsOf(trial, known));
  const comparisons = compareReadings(trial, e, slopes(trial, readings));
  const enough = readings.length >= LEAST_READINGS;
  const against = setAgainst(trial, readings, known);
  const singles = rankCauses(trial, readings, known, against);
  const state: ProofState = readings.length === 0 ? 'none' : stateOf(singles);
  const different = state === 'off' || state === 'doubtful';
  // before anything is called explained, two things at once are tried
  const ranking = different && enough ? rankPairs(against, singles) : singles;
  const ranked = enough ? ranking.causes.filter((c, i) => i === 0 || !c.cause.both || c.share > PLAUSIBLE) : [];

  const massKg = trial.plan(readings[0] ?? wanted[0]!.probe).massKg;
  const causes = ranked.map((r): CauseFound => {
    const { cause, values, sigmas, change, share, explains } = r;
    return {
      ...{ id: cause.id, kind: cause.kind, change, share, explains },
      ...causeWords(job, { ...cause, values, sigmas }, massKg, units),
      takes: settingsOfChange(job, change).length > 0,
    };
  });
  const [first, second] = causes;
  const next =
    different && first && second && second.share > 0.01
      ? tellApart(trial, readings, [first.change, second.change], known)
      : null;

  const asMeasured = (r: RankedCause | null): Plausible => ({
    name: r ? causes[ranked.indexOf(r)]!.text : '',
    measured: measured(against, r?.cause ?? null, r?.values ?? []),
  });
  const plausible: Plausible[] = !different
    ? [asMeasured(null)]
    : [
        ...(state === 'doubtful' || !enough ? [asMeasured(null)] : []),
        ...ranked.filter((c, i) => i === 0 || c.share > PLAUSIBLE).map(asMeasured),
      ];
  const unexplained = different && first !== undefined && !first.explains;
  const own: { go: 'stop' | 'care'; reason: string }[] = [];
  if (readings.length === 0) own.push({ go: 'stop', reason: 'Nothing has been measured yet: the prop stays in.' });
  else if (missing.length > 0) own.push({ go: 'stop', reason: missingWords(missing) });
  if (unexplained)
    own.push({
      go: 'stop',
      reason:
        'No single cause explains what was measured, nor do two together. More may be wrong at once, or a reading is.',
    });
  else if (different && !enough)
    own.push({
      go: 'stop',
      reason: 'What was measured does not agree with what is entered, and nobody knows why yet.',
    });
  else if (different && ranked[0]!.cause.id.includes('lost:'))
    own.push({ go: 'stop', reason: `${first!.text} Have it replaced before the lid is used.` });
  const { safety, demands } = safeToGoOn(job, plausible, own, units);
  return {
    state,
    text: stateWords(state, comparisons, first, ranking.apart, unexplained),
    comparisons,
    plan,
    missing,
    causes,
    apart: ranking.apart,
    next,
    nothingWrong: ranking.nothingWrong,
    safety,
    demands,
  };
}

function missingWords(missing: readonly PlanItem[]): string {
  const [first, ...rest] = missing;
  return `Not everything is measured yet: ${first!.what.charAt(0).toLowerCase()}${first!.what.slice(1)}${rest.length > 0 ? ` and ${rest.length} more` : ''}. Until then the prop stays in.`;
}

function stateWords(
  state: ProofState,
  comparisons: readonly Comparison[],
  first: CauseFound | undefined,
  apart: boolean,
  unexplained: boolean,
): string {
  const off = comparisons.filter((c) => c.verdict === 'off').length;
  switch (state) {
    case 'none':
      return 'Nothing measured yet.';
    case 'agrees':
      return 'What was measured agrees with what was predicted, within the ±.';
    case 'off':
    case 'doubtful': {
      const lead =
        state === 'off'
          ? `What was measured is off${off > 0 ? `: ${off} of ${comparisons.length} readings by more than their ± allows` : ''}.`
          : 'What was measured is doubtful: more off than chance likes, too little to be sure.';
      if (!first) return `${lead} A few more readings are needed to look for the cause.`;
      if (unexplained) return `${lead} No single cause explains it, nor do two together.`;
      return `${lead} ${apart ? 'Most likely cause' : 'Likely causes are not told apart by these readings, the likeliest'}: ${first.text} What is to be met is judged on the lid as measured.`;
    }
  }
}
