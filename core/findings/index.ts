import { METRIC, type ShownUnits } from '../quantity';
import type { ResolvedJob } from '../job';
import { type Frame, type Plan, caseTable, kinematics, makeFrame, makePlan, travelAngles } from '../travel';
import { bracketShape } from './bracket';
import { bracketStrength } from './bracket-strength';
import { clearances } from './clearance';
import type { Check, CheckContext, Finding, FindingState } from './finding';
import { dropEnergy, handForce, restRange, staysOpen } from './force';
import { jointRange } from './joint';
import { deadCentre, strokeReserve, strutFits } from './stroke';
import { assumedValues } from './strut-assumed';
import { oneSided, rodDown } from './strut-lie';
import { rodBuckling } from './strut-load';
import { springTravel } from './strut-springs';

export type { Check, CheckContext, Finding, FindingState, Proposal, Setting } from './finding';
export { settingsOf } from './finding';
export * from './joint-travel';
export { demandText, reserveText } from './bracket-strength';
export { PANEL_FREE_MM, bracketSolid, strutClearance, strutSizes, twinOf } from './clearance';

/** Every check, in the order of a job. A new one is a function of the context, added here. */
export const CHECKS: readonly Check[] = [
  strutFits,
  strokeReserve,
  deadCentre,
  jointRange,
  handForce,
  staysOpen,
  restRange,
  dropEnergy,
  rodBuckling,
  rodDown,
  oneSided,
  springTravel,
  assumedValues,
  bracketShape,
  bracketStrength,
  clearances,
];

/** Checks that take longer than a drag has time for: while one goes on, what they last found is carried along. */
const SLOW: ReadonlySet<Check> = new Set([bracketStrength, clearances]);

/** A job worked out: all load cases swept, all checks made. */
export interface Outcome extends CheckContext {
  readonly findings: readonly Finding[];
  /** What the slow checks found, last time they were made. */
  readonly slow: readonly Finding[];
}

/**
 * Works a job out over its whole travel in every load case.
 * Throws a LidwrightError when the job can't be computed.
 * `before`, the outcome of the move before in a drag, lends what its slow checks found, and findings then
 * come without costly advice: a step of a drag has to fit a frame. Without it everything is made afresh.
 */
export function workOut(job: ResolvedJob, units: ShownUnits = METRIC, before?: Outcome): Outcome {
  const frame: Frame = makeFrame(job);
  const plans: Plan[] = job.loadCases.map((c) => makePlan(frame, c.id));
  const angles = travelAngles(frame.openDeg);
  const poses = kinematics(frame, angles);
  const tables = plans.map((plan) => caseTable(plan, poses));
  const context: CheckContext = { job, frame, plans, tables, units, brief: before !== undefined };
  const quick = CHECKS.filter((check) => !SLOW.has(check)).flatMap((check) => check(context));
  const slow = before ? before.slow : [...SLOW].flatMap((check) => check(context));
  return { ...context, slow, findings: toldOnly(job, [...quick, ...slow]) };
}

/** In a load case that need not hold, what fails is told as something to watch. */
function toldOnly(job: ResolvedJob, findings: Finding[]): Finding[] {
  const told = new Set(job.loadCases.filter((c) => !c.mustHold).map((c) => c.id));
  if (told.size === 0) return findings;
  return findings.map((finding) =>
    finding.state === 'fails' && !finding.everyCase && told.has(finding.case)
      ? { ...finding, state: 'watch', text: `${finding.text} This load case is told, not demanded.` }
      : finding,
  );
}

const RANK: Record<FindingState, number> = { fails: 0, unknown: 1, watch: 2, holds: 3 };

/** Worst first; within a state the order of the checks stays. */
export const worstFirst = (findings: readonly Finding[]): Finding[] =>
  findings
    .map((f, i) => [f, i] as const)
    .sort((a, b) => RANK[a[0].state] - RANK[b[0].state] || a[1] - b[1])
    .map(([f]) => f);
