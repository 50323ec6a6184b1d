import type { BracketIssue } from '../bracket';
import type { LidRooms, LoadBody } from '../clearance';
import type { LidwrightError } from '../error';
import type { JobPart, LoadCase, Path, ResolvedJob, StrangeKey, Strut } from '../job';
import { type Dimension, type ShownUnits, formatQuantity } from '../quantity';
import type { TriangleMesh } from '../solid';
import type { Assessment } from '../strength';
import type { Frame, LetGo, Passage, Plan, TravelTable } from '../travel';

export type FindingState = 'holds' | 'watch' | 'fails' | 'unknown';

/** A value at a path of the job: a number mostly; a word or a whole part of the job where that is what changes. */
export interface Setting {
  readonly path: Path;
  readonly value: number | string | object;
}

/** What a finding proposes; applying it sets `value` at `path` and everything in `more`, all as one edit. */
export interface Proposal extends Setting {
  readonly label: string;
  readonly more?: readonly Setting[];
}

/** Everything a proposal sets. */
export const settingsOf = (proposal: Proposal): readonly Setting[] => [
  { path: proposal.path, value: proposal.value },
  ...(proposal.more ?? []),
];

/** One check's outcome. Values are in file units (mm, N, N·m, degrees, J); texts are in the units shown. */
export interface Finding {
  readonly id: string;
  /** Load case; for findings of the geometry alone, the first one. */
  readonly case: string;
  /** True where the load case makes no difference. */
  readonly everyCase: boolean;
  /** The strut or thing it is about. */
  readonly subject: string;
  readonly state: FindingState;
  readonly value: number | null;
  readonly limit: number | null;
  /** How far inside the limit, in `unit`; negative when broken. */
  readonly margin: number | null;
  readonly unit: string;
  /** θ where it is worst, degrees. */
  readonly worstDeg: number | null;
  readonly text: string;
  readonly advice: string;
  /** Told to everybody, because no design can clear it: neither verdict nor count nor exit code goes by it. */
  readonly caution?: true;
  readonly proposal?: Proposal;
  /** Advice takes longer to find than was given: there is more to come. */
  readonly more?: true;
}

/** What checks can be made from beside the parts of a job. Lists about brackets stand in the order of the job's. */
export interface CheckSources {
  readonly frame: Frame;
  /** What the struts sweep over. */
  readonly passage: Passage;
  /** Loads that take room on the lid. */
  readonly loads: readonly LoadBody[];
  /** What things on the base leave to the lid's own bodies. */
  readonly rooms: LidRooms;
  readonly plans: readonly Plan[];
  /** One table a plan, same order. */
  readonly tables: readonly TravelTable[];
  /** What the lid does when it is let go; one a plan, same order. */
  readonly letGos: readonly LetGo[];
  readonly units: ShownUnits;
  /** What stands against making each bracket. */
  readonly issues: readonly (readonly BracketIssue[])[];
  /** Each bracket's body; null where it can't be made, why where it can't be drawn. */
  readonly meshes: readonly (TriangleMesh | LidwrightError | null)[];
  readonly assessments: readonly Assessment[];
  /** Keys of the job that the format does not have. */
  readonly strange: readonly StrangeKey[];
}

/** What a check gets: the parts of the job and the sources that it says it reads, nothing else. */
export type CheckContext<J extends JobPart = JobPart, S extends keyof CheckSources = keyof CheckSources> = {
  readonly job: Pick<ResolvedJob, J>;
} & Pick<CheckSources, S>;

type Run<J extends JobPart, S extends keyof CheckSources> = (context: CheckContext<J, S>) => Finding[];

/** A check: what it reads, so that what it found is kept while none of that changes, and how it is made. */
export interface Check {
  readonly name: string;
  readonly job: readonly JobPart[];
  readonly from: readonly (keyof CheckSources)[];
  readonly run: Run<JobPart, keyof CheckSources>;
  /** Whether it takes longer than a step of a drag has time for. */
  readonly slow: (job: ResolvedJob) => boolean;
  /** A slow check's findings without what takes long: each marked `more` has more to say. */
  readonly brief: Run<JobPart, keyof CheckSources> | null;
}

/** Declares a check; the compiler holds `run` to the parts and sources that are named. */
export const check = <J extends JobPart, S extends keyof CheckSources>(
  name: string,
  reads: { readonly job: readonly J[]; readonly from: readonly S[] },
  run: Run<J, S>,
  pace: { readonly slow?: (job: Pick<ResolvedJob, J>) => boolean; readonly brief?: Run<J, S> } = {},
): Check => ({ name, ...reads, run, slow: pace.slow ?? (() => false), brief: pace.brief ?? null });

/** Formatter for the units shown. */
export const formatter =
  (units: ShownUnits) =>
  (value: number, dimension: Dimension, decimals?: number): string =>
    formatQuantity(value, dimension, units, decimals);

/** "0°", "58.4°": an opening angle as a person reads it. */
export const degrees = (deg: number): string => `${Number(deg.toFixed(deg % 1 === 0 ? 0 : 1))}°`.replace('-', '−');

/** The worst of one value a load case over the cases that must hold (over all, where none must), the first of equals. */
export interface WorstCase {
  /** Index of the load case; −1 where no value is known. */
  readonly c: number;
  readonly value: number | null;
  /** In some of these cases the value is not known. */
  readonly gap: boolean;
}

/** The worst of a value over the load cases that must hold (over all where none must); a case without a value makes a gap. */
export function worstCase(loadCases: readonly LoadCase[], values: readonly (number | null)[]): WorstCase {
  const must = loadCases.some((c) => c.mustHold);
  let worst: WorstCase = { c: -1, value: null, gap: false };
  values.forEach((value, c) => {
    if (must && !loadCases[c]!.mustHold) return;
    if (value === null || Number.isNaN(value)) worst = { ...worst, gap: true };
    else if (worst.value === null || value > worst.value) worst = { ...worst, c, value };
  });
  return worst;
}

/** Index of the largest (or smallest) value that is a number, or −1. */
export function extremeIndex(values: Float64Array, which: 'max' | 'min'): number {
  let best = -1;
  for (let i = 0; i < values.length; i++) {
    const v = values[i] as number;
    if (Number.isNaN(v)) continue;
    if (best < 0 || (which === 'max' ? v > (values[best] as number) : v < (values[best] as number))) best = i;
  }
  return best;
}

/** Runs of table rows where `bad` holds, as [first, last] indices. */
export function runsWhere(count: number, bad: (i: number) => boolean): [number, number][] {
  const runs: [number, number][] = [];
  for (let i = 0; i < count; i++) {
    if (!bad(i)) continue;
    const last = runs.at(-1);
    if (last && last[1] === i - 1) last[1] = i;
    else runs.push([i, i]);
  }
  return runs;
}

/** "from 0° to 21°", "at 40°", "from 0° to 3° and from 60° to 75°". */
export function describeRuns(runs: readonly [number, number][], angleDeg: Float64Array): string {
  return runs
    .map(([a, b]) =>
      a === b
        ? `at ${degrees(angleDeg[a] as number)}`
        : `from ${degrees(angleDeg[a] as number)} to ${degrees(angleDeg[b] as number)}`,
    )
    .join(' and ');
}

export const strutName = (job: { readonly struts: readonly Pick<Strut, 'id' | 'name'>[] }, id: string): string => {
  const i = job.struts.findIndex((s) => s.id === id);
  return job.struts[i]?.name ?? (job.struts.length > 1 ? `Strut ${i + 1}` : 'The strut');
};
