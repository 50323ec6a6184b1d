import { DEMANDS, demandOf } from '../demands';
import { type StrutListEntry, assumedOf, forcesOf, specOf } from '../strut';
import { type ResolvedJob, type Job, type Spec, setValue } from '../job';
import { attempt, fail } from '../error';
import type { ShownUnits } from '../quantity';
import { makeFrame } from '../travel';
import { type Geometry, geometryOf, reachOf } from './geometry';
import { type Merits, type Refusal, bucklingOf, judge } from './judge';
import { Rest, type RestFound, measured } from './rest';

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
  /** How many do it, whether all of them are listed or not. */
  readonly does: number;
  readonly refused: readonly Refused[];
  /** Entries × forces that were tried. */
  readonly tried: number;
  /** Refused candidates by the demand they failed first. */
  readonly refusedBy: Readonly<Record<string, number>>;
  /** What fails with each of those offered, as it does now: no strut of the list mends it. Findings' ids. */
  readonly anyway: readonly string[];
}

export interface RankOptions {
  /** Which strut is to be chosen; the first without it. */
  readonly strutId?: string;
  /** Where the strut stops the lid, it must open at least so far, degrees: as far as now, less 1°, without it. */
  readonly leastOpenDeg?: number;
  /** Judged by the strut's own demands alone: a first sieve, after which somebody looks at the rest of the job. */
  readonly sieve?: boolean;
  /** Of what is told in words. */
  readonly units?: ShownUnits;
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

/** A candidate that meets the strut's own demands. */
interface Fitting extends Ranked {
  readonly rest: RestFound | null;
}

/** Told of a strut with which the job can't be worked out. */
const NOT_COMPUTED: Refusal = {
  ...{ id: 'no-such-strut', caseId: null, value: null, limit: 0, unit: '' },
  text: 'With it the lid can’t be worked out.',
};

/**
 * Tries every entry of a list with each of its forces in every load case that must hold, over the whole travel, by every demand
 * that can fail: the strut's own, then the job's brackets, joints, clearances and ratings. What fails now and with each strut
 * that does the rest is no strut's fault.
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
  const rest = options.sieve ? null : new Rest(job, g.strutIndex, options.units);
  const tried: (Fitting | Refused)[] = [];
  for (let e = 0; e < list.length; e++) {
    if (e > 0 && e % CHUNK === 0) yield e / list.length;
    const entry = list[e]!;
    const reach = reachOf(g, entry.extendedMm, entry.strokeMm);
    const bears = bucklingOf(specOf(entry, entry.forceMinN));
    const forces = forcesOf(entry);
    for (const [i, forceN] of forces.entries()) {
      const spec = entrySpec(entry, forceN);
      const verdict = judge(g, reach, spec, judging, bears);
      if (verdict.refused) tried.push({ entry: e, forceN, why: verdict.refused });
      else {
        const { merits } = verdict;
        const found = rest && rest.found(spec);
        if (rest) yield (e + (i + 1) / (forces.length + 1)) / list.length;
        if (rest && !found) tried.push({ entry: e, forceN, why: NOT_COMPUTED });
        else tried.push({ entry: e, forceN, merits: withRest(merits, found), rest: found });
      }
    }
  }
  const fitting = tried.filter((t): t is Fitting => 'merits' in t);
  const anyway = new Map(
    [...(fitting[0]?.rest?.fails ?? [])].filter(
      ([key]) => rest!.before.has(key) && fitting.every((t) => t.rest!.fails.has(key)),
    ),
  );
  const ranked: Ranked[] = [];
  const refused: Refused[] = [];
  const refusedBy: Record<string, number> = {};
  for (const t of tried) {
    const { entry, forceN } = t;
    let why: Refusal;
    if ('why' in t) ({ why } = t);
    else {
      const broken = [...(t.rest?.fails ?? [])].find(([key]) => !anyway.has(key))?.[1];
      if (!broken) {
        ranked.push({ entry, forceN, merits: t.merits });
        continue;
      }
      why = { ...measured(broken), ...(broken.text === '' ? {} : { text: broken.text }) };
    }
    refused.push({ entry, forceN, why });
    refusedBy[why.id] = (refusedBy[why.id] ?? 0) + 1;
  }
  ranked.sort((a, b) => inOrder(list, a, b));
  const ids = [...new Set([...anyway.values()].map((f) => f.id))];
  return { strutId: g.strut.id, ranked, does: ranked.length, refused, tried: tried.length, refusedBy, anyway: ids };
}

const withRest = (merits: Merits, rest: RestFound | null): Merits =>
  rest?.tightest && rest.tightest.share < merits.tightest.share ? { ...merits, tightest: rest.tightest } : merits;

/** rankSteps run to its end; null when onProgress stopped it. @internal for tests */
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
  const rank = DEMANDS.findIndex((d) => d === demandOf(why.id));
  const off = why.value === null ? Infinity : Math.abs(why.value - why.limit) / Math.max(Math.abs(why.limit), 1);
  return rank + 1 / (1 + off);
}

/** Refused candidates, the nearest first; of each entry the two that came nearest. */
export function nearestFirst(refused: readonly Refused[], most: number): Refused[] {
  const seen = new Map<number, number>();
  return [...refused]
    .sort((a, b) => nearness(b.why) - nearness(a.why))
    .filter(({ entry }) => {
      const count = (seen.get(entry) ?? 0) + 1;
      seen.set(entry, count);
      return count <= 2;
    })
    .slice(0, most);
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
