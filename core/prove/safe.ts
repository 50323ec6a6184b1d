import { LidwrightError } from '../error';
import { type Finding, workOut } from '../findings';
import type { ResolvedJob } from '../job';
import type { ShownUnits } from '../quantity';
import { changedJob } from './apply';
import type { Change } from './types';

/** go: the figures hold. care: they hold with something to mind. stop: the prop stays in. */
export type Go = 'go' | 'care' | 'stop';

export interface Safety {
  readonly go: Go;
  /** Why, in plain words, weightiest first. */
  readonly reasons: readonly string[];
}

/** A lid may fall, a strut may come off or break, or something is torn: with one of these failing, nobody goes on. */
const STOPPERS = new Set([
  'strut-fits',
  'stays-open',
  'closed-reserve',
  'open-reserve',
  'base-joint',
  'lid-joint',
  'base-swing',
  'lid-swing',
  'rod-buckling',
  'spring-travel',
  'bracket-strength',
  'clearance',
]);

/** One state of things to be judged: the job with a likely cause in it. */
export interface Plausible {
  /** "With this cause:" in front of its reasons; empty for the job as entered. */
  readonly name: string;
  readonly change: Change;
}

const sentence = (s: string): string => (/[.!?]$/.test(s) ? s : `${s}.`);

/** What the findings say of one state of things. */
function judge(job: ResolvedJob, { name, change }: Plausible, units: ShownUnits): Safety {
  const say = (text: string): string => sentence(name === '' ? text : `${sentence(name)} Then: ${text}`);
  let findings: readonly Finding[];
  try {
    findings = workOut(changedJob(job, change), units).findings;
  } catch (error) {
    if (!(error instanceof LidwrightError)) throw error;
    return { go: 'stop', reasons: [say(`the lid can't be worked out: ${error.what}`)] };
  }
  const cases = job.loadCases.length;
  const words = (f: Finding): string =>
    f.everyCase || cases === 1 ? f.text : `${job.loadCases.find((c) => c.id === f.case)?.name ?? f.case}: ${f.text}`;
  // the same finding in five load cases is one reason
  const first = (list: readonly Finding[]): Finding[] =>
    list.filter((f, i) => list.findIndex((g) => g.id === f.id && g.subject === f.subject) === i);
  const fails = findings.filter((f) => f.state === 'fails');
  const stop = first(fails.filter((f) => STOPPERS.has(f.id) || f.id.startsWith('bracket')));
  const care = first(fails.filter((f) => !stop.some((g) => g.id === f.id) && !STOPPERS.has(f.id)));
  const unknown = first(findings.filter((f) => f.state === 'unknown'));
  const reasons = [...stop, ...care, ...unknown].map((f) => say(words(f)));
  return { go: stop.length > 0 ? 'stop' : care.length + unknown.length > 0 ? 'care' : 'go', reasons };
}

const WORSE: Record<Go, number> = { stop: 0, care: 1, go: 2 };

/**
 * Whether it is safe to go on: the worst that the findings say of any state of things that may be true, with the reasons
 * that the caller brings (too little measured, a difference nobody can explain) in front.
 */
export function safeToGoOn(
  job: ResolvedJob,
  states: readonly Plausible[],
  own: readonly { readonly go: Go; readonly reason: string }[],
  units: ShownUnits,
): Safety {
  const all: Safety[] = [
    ...own.map(({ go, reason }) => ({ go, reasons: [reason] })),
    ...states.map((state) => judge(job, state, units)),
  ];
  const sorted = [...all].sort((a, b) => WORSE[a.go] - WORSE[b.go]);
  return { go: sorted[0]?.go ?? 'go', reasons: [...new Set(sorted.flatMap((s) => s.reasons))] };
}
