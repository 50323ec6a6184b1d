import { demandOf } from '../demands';
import { type Job, type ResolvedJob, resolveJob } from '../job';
import { METRIC, type ShownUnits, formatQuantity } from '../quantity';
import type { Vec3 } from '../space';
import { pointSigmas } from '../survey';
import { type Play, playNow } from './play';
import { type Errors, type Share, type Study, USUAL_ERRORS, studySteps } from './tolerance';

/** What numbers of a job are off by: the usual, and of points what its survey says where it has one. */
export function errorsOf(raw: Job): Errors {
  const found = pointSigmas(raw);
  if (!found || found.size === 0) return USUAL_ERRORS;
  return { ...USUAL_ERRORS, points: new Map([...found].map(([id, s]): [string, Vec3] => [id, [s, s, s]])) };
}

/** A study with the play of what is fitted; null where it fails as it is. */
export interface HowExact {
  readonly study: Study;
  readonly play: Play | null;
  /** Whether the survey says how exactly points are known. */
  readonly surveyed: boolean;
}

/** How exactly the fitted strut has to be where it is, in steps: each an honest answer so far. Throws a LidwrightError as studySteps does. */
export function* howExactSteps(
  raw: Job,
  options: { readonly variants?: number; readonly seed?: number; readonly strutId?: string } = {},
): Generator<HowExact, HowExact, void> {
  const errors = errorsOf(raw);
  const play = playNow(raw, options.strutId);
  const surveyed = errors.points !== undefined;
  const steps = studySteps(resolveJob(raw), { ...options, errors });
  for (;;) {
    const { done, value: study } = steps.next();
    if (done) return { study, play, surveyed };
    yield { study, play, surveyed };
  }
}

const percent = (share: number): string => {
  const p = 100 * share;
  return `${p === 0 ? '0' : p < 0.1 ? p.toFixed(3) : p < 10 ? p.toFixed(1) : p.toFixed(0)} %`;
};
const shareWords = ({ share, interval: [low, high] }: Share): string =>
  `${percent(share)} (95 % sure: ${percent(low)} to ${percent(high)})`;

/** What of a job may be off, in words. */
export function inputWords(job: ResolvedJob, id: string): string {
  const [head = '', of] = id.split(':');
  const mass = job.masses.find((m) => m.id === of);
  const point = (at: string): string => job.points.find((p) => p.id === at)?.name ?? at;
  switch (head) {
    case 'base':
    case 'lid':
      return `the place of the ${head} ball`;
    case 'hinge':
      return `the place of ${point(of === 'a' ? job.hinge.a : job.hinge.b)}`;
    case 'mass':
      return `the mass of ${mass?.name ?? of!}`;
    case 'centre':
      return `the centre of ${mass?.name ?? of!}`;
    case 'force':
      return 'the strut’s force';
    case 'ratio':
      return 'the strut’s force ratio';
    case 'friction':
      return 'the strut’s friction';
    case 'temperature':
      return 'the temperature';
    default:
      return 'the angle at which the lid stops';
  }
}

/** A cause under this share of the failures is not spoken of. */
const TELLING = 0.1;
const MOST_CAUSES = 3;

/** The play of a fitted strut in a sentence. */
export const playWords = (play: Play, units: ShownUnits = METRIC): string => {
  const mm = (v: number): string => formatQuantity(v, 'length', units, 1);
  return `Both balls may be off their marks by ${mm(play.bothMm)} at once, each in any direction; the base ball alone by ${mm(play.baseMm)}, the lid ball alone by ${mm(play.lidMm)}.`;
};

/** The study in sentences: how many fail, of what, and what would help. */
export function studyLines(
  job: ResolvedJob,
  { study, play, surveyed }: HowExact,
  units: ShownUnits = METRIC,
): string[] {
  const failing = study.demands.filter((d) => d.failing > 0).sort((a, b) => b.share - a.share);
  return [
    play ? playWords(play, units) : 'Something fails already with everything exact: mend that first.',
    `Of ${study.variants.toLocaleString('en')} lids built with everyday errors ${study.any.failing === 0 ? 'none fails' : 'fail'}: ${shareWords(study.any)}.`,
    ...failing.map((d) => `${demandOf(d.id)!.words}: ${shareWords(d)}`),
    ...study.causes
      .filter((c) => c.gone >= TELLING)
      .slice(0, MOST_CAUSES)
      .map((c) => `If ${inputWords(job, c.id)} were exact, ${percent(c.gone)} of those that fail would not.`),
    surveyed
      ? 'Points are off by the ± of your readings where they have one, the others by everyday errors.'
      : 'Everyday errors are common practice, no source: balls ± 2 mm, hinge ± 1.5 mm, centres of mass ± 10 mm, masses ± 3 %.',
  ];
}

/** The study as other programs read it. */
export interface StudyFile {
  readonly format: 'lidwright-study';
  readonly version: 1;
  readonly variants: number;
  readonly seed: number;
  readonly failing: Share;
  readonly demands: readonly (Share & { readonly id: string })[];
  readonly causes: readonly { readonly id: string; readonly gone: number }[];
  readonly play: Play | null;
  readonly bands: readonly {
    readonly case: string;
    readonly angleDeg: readonly number[];
    readonly opening: { readonly low: readonly number[]; readonly high: readonly number[] };
    readonly closing: { readonly low: readonly number[]; readonly high: readonly number[] };
  }[];
}

/** See StudyFile; a force that is not known is null. */
export function studyFile({ study, play }: HowExact): StudyFile {
  const plain = (row: Float64Array): number[] => Array.from(row, (v) => Number(v.toFixed(3)));
  return {
    format: 'lidwright-study',
    version: 1,
    variants: study.variants,
    seed: study.seed,
    failing: study.any,
    demands: study.demands,
    causes: study.causes,
    play,
    bands: study.bands.map(({ caseId, angleDeg, opening, closing }) => ({
      case: caseId,
      angleDeg: plain(angleDeg),
      opening: { low: plain(opening.low), high: plain(opening.high) },
      closing: { low: plain(closing.low), high: plain(closing.high) },
    })),
  };
}
