import { bracketSpecOf } from '../bracket';
import { attempt } from '../error';
import type { Bracket, ResolvedJob } from '../job';
import type { Plan, TravelTable } from '../travel';
import { type CheckLine, isUnchecked, useOf } from './check';
import { checkLines } from './checks';
import { type BracketLoads, bracketLoads } from './loads';
import { DEFAULTS, type StrengthModel, strengthModel } from './model';
import type { DemandCapacity, LoadSample, StrengthResult, Unchecked } from './types';

/** A safety factor under this is watched: common practice, no source. */
export const WATCH_FACTOR = 1.5;

/** Words that go with every assessment, on screens and papers. */
export const STRENGTH_CAUTIONS: readonly string[] = [
  'A computed safety factor is no approval. It follows from the numbers typed and from simple formulas; try the finished bracket before anybody stands under the lid.',
  'Brackets and welds on road vehicles, boats, lifting gear and machines that people work at fall under local rules and licensed practice: they go before anything here.',
  'Fatigue, corrosion, heat beside welds, loosening by vibration and poor workmanship are not reckoned with.',
];

/** Every check of one bracket. */
export interface Assessment {
  readonly bracketId: string;
  readonly name: string;
  readonly loads: BracketLoads | null;
  /** Worst first. */
  readonly results: readonly StrengthResult[];
  readonly unchecked: readonly Unchecked[];
  /** Why there are no numbers at all, with what to do; null where there are. */
  readonly unknown: { readonly why: string; readonly advice: string } | null;
  /** What was taken where the job says nothing. */
  readonly assumptions: readonly string[];
  readonly cautions: readonly string[];
}

/** A bracket of which nothing is known, and why. */
export const notAssessed = (bracket: Bracket, why: string, advice: string): Assessment => ({
  bracketId: bracket.id,
  name: bracket.name ?? bracket.id,
  loads: null,
  results: [],
  unchecked: [],
  unknown: { why, advice },
  assumptions: [],
  cautions: STRENGTH_CAUTIONS,
});

/** A check's worst over the samples; null without samples. */
export function worstOf(
  { at, repairs: _, ...texts }: CheckLine,
  samples: readonly LoadSample[],
): StrengthResult | null {
  let worst: { use: number; asked: DemandCapacity; governing: LoadSample } | null = null;
  for (const governing of samples) {
    const asked = at(governing.forceN);
    const use = useOf(asked);
    if (!worst || use > worst.use) worst = { use, asked, governing };
  }
  if (!worst) return null;
  const { use, asked, governing } = worst;
  return { ...texts, ...asked, governing, safetyFactor: use > 0 ? 1 / use : Infinity };
}

/** A model's results under the given forces, worst first. */
export function resultsOf(
  model: StrengthModel,
  samples: readonly LoadSample[],
): { results: StrengthResult[]; unchecked: Unchecked[] } {
  const lines = checkLines(model);
  const results = lines
    .flatMap((line) => (isUnchecked(line) ? [] : (worstOf(line, samples) ?? [])))
    .sort((a, b) => a.safetyFactor - b.safetyFactor);
  return { results, unchecked: lines.filter(isUnchecked) };
}

/**
 * Assesses one bracket of a job over every load case and the travel: its forces, every check with its governing case and
 * angle, and what could not be checked. `plans` and `tables` belong to the job, same order.
 * Where a strut is outside its stroke somewhere, or the bracket can't be placed or made, it says so and gives no number.
 */
export function assessBracket(
  job: Pick<ResolvedJob, 'struts' | 'loadCases'>,
  plans: readonly Plan[],
  tables: readonly TravelTable[],
  bracket: Bracket,
): Assessment {
  const none = (why: string, advice: string): Assessment => notAssessed(bracket, why, advice);
  const strut = job.struts.find((s) => s.id === bracket.strut);
  if (!strut) return none('it holds no strut of this job', 'Choose the strut it holds.');
  const { value, error } = attempt((): Assessment => {
    const shockFactor = bracket.shockFactor ?? DEFAULTS.shockFactor;
    const loads = bracketLoads(plans, tables, bracket, bracketSpecOf(bracket), shockFactor);
    if (!loads)
      return none(
        `the ${bracket.end} end of its strut stands on no mount, so nobody knows which way the force meets it`,
        'Put that end on a mount (Joints).',
      );
    if (loads.gaps.length > 0) {
      const gap = loads.gaps[0]!;
      const where = gap.fromDeg === gap.toDeg ? `at ${gap.fromDeg}°` : `from ${gap.fromDeg}° to ${gap.toDeg}°`;
      const name = job.loadCases.find((c) => c.id === gap.caseId)?.name ?? gap.caseId;
      return {
        ...none(
          `the strut is outside its stroke ${where} (${name}), so its force there is not known`,
          'Mend the strut’s lengths first.',
        ),
        loads,
      };
    }
    if (loads.governing.length === 0)
      return { ...none('no load case puts a force on it', 'Add a load case in which its strut pushes.'), loads };
    const model = strengthModel(bracket, strut);
    return {
      ...{ bracketId: bracket.id, name: bracket.name ?? bracket.id, cautions: STRENGTH_CAUTIONS },
      ...resultsOf(model, loads.governing),
      ...{ loads, unknown: null, assumptions: model.assumptions },
    };
  });
  return error ? none(`it can’t be made as drawn: ${error.what.replace(/\.$/, '')}`, error.advice) : value;
}
