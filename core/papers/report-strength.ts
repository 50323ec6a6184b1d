import { type Assessment, STRENGTH_CAUTIONS, type StrengthResult, WATCH_FACTOR } from '../strength';
import type { Workings } from '../workings';
import type { StrengthRow } from './report';
import { figure } from './report-tables';

/** What the report says of the strength of a job's brackets. */
export interface StrengthPart {
  readonly rows: readonly StrengthRow[];
  /** The largest force on each bracket, a line each. */
  readonly told: readonly string[];
  /** What was taken where the job says nothing, a line each. */
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

const quantity = (value: number, unit: string): string => {
  if (!Number.isFinite(value)) return 'no limit';
  const shown = unit === 'N·mm' ? [value / 1000, 'N·m'] : [value, unit === '1' ? '' : unit];
  const [number, sign] = shown as [number, string];
  return `${figure(number, Math.abs(number) < 10 ? 2 : Math.abs(number) < 100 ? 1 : 0)} ${sign}`.trim();
};

function stateOf({ safetyFactor, gravity }: StrengthResult): StrengthRow['state'] {
  if (safetyFactor < 1) return gravity;
  return safetyFactor < WATCH_FACTOR ? 'watch' : 'holds';
}

function rowsOf({ name, results, unchecked, unknown }: Assessment, caseName: (id: string) => string): StrengthRow[] {
  const none = { demand: '–', capacity: '–', safetyFactor: null, state: 'unknown', where: '' } as const;
  if (unknown)
    return [{ ...none, bracket: name, check: 'All checks', source: `Not known: ${unknown.why}. ${unknown.advice}` }];
  return [
    ...results.map((r): StrengthRow => ({
      bracket: name,
      check: r.name,
      demand: quantity(r.demand, r.unit),
      capacity: quantity(r.capacity, r.unit),
      safetyFactor: Number.isFinite(r.safetyFactor) ? r.safetyFactor : null,
      state: stateOf(r),
      where: `${caseName(r.governing.caseId)}, ${figure(r.governing.angleDeg, 1)}°, ${r.governing.sense}`,
      source: `${r.formula} (${r.source}); ${r.capacitySource}`,
    })),
    ...unchecked.map((u): StrengthRow => ({
      ...none,
      bracket: name,
      check: u.name,
      source: `Not checked: ${u.why}. ${u.advice}`,
    })),
  ];
}

/** The strength of every bracket of a job that has been worked out, ready for the report. */
export function strengthPart(outcome: Workings): StrengthPart {
  const { job } = outcome;
  const names = new Map(job.loadCases.map((c) => [c.id, c.name]));
  const all = job.brackets.map((bracket) => outcome.assessment(bracket.id));
  return {
    rows: all.flatMap((one) => rowsOf(one, (id) => names.get(id) ?? id)),
    told: all.flatMap(({ name, loads }) =>
      loads?.largest
        ? [
            `${name}: largest force of its joint ${figure(Math.abs(loads.largest.pushN), 0)} N (${names.get(loads.largest.caseId) ?? loads.largest.caseId}, ${figure(loads.largest.angleDeg, 1)}°, ${loads.largest.sense}), taken ${figure(loads.shockFactor, 2)} times for shocks.`,
          ]
        : [],
    ),
    assumed: all.flatMap(({ name, assumptions }) => assumptions.map((text) => `${name}: ${text}`)),
    cautions: all.length > 0 ? STRENGTH_CAUTIONS : [],
  };
}
