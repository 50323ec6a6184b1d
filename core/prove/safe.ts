import { attempt } from '../error';
import type { Finding } from '../findings';
import type { ResolvedJob } from '../job';
import type { ShownUnits } from '../quantity';
import { type Workings, workings } from '../workings';
import { changedJob } from './apply';
import type { Measured } from './measured';

/** go: the figures hold. care: they hold with something to mind. stop: the prop stays in. */
export type Go = 'go' | 'care' | 'stop';

export interface Safety {
  readonly go: Go;
  /** Why, in plain words, weightiest first. */
  readonly reasons: readonly string[];
}

/** A demand on the fitted thing as measured, with the best-supported cause: how far inside its limit, in the finding's unit. */
export interface MeasuredDemand {
  /** The finding's id, subject and, where each load case has its own, case. */
  readonly key: string;
  readonly margin: number;
  /** Half the 95 % band: the low end is margin − plusMinus. */
  readonly plusMinus: number;
}

/** A lid may fall or throw itself open, a strut may come off or break, or something is torn: with one failing, nobody goes on. */
const STOPPERS = new Set([
  ...['strut-fits', 'closed-reserve', 'open-reserve', 'rod-buckling', 'socket-pull', 'spring-travel'],
  ...['stays-open', 'let-go-open', 'let-go-shut', 'grip-at-shut', 'latch-holds', 'hinge-load'],
  'hinge-screws',
  ...['base-joint', 'lid-joint', 'base-swing', 'lid-swing'],
]);
const isStopper = (id: string): boolean => STOPPERS.has(id) || /^(bracket|clearance)/.test(id);

/** Standard deviations to either end of a 95 % band. */
const BAND = 1.96;

/** One state of things to be judged: the fitted thing as measured, if this is what is wrong. */
export interface Plausible {
  /** The cause in words; empty where nothing is wrong. */
  readonly name: string;
  readonly measured: Measured;
}

/** What is said of one finding in one state of things. */
interface Said {
  readonly key: string;
  readonly go: Go;
  readonly text: string;
}

const sentence = (s: string): string => (/[.!?]$/.test(s) ? s : `${s}.`);

/** Findings by what tells them apart: id and subject, and the load case where each has its own. */
function keyed(findings: readonly Finding[]): Map<string, Finding> {
  const plain = (f: Finding): string => `${f.id}|${f.subject}`;
  const count = new Map<string, number>();
  for (const f of findings) count.set(plain(f), (count.get(plain(f)) ?? 0) + 1);
  return new Map(findings.map((f) => [count.get(plain(f)) === 1 ? plain(f) : `${plain(f)}|${f.case}`, f]));
}

/** How far inside its limit each demand is. */
function marginsOf(w: Workings): Map<string, number> {
  const margins = new Map<string, number>();
  for (const [key, { margin, caution }] of keyed(w.unadvised))
    if (margin !== null && !caution) margins.set(key, margin);
  for (const { id } of w.job.brackets)
    for (const { id: check, safetyFactor, gravity } of w.assessment(id).results)
      if (gravity === 'fails' && Number.isFinite(safetyFactor))
        margins.set(`bracket-strength-${check}|${id}`, safetyFactor - 1);
  return margins;
}

/** A job whose states are judged one after the other; slopes over the everyday doubts are worked out once. */
class Judge {
  private readonly now: Workings;
  private doubtSlopes: ReadonlyMap<string, number>[] | null = null;

  constructor(
    private readonly job: ResolvedJob,
    units: ShownUnits,
  ) {
    this.now = workings(job, units);
  }

  private at(measured: Measured, values: ArrayLike<number>): Workings {
    return workings(changedJob(this.job, measured.at(values)), this.now.units, this.now);
  }

  /** How each margin changes with one of the values, per unit; a margin that isn't there on the way counts as even. */
  private slope(measured: Measured, from: ReadonlyMap<string, number>, k: number): ReadonlyMap<string, number> {
    const step = Math.sqrt(measured.covariance.get(k, k));
    const there = measured.best.map((v, i) => (i === k ? v + step : v));
    const { value: to } = attempt(() => marginsOf(this.at(measured, there)));
    return new Map([...from].map(([key, margin]) => [key, ((to?.get(key) ?? margin) - margin) / step]));
  }

  /** Demands with their bands, and what is to be said of the state: at its best values, and at the low end of each demand. */
  state({ measured }: Plausible): { readonly said: readonly Said[]; readonly demands: readonly MeasuredDemand[] } {
    const { best, own, covariance } = measured;
    const { value: found, error } = attempt(() => {
      const w = this.at(measured, best);
      return { findings: keyed(w.findings), margins: marginsOf(w) };
    });
    if (error)
      return {
        said: [{ key: 'job', go: 'stop', text: sentence(`The lid can't be worked out: ${error.what}`) }],
        demands: [],
      };
    const { findings, margins } = found;
    const of = (k: number): ReadonlyMap<string, number> => this.slope(measured, margins, k);
    this.doubtSlopes ??= Array.from({ length: best.length - own }, (_, k) => of(own + k));
    const slopes = [...Array.from({ length: own }, (_, k) => of(k)), ...this.doubtSlopes];
    const said = [...findings].flatMap(([key, f]) => this.said(key, f));
    const demands = [...margins].map(([key, margin]): MeasuredDemand => {
      const g = slopes.map((slope) => slope.get(key) ?? 0);
      // C·g: how the values go as this margin falls
      const way = g.map((_, i) => g.reduce((sum, v, j) => sum + covariance.get(i, j) * v, 0));
      const sigma = Math.sqrt(
        Math.max(
          0,
          way.reduce((sum, v, i) => sum + v * g[i]!, 0),
        ),
      );
      if (margin >= 0 && margin < BAND * sigma) {
        const low = best.map((v, i) => v - (BAND * way[i]!) / sigma);
        const { value } = attempt(() => {
          const w = this.at(measured, low);
          return keyed(key.startsWith('bracket-strength') ? w.findings : w.unadvised).get(key);
        });
        if (value?.state === 'fails')
          said.push(...this.said(key, value, 'At the low end of what was measured (95 %): '));
      }
      return { key, margin, plusMinus: BAND * sigma };
    });
    return { said, demands };
  }

  private said(key: string, f: Finding, lead = ''): Said[] {
    if (f.state === 'holds' || f.caution) return [];
    const name = this.job.loadCases.find((c) => c.id === f.case)?.name ?? f.case;
    const named = f.everyCase || this.job.loadCases.length === 1 || f.text.includes(name) ? '' : `${name}: `;
    const go = f.state === 'fails' && isStopper(f.id) ? 'stop' : 'care';
    return [{ key: `${key}|${f.state}`, go, text: `${lead}${named}${sentence(f.text)}` }];
  }
}

const WORSE: Record<Go, number> = { stop: 0, care: 1, go: 2 };

/**
 * Whether it is safe to go on: the worst that the findings say of any state of things that may be true, each as it was measured,
 * judged at the low end of its 95 % band, and what the caller brings (too little measured, a difference nobody can explain).
 * What holds in every state is said once. Demands are those of the first state.
 */
export function safeToGoOn(
  job: ResolvedJob,
  states: readonly Plausible[],
  own: readonly { readonly go: Go; readonly reason: string }[],
  units: ShownUnits,
): { readonly safety: Safety; readonly demands: readonly MeasuredDemand[] } {
  const found = new Map<string, { go: Go; text: string; names: string[] }>();
  const judge = new Judge(job, units);
  const judged = states.map((state) => ({ ...state, ...judge.state(state) }));
  for (const { name, said } of judged)
    for (const { key, go, text } of said) {
      const known = found.get(key);
      if (known) known.names.push(name);
      else found.set(key, { go, text, names: [name] });
    }
  const all = [
    ...own.map(({ go, reason }) => ({ go, text: reason })),
    ...[...found.values()].map(({ go, text, names }) => ({
      go,
      text:
        names.length === states.length || names.includes('')
          ? text
          : `If ${names.map((n) => n.replace(/\.$/, '').replace(/^(The|One|Hinges|Two)/, (w) => w.toLowerCase())).join(', or ')}: ${text}`,
    })),
  ].sort((a, b) => WORSE[a.go] - WORSE[b.go]);
  return {
    safety: { go: all[0]?.go ?? 'go', reasons: [...new Set(all.map((r) => r.text))] },
    demands: judged[0]?.demands ?? [],
  };
}
