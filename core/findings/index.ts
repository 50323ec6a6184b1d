import type { LoadCase } from '../job';
import { usedShare } from './about';
import { asked, temperature } from './asked';
import { bracketShape } from './bracket';
import { bracketStrength } from './bracket-strength';
import { clearances } from './clearance';
import { lidRoom } from './lid-room';
export { lidRooms, roomQuestion } from './lid-room';
export { loadBodies } from '../clearance';
import type { Check, Finding, FindingState } from './finding';
import { dropEnergy, handForce, restRange, staysOpen } from './force';
import { hingeLoad, uprightHinge } from './hinge';
import { jointRange } from './joint';
import { gripAtShut, letGoEnergy, staysShut } from './let-go';
import { openingAngle } from './opening-angle';
import { deadCentre, strokeReserve, strutFits } from './stroke';
import { assumedValues } from './strut-assumed';
import { oneSided, rodDown } from './strut-lie';
import { rodBuckling, socketPull, strutExists } from './strut-load';
import { springTravel } from './strut-springs';
import { threads } from './threads';
import { unknownKey } from './unknown-key';

export type { Check, CheckContext, CheckSources, Finding, FindingState, Proposal, Setting } from './finding';
export {
  type About,
  CHECK_NAMES,
  aboutOf,
  checkNameOf,
  headline,
  isMost,
  lineCount,
  usedShare,
  valueText,
  verdict,
} from './about';
export { check, settingsOf, strutName } from './finding';
export { QUESTIONS, QUESTION_WORDS, type Question, questionWords, questionsOf } from './asked';
export { letGoVerb } from './let-go';
export * from './joint-travel';
export { endThreads } from './threads';
export { bracketFactors, bracketStrength, demandText, factorText } from './bracket-strength';
export { PANEL_FREE_MM, bracketSolid, clearanceMesh, strutClearance, strutSizes, twinOf } from './clearance';

/** Every check, in the order in which what they find is listed. A new one is added here. */
export const CHECKS: readonly Check[] = [
  strutFits,
  strokeReserve,
  openingAngle,
  deadCentre,
  jointRange,
  handForce,
  staysOpen,
  restRange,
  letGoEnergy,
  gripAtShut,
  staysShut,
  rodBuckling,
  strutExists,
  socketPull,
  threads,
  hingeLoad,
  uprightHinge,
  rodDown,
  oneSided,
  springTravel,
  temperature,
  asked,
  assumedValues,
  unknownKey,
  dropEnergy,
  bracketShape,
  bracketStrength,
  clearances,
  lidRoom,
];

/** Demanded in every load case, those too that are only told. */
const ALWAYS = new Set(['latch-holds']);

/** In a load case that need not hold, what fails is told as something to watch. */
export function advisoryOnly(loadCases: readonly LoadCase[], findings: readonly Finding[]): readonly Finding[] {
  const told = new Set(loadCases.filter((c) => !c.mustHold).map((c) => c.id));
  if (told.size === 0) return findings;
  return findings.map((finding) =>
    finding.state === 'fails' && !finding.everyCase && !ALWAYS.has(finding.id) && told.has(finding.case)
      ? { ...finding, state: 'watch', text: `${finding.text} This load case is told, not demanded.` }
      : finding,
  );
}

const RANK: Record<FindingState, number> = { fails: 0, unknown: 1, watch: 2, holds: 3 };

/** How many findings are in a state, cautions not counted. */
export const countOf = (findings: readonly Pick<Finding, 'state' | 'caution'>[], state: FindingState): number =>
  findings.filter((f) => f.state === state && !f.caution).length;

/** How far over its limit what fails is, as a share of the limit; what can't be told so comes first. */
const over = (f: Finding): number => (f.state === 'fails' ? (usedShare(f) ?? Infinity) : 0);

/** Worst first: by state, what fails by how far it is over; else the order of the checks stays. */
export const worstFirst = (findings: readonly Finding[]): Finding[] =>
  findings
    .map((f, i) => [f, i, over(f)] as const)
    .sort((a, b) => RANK[a[0].state] - RANK[b[0].state] || (a[2] === b[2] ? a[1] - b[1] : b[2] - a[2]))
    .map(([f]) => f);
