import { attempt } from '../error';
import type { Finding } from '../findings';
import type { ResolvedJob } from '../job';
import type { ShownUnits } from '../quantity';
import { type Workings, workings } from '../workings';
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
  /** The cause in words; empty for the job as entered. */
  readonly name: string;
  readonly change: Change;
}

const sentence = (s: string): string => (/[.!?]$/.test(s) ? s : `${s}.`);

/** What the findings say of one state of things, each with how grave it is. */
function judge(now: Workings, change: Change): { readonly go: Go; readonly text: string }[] {
  const { job, units } = now;
  const { value: findings, error } = attempt(() => workings(changedJob(job, change), units, now).findings);
  if (error) return [{ go: 'stop', text: sentence(`The lid can't be worked out: ${error.what}`) }];
  const cases = job.loadCases.length;
  const words = (f: Finding): string =>
    sentence(
      f.everyCase || cases === 1 ? f.text : `${job.loadCases.find((c) => c.id === f.case)?.name ?? f.case}: ${f.text}`,
    );
  const grave = (f: Finding): Go =>
    f.state === 'fails' && (STOPPERS.has(f.id) || f.id.startsWith('bracket')) ? 'stop' : 'care';
  return findings
    .filter((f) => f.state === 'fails' || f.state === 'unknown')
    .filter((f, i, all) => all.findIndex((g) => g.id === f.id && g.subject === f.subject && g.state === f.state) === i)
    .map((f) => ({ go: grave(f), text: words(f) }));
}

const WORSE: Record<Go, number> = { stop: 0, care: 1, go: 2 };

/**
 * Whether it is safe to go on: the worst that the findings say of any state of things that may be true, and what the caller
 * brings (too little measured, a difference nobody can explain). What holds in every state is said once.
 */
export function safeToGoOn(
  job: ResolvedJob,
  states: readonly Plausible[],
  own: readonly { readonly go: Go; readonly reason: string }[],
  units: ShownUnits,
): Safety {
  const found = new Map<string, { go: Go; text: string; names: string[] }>();
  const now = workings(job, units);
  for (const { name, change } of states)
    for (const { go, text } of judge(now, change)) {
      const known = found.get(text);
      if (known) known.names.push(name);
      else found.set(text, { go, text, names: [name] });
    }
  const all = [
    ...own.map(({ go, reason }) => ({ go, text: reason })),
    ...[...found.values()].map(({ go, text, names }) => ({
      go,
      text:
        names.length === states.length || names.includes('')
          ? text
          : `If ${names.map((n) => n.replace(/\.$/, '').replace(/^(The|One|Hinges)/, (w) => w.toLowerCase())).join(', or ')}: ${text}`,
    })),
  ].sort((a, b) => WORSE[a.go] - WORSE[b.go]);
  return { go: all[0]?.go ?? 'go', reasons: all.map((r) => r.text) };
}
