import type { Finding } from '../findings';
import type { LoadCase, Spec } from '../job';
import type { Geometry } from './geometry';
import type { Rest } from './rest';
import { type Bound, type ForceWindow, type LengthWindow, MOST_FORCE_N, type OpenBody } from './window';

/** Sizes between the ends of a window that are tried, evenly over its logarithm. */
const TRIED = 14;
/** An edge is found to this share of its size. */
const EXACT = 1e-6;

/** A run of sizes that break nothing; `from` and `to` say what breaks beyond, null where the window's own end is the edge. */
interface Run {
  readonly low: number;
  readonly high: number;
  readonly from: Finding | null;
  readonly to: Finding | null;
}

/**
 * Narrows a range of sizes to a run in which nothing breaks: the one that holds `own`, else the widest. What fails in the job as
 * it is and at every size is no size's fault. Gives what breaks in the middle where no size does.
 */
function narrow(
  [low, high]: readonly [number, number],
  own: number,
  failsAt: (size: number) => ReadonlyMap<string, Finding> | null,
  before: ReadonlySet<string>,
  tried = TRIED,
): Run | { readonly blocked: Finding | null } {
  const ratio = high / low;
  const sizes = Array.from({ length: tried + 1 }, (_, i) => low * ratio ** (i / Math.max(1, tried)));
  if (tried > 0) sizes[tried] = high;
  if (tried > 0 && own > low && own < high) sizes.push(own);
  sizes.sort((a, b) => a - b);
  const found = sizes.map(failsAt);
  const always = new Set([...before].filter((key) => found.every((fails) => fails?.has(key))));
  const broken = (fails: ReadonlyMap<string, Finding> | null): Finding | true | null =>
    fails ? ([...fails].find(([key]) => !always.has(key))?.[1] ?? null) : true;
  const states = found.map(broken);
  const runs: [number, number][] = [];
  states.forEach((state, i) => {
    if (state !== null) return;
    if (runs.at(-1)?.[1] === i - 1) runs.at(-1)![1] = i;
    else runs.push([i, i]);
  });
  const finding = (state: Finding | true | null): Finding | null => (state === true ? null : state);
  if (runs.length === 0) return { blocked: finding(states[Math.floor(states.length / 2)]!) };
  const width = ([a, b]: [number, number]): number => sizes[b]! - sizes[a]!;
  const [first, last] =
    runs.find(([a, b]) => sizes[a]! <= own && own <= sizes[b]!) ?? runs.reduce((a, b) => (width(b) > width(a) ? b : a));
  const edge = (good: number, bad: number): { size: number; why: Finding | null } => {
    let [ok, no, why] = [sizes[good]!, sizes[bad]!, states[bad]!];
    while (Math.abs(no - ok) > EXACT * ok) {
      const middle = (ok + no) / 2;
      const state = broken(failsAt(middle));
      if (state === null) ok = middle;
      else [no, why] = [middle, state];
    }
    return { size: ok, why: finding(why) };
  };
  if (tried === 0) return { low, high, from: null, to: null };
  const from = first === 0 ? null : edge(first, first - 1);
  const to = last === sizes.length - 1 ? null : edge(last, last + 1);
  return { low: from?.size ?? low, high: to?.size ?? high, from: from?.why ?? null, to: to?.why ?? null };
}

const boundOf = (loadCases: readonly LoadCase[], f: Finding | null): Bound => ({
  id: f?.id ?? 'no-such-strut',
  caseId: f && !f.everyCase ? f.case : null,
  caseName: (f && !f.everyCase && loadCases.find((c) => c.id === f.case)?.name) || null,
});

/** Checks that lengths decide, whatever the force. */
const OF_LENGTHS = [
  'strutExists',
  'clearances',
  'deadCentre',
  'jointRange',
  'springTravel',
  'strutFits',
  'strokeReserve',
];

/** A window of forces, narrowed to those that break nothing of the rest of the job either. */
export function narrowForce(g: Geometry, body: OpenBody, window: ForceWindow, rest: Rest): ForceWindow {
  if (window.empty) return window;
  const { spec } = g.strut;
  const { extendedMm, strokeMm } = body;
  const range = [
    Math.max(window.least?.forceN ?? 1, 1),
    Math.min(window.most?.forceN ?? Infinity, MOST_FORCE_N),
  ] as const;
  const failsAt = (forceN: number): ReadonlyMap<string, Finding> | null =>
    rest.found({ ...spec, extendedMm, strokeMm, forceN, toleranceN: body.toleranceAt(forceN) } as Spec)?.fails ?? null;
  // what lengths alone decide is looked at once
  const hangs = rest.checks.some((check) => !OF_LENGTHS.includes(check));
  const run = narrow(range, spec.forceN, failsAt, rest.before, hangs ? TRIED : 0);
  const { loadCases } = g.job;
  if ('blocked' in run) return { ...window, widthN: -Infinity, empty: true, blocked: boundOf(loadCases, run.blocked) };
  const least = run.low > range[0] ? { ...boundOf(loadCases, run.from), forceN: run.low } : window.least;
  const most = run.high < range[1] ? { ...boundOf(loadCases, run.to), forceN: run.high } : window.most;
  return { ...window, least, most, widthN: (most?.forceN ?? Infinity) - (least?.forceN ?? 0) };
}

/** A window of lengths, narrowed to those that break nothing of the rest of the job that lengths decide. */
export function narrowLength(g: Geometry, window: LengthWindow, rest: Rest): LengthWindow {
  if (window.empty) return window;
  const checks = rest.checks.filter((check) => OF_LENGTHS.includes(check));
  const failsAt = (extendedMm: number): ReadonlyMap<string, Finding> | null => {
    const spec = { ...g.strut.spec, extendedMm, strokeMm: window.strokeMm };
    return rest.found(spec, checks)?.fails ?? null;
  };
  const { fromMm, toMm } = window;
  const run = narrow([fromMm, toMm], g.strut.spec.extendedMm, failsAt, rest.before);
  const { loadCases } = g.job;
  if ('blocked' in run) return { ...window, widthMm: -Infinity, empty: true, blocked: boundOf(loadCases, run.blocked) };
  return {
    ...{ ...window, fromMm: run.low, toMm: run.high, widthMm: run.high - run.low },
    from: run.low > fromMm ? boundOf(loadCases, run.from) : window.from,
    to: run.high < toMm ? boundOf(loadCases, run.to) : window.to,
  };
}
