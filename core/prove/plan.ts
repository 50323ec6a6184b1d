import type { ResolvedJob } from '../job';
import { type Known, doubtsOf } from './doubts';
import { balanceAngles, effectsOf, readingSigmas, slopes } from './expect';
import { proofCondition } from './read-job';
import { USUAL_PROOF_SIGMA } from './sigma';
import { type Trial, isBalance, makeProber, makeTrial, opensToDeg } from './trial';
import type { Probe } from './types';
import { probeWords, unitSign } from './words';

/** One line of the fit-up plan: what to measure, and what it should read. */
export interface PlanItem {
  /** The same for the same measurement, whatever the job's numbers. */
  readonly key: string;
  readonly probe: Probe;
  /** In plain words, with the strut's name where there are several. */
  readonly what: string;
  /** Where in the travel, degrees; absent where the measurement is itself an angle or has none. */
  readonly angleDeg?: number;
  /** mm, N, degrees or kg; null where nothing can be predicted (strut out of its stroke, or no such angle). */
  readonly predicted: number | null;
  /** A reading within this of it agrees: two standard deviations of prediction and tool together. */
  readonly plusMinus: number | null;
  readonly unit: 'mm' | 'N' | '°' | 'kg';
  /** Usual σ of the tool, in the unit. */
  readonly sigma: number;
  /** Good to have, but not needed for a verdict. */
  readonly optional: boolean;
}

/** Shares of the travel at which the hand is read, both ways. */
const HAND_SHARES = [0.1, 0.26, 0.42, 0.58, 0.74, 0.9];

/** Key of a probe: what tells it from every other measurement of the same proof. */
export const probeKey = (p: Probe): string =>
  [
    p.what,
    p.strut ?? '',
    p.end ?? '',
    p.what === 'hand-force' || p.what === 'strut-length' || p.what === 'joint-angle'
      ? p.at === 'angle'
        ? p.angleDeg
        : p.at
      : '',
    p.way ?? '',
    p.pull === 'upright' ? 'upright' : '',
    p.strutsOff ? 'off' : '',
    p.loadCase,
  ].join('|');

/** Shares of the travel at which the bare lid is tried, before the struts go in. */
const BARE_SHARES = [0.3, 0.7];

/**
 * What to measure: before the struts go in their own length and, if the lid can be held safely, the bare lid; then the
 * pivots, the lengths shut, half open and open, the hand both ways, and where the lid starts by itself.
 */
export function planProbes(trial: Trial): { probe: Probe; optional: boolean }[] {
  const { job } = trial;
  const condition = { ...proofCondition(job), strutsOff: false, pull: 'square' } as const;
  const openDeg = opensToDeg(trial.plan(condition));
  const whole = (share: number): number => Math.round(share * openDeg);
  const at = (angleDeg: number) => ({ at: 'angle' as const, angleDeg, ...condition });
  const needed: Probe[] = [
    ...job.struts.map(({ id }): Probe => ({ what: 'free-length', strut: id, ...at(0) })),
    { what: 'opens-to', ...at(openDeg) },
    ...job.struts.flatMap(({ id }): Probe[] => [
      { what: 'pivot-to-hinge', strut: id, end: 'base', ...condition, at: 'closed', angleDeg: 0 },
      { what: 'pivot-to-hinge', strut: id, end: 'lid', ...condition, at: 'closed', angleDeg: 0 },
      { what: 'strut-length', strut: id, ...condition, at: 'closed', angleDeg: 0 },
      { what: 'strut-length', strut: id, ...at(whole(0.5)) },
      { what: 'strut-length', strut: id, ...condition, at: 'open', angleDeg: openDeg },
    ]),
    ...(['opening', 'closing'] as const).flatMap((way) =>
      (way === 'opening' ? HAND_SHARES : [...HAND_SHARES].reverse()).map((share): Probe => ({
        what: 'hand-force',
        way,
        ...at(whole(share)),
      })),
    ),
  ];
  const starts = (['lifts-from', 'falls-from'] as const).flatMap((what): Probe[] => {
    const [first] = balanceAngles(trial, { what, ...at(0) });
    return first ? [{ what, ...at(first.deg) }] : [];
  });
  return [
    ...needed.map((probe) => ({ probe, optional: false })),
    ...starts.map((probe) => ({ probe, optional: false })),
    { probe: { what: 'lid-mass', ...at(0) }, optional: true },
    ...BARE_SHARES.flatMap((share) =>
      (['opening', 'closing'] as const).map((way) => ({
        probe: { what: 'hand-force' as const, way, ...at(whole(share)), strutsOff: true },
        optional: true,
      })),
    ),
  ];
}

/**
 * The fit-up plan of a job: what to measure after fitting, in the order a person goes through it, each with its predicted
 * value and ±. In the proof's own condition (job.proof), struts new and nominal.
 * Throws a LidwrightError when the job can't be computed.
 */
export function fitUpPlan(job: ResolvedJob, known: Known = {}): PlanItem[] {
  const trial = makeTrial(job);
  return itemsFor(trial, planProbes(trial), known);
}

/** Predicted values and ± for any probes. */
export function itemsFor(
  trial: Trial,
  wanted: readonly { readonly probe: Probe; readonly optional: boolean }[],
  known: Known = {},
): PlanItem[] {
  const probes = wanted.map((w) => w.probe);
  const prober = makeProber(trial, probes);
  const strict = prober.read({}, true);
  const effects = effectsOf((change) => prober.read(change), doubtsOf(trial, known), probes.length);
  const slope = slopes(trial, probes);
  const toolSigmas = probes.map((p, i) =>
    p.what === 'lid-mass'
      ? Math.max(USUAL_PROOF_SIGMA[p.what].sigma, 0.005 * strict[i]!)
      : USUAL_PROOF_SIGMA[p.what].sigma,
  );
  const sigmas = readingSigmas(
    probes.map((p, i) => ({ ...p, sigma: toolSigmas[i]! })),
    slope,
  );
  return wanted.map(({ probe, optional }, i) => {
    const own = Math.hypot(sigmas[i]!, ...effects[i]!);
    const balance = isBalance(probe);
    const value = balance ? (balanceAngles(trial, probe)[0]?.deg ?? null) : strict[i]!;
    const plusMinus = balance ? (2 * own) / Math.max(Math.abs(slope[i]!), 1e-9) : 2 * own;
    const known = value !== null && Number.isFinite(value);
    const hasAngle = probe.what === 'hand-force' || probe.what === 'strut-length' || probe.what === 'joint-angle';
    return {
      key: probeKey(probe),
      probe,
      what: probeWords(trial.job, probe),
      ...(hasAngle ? { angleDeg: probe.at === 'closed' ? 0 : probe.angleDeg } : {}),
      predicted: known ? value : null,
      plusMinus: known ? plusMinus : null,
      unit: unitSign(probe.what),
      sigma: toolSigmas[i]!,
      optional,
    };
  });
}
