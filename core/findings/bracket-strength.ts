import {
  type Assessment,
  type Repair,
  STRENGTH_CAUTIONS,
  type StrengthResult,
  WATCH_FACTOR,
  repairer,
} from '../strength';
import type { Bracket } from '../job';
import { type CheckContext, type Finding, type Proposal, check, degrees } from './finding';

const SENSE_WORDS = {
  extending: 'its strut extending',
  compressing: 'its strut compressed',
  stop: 'the lid resting on its strut',
  'hand on stop': 'a hand pressing the lid on against its strut',
} as const;

/** A safety factor as a person reads it: "0.32", "1.6", "over 100". */
export const factorText = (safetyFactor: number): string =>
  safetyFactor > 100 ? 'over 100' : safetyFactor < 10 ? safetyFactor.toFixed(2) : safetyFactor.toFixed(0);

const sized = (value: number): string =>
  !Number.isFinite(value) ? '∞' : Math.abs(value) >= 100 ? value.toFixed(0) : value.toFixed(2);

/** Demand against capacity in words: "942 of 300 N/mm²", "use 0.24". */
export const demandText = ({ demand, capacity, unit }: StrengthResult): string =>
  unit === '1' ? `${sized(demand)} of 1 used` : `${sized(demand)} of ${sized(capacity)} ${unit}`;

/**
 * bracket-strength-…: every part of each bracket against the joint's force in all load cases and over the travel. A safety factor
 * under 1 fails, under 1.5 is watched. What is proposed has been tried and repairs it. A bracket must hold in every load case, told
 * ones too.
 */
export const bracketStrength = check(
  'bracketStrength',
  { job: ['brackets', 'struts', 'loadCases'], from: ['plans', 'tables', 'assessments'] },
  (context) => {
    const cures: Cures = new Map();
    return context.job.brackets.flatMap((bracket, index) => findingsOf(context, bracket, index, cures));
  },
  { slow: (job) => job.brackets.length > 0 },
);

/** Every safety factor that can fail as a finding of its own, without words: what a changed job is judged by. */
export const bracketFactors = (assessments: readonly Assessment[]): Finding[] =>
  assessments.flatMap(({ bracketId, results, unknown, unchecked }) => {
    const common = { everyCase: true, subject: bracketId, limit: 1, unit: '×', text: '', advice: '' } as const;
    const none = { ...common, case: '', state: 'unknown', value: null, margin: null, worstDeg: null } as const;
    return [
      ...results
        .filter((r) => r.id !== 'weld-simple')
        .map((r): Finding => ({
          ...common,
          id: `bracket-strength-${r.id}`,
          case: r.governing.caseId,
          state:
            r.safetyFactor < 1 && r.gravity === 'fails' ? 'fails' : r.safetyFactor < WATCH_FACTOR ? 'watch' : 'holds',
          value: Number.isFinite(r.safetyFactor) ? r.safetyFactor : 1e6,
          margin: r.safetyFactor - 1,
          worstDeg: r.governing.angleDeg,
        })),
      ...unchecked.map(({ id }): Finding => ({ ...none, id: `bracket-strength-${id}` })),
      ...(unknown ? [{ ...none, id: 'bracket-strength' } as Finding] : []),
    ];
  });

/** What repairs a check, by the results it is one of: brackets alike share theirs. */
type Cures = Map<Assessment['results'], (id: StrengthResult['id']) => Repair | null>;

/** Looked for once a check. */
function once<K, V>(look: (key: K) => V): (key: K) => V {
  const known = new Map<K, V>();
  return (key) => {
    if (!known.has(key)) known.set(key, look(key));
    return known.get(key)!;
  };
}

function findingsOf(
  { job, plans, tables, assessments }: CheckContext<'struts' | 'loadCases', 'plans' | 'tables' | 'assessments'>,
  bracket: Bracket,
  index: number,
  cures: Cures,
): Finding[] {
  const assessment = assessments[index]!;
  const { name, unknown, results, unchecked } = assessment;
  const common = {
    case: plans[0]!.caseId,
    everyCase: true,
    subject: bracket.id,
    value: null,
    limit: null,
    margin: null,
    unit: '×',
    worstDeg: null,
  } as const;
  if (unknown)
    return [
      {
        ...common,
        id: 'bracket-strength',
        state: 'unknown',
        text: `${name}: its strength is not known, because ${unknown.why}.`,
        advice: unknown.advice,
      },
    ];
  const weak = results.filter((r) => r.safetyFactor < WATCH_FACTOR && r.id !== 'weld-simple');
  const strut = job.struts.find((s) => s.id === bracket.strut)!;
  if (weak.length > 0 && !cures.has(results))
    cures.set(results, once(repairer(plans, tables, bracket, strut, assessment)));
  const found = weak.map((result): Finding => {
    const state = result.safetyFactor < 1 && result.gravity === 'fails' ? 'fails' : 'watch';
    const cure = cures.get(results)!(result.id);
    const { caseId, angleDeg, sense } = result.governing;
    const where = job.loadCases.find((c) => c.id === caseId)?.name ?? caseId;
    const proposal: Proposal | null = cure && {
      label: cure.label,
      path: ['brackets', index, ...cure.settings[0]!.path],
      value: cure.settings[0]!.value,
      more: cure.settings.slice(1).map((s) => ({ path: ['brackets', index, ...s.path], value: s.value })),
    };
    return {
      ...common,
      id: `bracket-strength-${result.id}`,
      case: caseId,
      state,
      value: result.safetyFactor,
      limit: 1,
      margin: result.safetyFactor - 1,
      worstDeg: angleDeg,
      text: `${name}: ${lower(result.name)} has a reserve of ${factorText(result.safetyFactor)} (${demandText(result)}), worst in ${where} at ${degrees(angleDeg)}, ${SENSE_WORDS[sense]}.${state === 'fails' || result.gravity === 'fails' ? '' : ` ${result.notes[0] ?? ''}`}`,
      advice: cure
        ? `${cure.label}: that brings it to ${factorText(cure.safetyFactor)} (tried; the least work of what mends it).`
        : 'No change of the bracket tried here mends it.',
      ...(proposal ? { proposal } : {}),
    };
  });
  for (const lack of unchecked)
    found.push({
      ...common,
      id: `bracket-strength-${lack.id}`,
      state: 'unknown',
      text: `${name}: ${lower(lack.name)} is not checked, because ${lack.why}.`,
      advice: lack.advice,
    });
  if (weak.length === 0) found.unshift(allHolds(common, assessment));
  return found;
}

const lower = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);

function allHolds(common: Omit<Finding, 'id' | 'state' | 'text' | 'advice'>, assessment: Assessment): Finding {
  const least = assessment.results.find((r) => r.id !== 'weld-simple')!;
  const part = assessment.unchecked.length > 0;
  const { angleDeg, caseId } = least.governing;
  return {
    ...common,
    id: 'bracket-strength',
    case: caseId,
    state: 'holds',
    value: Number.isFinite(least.safetyFactor) ? least.safetyFactor : null,
    limit: 1,
    margin: Number.isFinite(least.safetyFactor) ? least.safetyFactor - 1 : null,
    worstDeg: angleDeg,
    text: `${assessment.name}${part ? ', as far as it could be checked,' : ''} bears its strut in every load case with a reserve of ${factorText(least.safetyFactor)} or more; least: ${lower(least.name)}, ${demandText(least)}.`,
    advice: STRENGTH_CAUTIONS.slice(0, 2).join(' '),
  };
}
