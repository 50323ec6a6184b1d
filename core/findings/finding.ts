import type { Path, ResolvedJob } from '../job';
import { type Dimension, type ShownUnits, formatQuantity } from '../quantity';
import type { Frame, Plan, TravelTable } from '../travel';

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
  readonly proposal?: Proposal;
}

/** What every check may look at. */
export interface CheckContext {
  readonly job: ResolvedJob;
  readonly frame: Frame;
  readonly plans: readonly Plan[];
  /** One table a plan, same order. */
  readonly tables: readonly TravelTable[];
  readonly units: ShownUnits;
  /** In the middle of a drag: leave out advice that takes long to find. */
  readonly brief?: boolean;
}

export type Check = (context: CheckContext) => Finding[];

/** Formatter for the units shown. */
export const formatter =
  (units: ShownUnits) =>
  (value: number, dimension: Dimension, decimals?: number): string =>
    formatQuantity(value, dimension, units, decimals);

/** "0°", "58.4°": an opening angle as a person reads it. */
export const degrees = (deg: number): string => `${Number(deg.toFixed(deg % 1 === 0 ? 0 : 1))}°`.replace('-', '−');

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

export const strutName = (job: ResolvedJob, id: string): string => {
  const i = job.struts.findIndex((s) => s.id === id);
  return job.struts[i]?.name ?? (job.struts.length > 1 ? `Strut ${i + 1}` : 'The strut');
};
