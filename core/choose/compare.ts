import { type Finding, type FindingState, countOf } from '../findings';
import type { Dimension } from '../quantity';
import type { Workings } from '../workings';
import { answersOf } from './assumed';

/** What is compared. */
export type Compared = Pick<Workings, 'job' | 'frame' | 'plans' | 'tables' | 'findings'>;

export interface Variant {
  readonly name: string;
  readonly outcome: Compared;
}

/** One line of the short table. Values in file units; `dimension` says how to show them. */
export interface CompareRow {
  readonly label: string;
  readonly dimension: Dimension;
  readonly values: readonly (number | null)[];
  /** Index of the variant that is best here; null where nobody is, or it is no contest. */
  readonly best: number | null;
}

/** A finding whose state is not the same in every variant. */
export interface FindingDifference {
  readonly id: string;
  readonly subject: string;
  readonly case: string | null;
  /** null where a variant has no such finding. */
  readonly states: readonly (FindingState | null)[];
  readonly findings: readonly (Finding | null)[];
}

export interface Comparison {
  readonly names: readonly string[];
  readonly rows: readonly CompareRow[];
  readonly differences: readonly FindingDifference[];
}

function bestOf(values: readonly (number | null)[], wants: 'more' | 'less' | null): number | null {
  if (wants === null || values.some((v) => v === null)) return null;
  const list = values as number[];
  const top = wants === 'more' ? Math.max(...list) : Math.min(...list);
  return list.filter((v) => v === top).length === 1 ? list.indexOf(top) : null;
}

/** Variants of one job side by side: a short table and every finding whose state differs. Pure. */
export function compareOutcomes(variants: readonly Variant[]): Comparison {
  const answers = variants.map((v) => answersOf(v.outcome));
  const worst = (id: string): (number | null)[] =>
    variants.map(({ outcome }) => {
      const values = outcome.findings.filter((f) => f.id === id).map((f) => f.value);
      return values.length === 0 || values.some((v) => v === null) ? null : Math.min(...(values as number[]));
    });
  const count = (state: FindingState): number[] => variants.map(({ outcome }) => countOf(outcome.findings, state));
  const row = (
    label: string,
    dimension: Dimension,
    values: readonly (number | null)[],
    wants: 'more' | 'less' | null,
  ): CompareRow => ({ label, dimension, values, best: bestOf(values, wants) });
  const most = (pick: (o: Compared, strut: number) => number): (number | null)[] =>
    variants.map(({ outcome: o }) => {
      const values = o.plans[0]!.struts.map((_, k) => pick(o, k)).filter((v) => Number.isFinite(v));
      return values.length === 0 ? null : Math.max(...values);
    });
  const spec = (key: 'extendedMm' | 'strokeMm' | 'forceN') =>
    variants.map(({ outcome }) => outcome.job.struts[0]?.spec[key] ?? null);
  const rows = [
    row(
      'Opens to',
      'angle',
      variants.map((v) => v.outcome.frame.openDeg),
      'more',
    ),
    row('Strut, extended', 'length', spec('extendedMm'), null),
    row('Strut, stroke', 'length', spec('strokeMm'), null),
    row('Strut, nominal force', 'force', spec('forceN'), null),
    row(
      'Greatest pull to lift',
      'force',
      answers.map((a) => a.liftN),
      'less',
    ),
    row(
      'Greatest pull to shut',
      'force',
      answers.map((a) => a.pullN),
      'less',
    ),
    row(
      'Least that holds open',
      'moment',
      answers.map((a) => a.holdNm),
      'more',
    ),
    row('Stroke left closed', 'length', worst('closed-reserve'), 'more'),
    row('Stroke left open', 'length', worst('open-reserve'), null),
    row(
      'Greatest strut force',
      'force',
      most((o, k) => Math.max(...o.tables.map((t) => finiteMax(t.struts[k]!.compressingN)))),
      'less',
    ),
    row(
      'Greatest hinge load',
      'force',
      variants.map(({ outcome }) => hingeMax(outcome)),
      'less',
    ),
    row('Findings that fail', 'number', count('fails'), 'less'),
    row('Findings to watch', 'number', count('watch'), 'less'),
  ];
  const keys = new Map<string, { id: string; subject: string; case: string | null }>();
  const keyOf = (f: Finding): string => `${f.id}\n${f.subject}\n${f.everyCase ? '' : f.case}`;
  // checks that name their own worst case count as one row, whichever case that is
  const once = new Set([
    ...['one-sided', 'rod-down', 'let-go-open', 'let-go-shut', 'grip-at-shut', 'latch-holds', 'stays-shut'],
    ...['hinge-load', 'hinge-screws', 'socket-pull', 'temperature'],
  ]);
  const wide = (f: Finding): string => (once.has(f.id) ? `${f.id}\n${f.subject}\n` : keyOf(f));
  for (const { outcome } of variants)
    for (const f of outcome.findings)
      if (!keys.has(wide(f)))
        keys.set(wide(f), { id: f.id, subject: f.subject, case: f.everyCase || once.has(f.id) ? null : f.case });
  const differences = [...keys].flatMap(([key, what]): FindingDifference[] => {
    const findings = variants.map(({ outcome }) => outcome.findings.find((f) => wide(f) === key) ?? null);
    const states = findings.map((f) => f?.state ?? null);
    return new Set(states).size > 1 ? [{ ...what, states, findings }] : [];
  });
  return { names: variants.map((v) => v.name), rows, differences };
}

const finiteMax = (values: Float64Array): number => {
  let most = -Infinity;
  for (const v of values) if (v > most) most = v;
  return most;
};

function hingeMax({ tables }: Pick<Workings, 'tables'>): number | null {
  let most = -Infinity;
  for (const { hingeAN, hingeBN } of tables)
    for (const hinge of [hingeAN, hingeBN])
      for (let i = 0; i < hinge.length; i += 3)
        most = Math.max(most, Math.hypot(hinge[i]!, hinge[i + 1]!, hinge[i + 2]!) || -Infinity);
  return Number.isFinite(most) ? most : null;
}
