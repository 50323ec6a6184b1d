import { type StrutListEntry, assumedOf, forcesOf, specOf } from '../strut';
import { type ResolvedJob, type Job, type Spec, setValue } from '../job';
import { attempt, fail } from '../error';
import { makeFrame } from '../travel';
import { type Geometry, geometryOf, reachOf } from './geometry';
import { DEMANDS, type Merits, type Refusal, bucklingOf, judge } from './judge';

/** One entry with one of its forces. */
export interface Candidate {
  /** Index in the list. */
  readonly entry: number;
  readonly forceN: number;
}
export interface Ranked extends Candidate {
  readonly merits: Merits;
}
export interface Refused extends Candidate {
  readonly why: Refusal;
}

/** A list tried out: best first; refused in the list's order, forces ascending. */
export interface Ranking {
  readonly strutId: string;
  readonly ranked: readonly Ranked[];
  readonly refused: readonly Refused[];
  /** Entries × forces that were tried. */
  readonly tried: number;
  /** Refused candidates by the demand they failed first. */
  readonly refusedBy: Readonly<Partial<Record<Refusal['id'], number>>>;
}

export interface RankOptions {
  /** Which strut is to be chosen; the first without it. */
  readonly strutId?: string;
  /** Where the strut stops the lid, it must open at least so far, degrees: as far as now, less 1°, without it. */
  readonly leastOpenDeg?: number;
  /** Called now and then with the share done, 0 to 1; return false to stop. */
  readonly onProgress?: (share: number) => boolean | void;
}

/** How far the lid must open at least where its strut stops it: as far as the job's own strut lets it, less 1°. */
export function defaultLeastOpenDeg(job: ResolvedJob): number {
  if (job.travel.stop !== 'strut') return 0;
  // a strut that can't be says nothing about how far the lid shall open
  return Math.max(0, (attempt(() => makeFrame(job)).value?.openDeg ?? 0) - 1);
}

/** Ties closer than this in what is to spare are no difference to a workshop. */
const ROUND = 1e6;

/** Best first: most to spare at the tightest demand, then shorter stroke, shorter, weaker, thinner, earlier in the list. */
export function inOrder(list: readonly StrutListEntry[], a: Ranked, b: Ranked): number {
  const [x, y] = [list[a.entry]!, list[b.entry]!];
  return (
    Math.round(b.merits.tightest.share * ROUND) - Math.round(a.merits.tightest.share * ROUND) ||
    x.strokeMm - y.strokeMm ||
    x.extendedMm - y.extendedMm ||
    a.forceN - b.forceN ||
    x.rodMm - y.rodMm ||
    a.entry - b.entry
  );
}

/** Entries between two looks at the clock or at a cancel. */
const CHUNK = 64;

/**
 * Tries every entry of a list with each of its forces in every load case that must hold, over the whole travel.
 * A generator, so that whoever runs it can show progress and stop: it yields the share done, and returns the ranking.
 * Throws a LidwrightError when the job can't be computed.
 */
export function* rankSteps(
  job: ResolvedJob,
  list: readonly StrutListEntry[],
  options: Omit<RankOptions, 'onProgress'> = {},
): Generator<number, Ranking, void> {
  const g: Geometry = geometryOf(job, options.strutId);
  const judging = { leastOpenDeg: options.leastOpenDeg ?? defaultLeastOpenDeg(job) };
  const ranked: Ranked[] = [];
  const refused: Refused[] = [];
  const refusedBy: Partial<Record<Refusal['id'], number>> = {};
  for (let e = 0; e < list.length; e++) {
    if (e > 0 && e % CHUNK === 0) yield e / list.length;
    const entry = list[e]!;
    const reach = reachOf(g, entry.extendedMm, entry.strokeMm);
    const bears = bucklingOf(specOf(entry, entry.forceMinN));
    for (const forceN of forcesOf(entry)) {
      const verdict = judge(g, reach, entrySpec(entry, forceN), judging, bears);
      if (verdict.refused) {
        refused.push({ entry: e, forceN, why: verdict.refused });
        refusedBy[verdict.refused.id] = (refusedBy[verdict.refused.id] ?? 0) + 1;
      } else ranked.push({ entry: e, forceN, merits: verdict.merits });
    }
  }
  ranked.sort((a, b) => inOrder(list, a, b));
  return { strutId: g.strut.id, ranked, refused, tried: ranked.length + refused.length, refusedBy };
}

/** rankSteps run to its end; null when onProgress stopped it. */
export function rank(job: ResolvedJob, list: readonly StrutListEntry[], options: RankOptions = {}): Ranking | null {
  const steps = rankSteps(job, list, options);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
    if (options.onProgress?.(step.value) === false) return null;
  }
}

/** How near a refused candidate came: later demands are nearer; within one, by how far off it is. */
function nearness(why: Refusal): number {
  const rank = DEMANDS.indexOf(why.id);
  const off = why.value === null ? Infinity : Math.abs(why.value - why.limit) / Math.max(Math.abs(why.limit), 1);
  return rank + 1 / (1 + off);
}

/** A ranking cut down to what a screen shows: the best, and of each refused entry the force that came nearest. */
export function condense(ranking: Ranking, mostRanked = 500): Ranking {
  const has = new Set(ranking.ranked.map((r) => r.entry));
  const nearest = new Map<number, Refused>();
  for (const candidate of ranking.refused) {
    if (has.has(candidate.entry)) continue;
    const old = nearest.get(candidate.entry);
    if (!old || nearness(candidate.why) > nearness(old.why)) nearest.set(candidate.entry, candidate);
  }
  return { ...ranking, ranked: ranking.ranked.slice(0, mostRanked), refused: [...nearest.values()] };
}

/** An entry with a force as a job holds it: what the list doesn't say is marked assumed. */
export function entrySpec(entry: StrutListEntry, forceN: number): Spec {
  const assumed = assumedOf(entry);
  const listedMm = [entry.extendedMm, entry.strokeMm] as const;
  return { ...specOf(entry, forceN), ...(assumed.length > 0 ? { assumed } : {}), listedMm };
}

/** Fits an entry with a force to a strut of the job document: one edit. What the list doesn't say is marked assumed. */
export function fitEntry(
  job: Job,
  args: { readonly strut: string; readonly entry: StrutListEntry; readonly forceN: number },
): Job {
  const i = job.struts.findIndex((s) => s.id === args.strut);
  if (i < 0) return fail(`there is no strut "${args.strut}"`, ['struts'], 'It may have been removed meanwhile.');
  const { assumed: _old, ...kept } = job.struts[i]!.spec;
  return setValue(job, { path: ['struts', i, 'spec'], value: { ...kept, ...entrySpec(args.entry, args.forceN) } });
}
