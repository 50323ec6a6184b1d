/**
 * What may be done about a finding: changes that were tried on the job. One is offered only where the finding's value moves the
 * right way, and what else it breaks is said beside it. Nothing here knows beforehand what helps.
 */
import { type Demand, demandKey, demandOf, spareOf } from '../demands';
import { attempt } from '../error';
import { type Finding, type Proposal, valueText } from '../findings';
import type { ResolvedJob } from '../job';
import type { ShownUnits } from '../quantity';
import { type Change, type Knob, OWN, type Way, changed, waysFor } from './changes';

export { type Change, changed } from './changes';

/** What a changed job comes to. */
export interface Look {
  /** What one check finds. */
  readonly of: (check: string) => readonly Finding[];
  /** All that can be judged, every strength of a bracket among it. */
  readonly all: () => readonly Finding[];
}

/** A finding that fails with a change and did not, or gets worse, or is no longer known. */
export interface Broken {
  readonly id: string;
  readonly subject: string;
  readonly how: 'fails' | 'worse' | 'unknown' | 'watch';
  /** The worst of it over the load cases where it breaks. */
  readonly worst: Finding;
  readonly cases: number;
}

/** A change that was tried and moves a finding the right way. */
export interface Offer extends Change {
  readonly kind: string;
  /** The finding no longer fails, nor is beyond its measure. */
  readonly clears: boolean;
  /** What it comes to, by `demandKey`; a finding that isn't there any more has none. */
  readonly values: ReadonlyMap<string, number>;
  readonly breaks: readonly Broken[];
}

/** Findings of one demand of one thing, in the load cases where it fails, and what was found for them. */
export interface Advice {
  readonly findings: readonly Finding[];
  readonly offers: readonly Offer[];
  readonly tried: number;
  /** There was more to try than was tried. */
  readonly spent: boolean;
}

/** So many trials a finding at most; of checks that take long. */
export const MOST_TRIALS = 36;
const MOST_SLOW_TRIALS = 16;
const SLOW = /^(clearance-|room-|free-opening|bracket-strength)/;
/** So many changes are offered, and looked for. */
const MOST_OFFERS = 2;
/**
 * All trials of a job together cost so much at most, some seconds' work. One costs a unit for each strut and the lid in each load
 * case, and for each thing whose gaps must be looked at again as much as GAP of these; over a long travel more.
 */
const MOST_WORK = 16_000;
const GAP = 60;
/** Two things that stand in each other are looked at so much longer. */
const CLASH = 18;
const USUAL_TRAVEL_DEG = 80;
/** A knob is turned so often after its first step. */
const MOST_TURNS = 4;
/** A step beyond what a straight line asks for: what is rounded or bends must still hold. */
const BEYOND = 1.05;
/** Changes smaller than this share are none. */
const SAME = 1e-7;

/** Watched findings that get advice, too: nobody set a limit, but they can hurt. */
const WATCHED = new Set(['let-go-open', 'let-go-shut', 'grip-at-shut', 'stays-shut', 'socket-pull']);
/** Findings that a change can take away for good. */
const MAY_GO = new Set(['socket-pull']);

/** Whether a change is looked for. */
export const wantsAdvice = (f: Finding): boolean =>
  !f.caution &&
  f.value !== null &&
  demandOf(f.id) !== undefined &&
  (f.state === 'fails' ||
    (f.state === 'watch' && (spareOf(f) ?? 0) < 0 && (WATCHED.has(f.id) || f.id.startsWith('clearance-'))));

/** What a trial makes of the findings that are to be mended. */
interface Tried {
  readonly change: Change;
  readonly spares: readonly number[];
  readonly least: number;
  readonly better: boolean;
  readonly clears: boolean;
  readonly values: ReadonlyMap<string, number>;
}

const better = (now: number, then: number): boolean => then > now + SAME * Math.max(1, Math.abs(now));

/** What trials may still cost. */
class Budget {
  private left = MOST_WORK;
  private readonly quick: number;
  private readonly gaps: number;

  constructor({ loadCases, struts, obstacles, brackets, outline, travel }: ResolvedJob, clashes: boolean) {
    const long = Math.max(1, travel.openDeg / USUAL_TRAVEL_DEG);
    this.quick = long * loadCases.length * (struts.length + 1);
    this.gaps =
      long ** 3 *
      GAP *
      (clashes ? CLASH : 1) *
      struts.length *
      (obstacles.length + 2 * brackets.length + Math.min(1, outline.length));
  }

  /** Whether one more trial can be paid; if so it is. */
  pay(gaps: boolean): boolean {
    const cost = this.quick + (gaps ? this.gaps : 0);
    if (cost > this.left) return false;
    this.left -= cost;
    return true;
  }
}

/** Looks for what mends some findings of one check. */
class Search {
  tried = 0;
  /** There is more to try than may be. */
  spent = false;
  private readonly before: readonly number[];

  constructor(
    private readonly job: ResolvedJob,
    private readonly check: string,
    readonly findings: readonly Finding[],
    private readonly look: (job: ResolvedJob) => Look,
    private readonly budget: Budget,
  ) {
    this.before = findings.map((f) => spareOf(f)!);
  }

  /** Null where the change can't be made, or leaves it open what comes of it. */
  try(change: Change): Tried | null {
    const slow = SLOW.test(this.findings[0]!.id);
    this.spent ||= this.tried >= (slow ? MOST_SLOW_TRIALS : MOST_TRIALS) || !this.budget.pay(slow);
    if (this.spent) return null;
    this.tried++;
    const then = attempt(() => this.look(changed(this.job, change)).of(this.check)).value;
    if (!then) return null;
    const found = new Map(then.map((f) => [demandKey(f), f]));
    const values = new Map<string, number>();
    const spares: number[] = [];
    let [clears, gains] = [true, true];
    for (const f of this.findings) {
      const after = found.get(demandKey(f));
      const spare = after ? spareOf(after) : MAY_GO.has(f.id) ? Infinity : null;
      if (spare === null || after?.state === 'unknown') return null;
      spares.push(spare);
      clears &&= after?.state !== 'fails' && spare >= 0;
      if (!after) continue;
      values.set(demandKey(f), after.value!);
      // with another limit the same value would look better
      const gain = demandOf(f.id)!.better === 'more' ? 1 : -1;
      gains &&= better(gain * f.value!, gain * after.value!);
    }
    return {
      ...{ change, spares, clears, values, least: Math.min(...spares) },
      better: gains && spares.every((spare, i) => better(this.before[i]!, spare)),
    };
  }

  /** The smallest turn of a knob found that mends, or the one that comes nearest; null where it helps nowhere. */
  *turn(knob: Knob): Generator<void, Tried | null> {
    const { now, low, high, grain } = knob;
    const size = (wanted: number): number => {
      const whole = wanted > now ? Math.ceil(wanted / grain - 1e-9) : Math.floor(wanted / grain + 1e-9);
      const [least, most] = [Math.ceil(low / grain) * grain, Math.floor(high / grain) * grain];
      return least > most ? now : Math.min(Math.max(whole * grain, least), most);
    };
    const from = Math.min(...this.before);
    for (const step of [knob.step, -knob.step, knob.wide, -knob.wide]) {
      const first = size(now + step);
      if (first === now || this.spent) continue;
      yield;
      let best = this.try(knob.change(first));
      if (!best?.better) continue;
      let [at, spare, last, before] = [first, best.least, now, from];
      // oxlint-disable-next-line typescript/no-unnecessary-condition -- each try may spend the last of it
      for (let turns = 0; turns < MOST_TURNS && !best.clears && !this.spent; turns++) {
        const slope: number = (spare - before) / (at - last);
        const next = size(slope === 0 ? now + 3 * (at - now) : at - (BEYOND * spare) / slope);
        // a line that bends back says nothing more
        if (next === at || next > now !== first > now || !Number.isFinite(next)) break;
        yield;
        const found = this.try(knob.change(next));
        if (!found?.better || found.least <= best.least) break;
        [last, before, at, spare, best] = [at, spare, next, found.least, found];
      }
      return best;
    }
    return null;
  }
}

/** What a changed job breaks that the job itself does not, findings of one demand and thing together. */
export function breaksOf(before: readonly Finding[], after: readonly Finding[]): Broken[] {
  const known = new Map(before.map((f) => [demandKey(f), f]));
  const broken = new Map<string, Broken>();
  for (const f of after) {
    const old = known.get(demandKey(f));
    const how = howBroken(old, f);
    if (how === null) continue;
    const key = `${f.id}|${f.subject}|${how}`;
    const had = broken.get(key);
    const worst = had && (spareOf(had.worst) ?? 0) <= (spareOf(f) ?? 0) ? had.worst : f;
    broken.set(key, { id: f.id, subject: f.subject, how, worst, cases: (had?.cases ?? 0) + 1 });
  }
  return [...broken.values()];
}

function howBroken(old: Finding | undefined, f: Finding): Broken['how'] | null {
  if (f.caution) return null;
  if (f.state === 'fails') {
    if (old?.state !== 'fails') return 'fails';
    const [was, is] = [spareOf(old), spareOf(f)];
    return was !== null && is !== null && better(is, was) ? 'worse' : null;
  }
  if (f.state === 'unknown') return old && old.state !== 'unknown' && demandOf(f.id) ? 'unknown' : null;
  const much = WATCHED.has(f.id) && f.state === 'watch';
  return much && old?.state === 'holds' ? 'watch' : null;
}

/** The order of offers: what mends and breaks nothing first. A watch that comes up is no breakage, but weighs. */
const rankOf = ({ clears, breaks }: Offer): number =>
  (clears ? 0 : 4) + (breaks.some((b) => b.how !== 'watch') ? 2 : breaks.length > 0 ? 1 : 0);

/** What is worth saying: beside something that mends and breaks nothing, nothing that breaks more; else the least harm. */
function worthSaying(offers: readonly Offer[]): readonly Offer[] {
  const ranked = offers
    .map((offer, i) => ({
      offer,
      i,
      rank: rankOf(offer),
      breaks: offer.breaks.filter((b) => b.how !== 'watch').length,
    }))
    .sort((a, b) => a.rank - b.rank || a.breaks - b.breaks || a.i - b.i);
  const clean = (ranked[0]?.rank ?? 9) <= 1;
  return ranked
    .filter(({ rank, breaks }, i) => i === 0 || (clean ? rank <= 1 : breaks <= Math.max(2, ranked[0]!.breaks)))
    .slice(0, MOST_OFFERS)
    .map(({ offer }) => offer);
}

/** The job, what was found of it check by check, and how a changed one is looked at. */
export interface Case {
  readonly job: ResolvedJob;
  readonly found: ReadonlyMap<string, readonly Finding[]>;
  readonly units: ShownUnits;
  readonly look: (job: ResolvedJob) => Look;
}

function* offersFor(
  { job, units, look }: Case,
  check: string,
  findings: readonly Finding[],
  now: readonly Finding[],
  budget: Budget,
): Generator<void, Advice> {
  const search = new Search(job, check, findings, look, budget);
  const worst = findings.reduce((a, b) => (spareOf(b)! < spareOf(a)! ? b : a));
  const best = new Map<string, { readonly tried: Tried; readonly way: Way }>();
  const offers: Offer[] = [];
  const take = function* (tried: Tried, way: Way): Generator<void, void> {
    const same = offers.findIndex((o) => o.kind === way.kind);
    if (same >= 0 && rankOf(offers[same]!) === 0) return;
    if (!budget.pay(true)) return;
    yield;
    const all = attempt(() => look(changed(job, tried.change)).all()).value;
    if (!all) return;
    const offer: Offer = {
      ...{ ...tried.change, kind: way.kind, clears: tried.clears, values: tried.values },
      breaks: breaksOf(now, all),
    };
    if (same < 0) offers.push(offer);
    else if (rankOf(offer) < rankOf(offers[same]!)) offers[same] = offer;
  };
  for (const way of attempt(() => waysFor(job, worst, units)).value ?? []) {
    if (search.spent || offers.filter((o) => rankOf(o) === 0).length >= MOST_OFFERS) break;
    let tried: Tried | null;
    if ('change' in way && typeof way.change === 'function') tried = yield* search.turn(way as Knob);
    else {
      yield;
      tried = search.try(way.change as Change);
    }
    if (!tried?.better) continue;
    const had = best.get(way.kind);
    // of the ways of one kind that only help, the one that helps most
    if (had && !tried.clears && had.tried.least >= tried.least) continue;
    best.set(way.kind, { tried, way });
    if (tried.clears) yield* take(tried, way);
  }
  // what helps but does not mend is offered where too little mends
  if (offers.length < MOST_OFFERS)
    for (const { tried, way } of [...best.values()].filter((b) => !b.tried.clears).slice(0, MOST_OFFERS))
      yield* take(tried, way);
  return { findings, offers: worthSaying(offers), tried: search.tried, spent: search.spent };
}

/** Findings that one change must mend together: of one demand and thing, over the load cases. */
function groupsOf(found: Case['found']): { readonly check: string; readonly findings: readonly Finding[] }[] {
  const groups = new Map<string, { readonly check: string; readonly findings: Finding[] }>();
  for (const [check, findings] of found)
    for (const f of findings.filter(wantsAdvice)) {
      const key = `${check}|${f.id}|${f.subject}`;
      if (!groups.has(key)) groups.set(key, { check, findings: [] });
      groups.get(key)!.findings.push(f);
    }
  return [...groups.values()];
}

/** Finds advice for everything that wants it; yields between trials, the share done. Deterministic. */
export function* adviceSteps(given: Case): Generator<number, readonly Advice[]> {
  const groups = groupsOf(given.found);
  if (groups.length === 0) return [];
  const now = given.look(given.job).all();
  const clashes = now.some((f) => f.id.startsWith('clearance-') && f.value !== null && f.value <= 0);
  const budget = new Budget(given.job, clashes);
  const advice: Advice[] = [];
  const run = function* (steps: Generator<void, Advice>, share: number): Generator<number, Advice> {
    for (;;) {
      const step = steps.next();
      if (step.done) return step.value;
      yield share;
    }
  };
  for (const [i, { check, findings }] of groups.entries()) {
    const share = i / groups.length;
    const all = yield* run(offersFor(given, check, findings, now, budget), share);
    if (all.offers.length > 0 || findings.length === 1) advice.push(all);
    // what no change mends together may be mended one by one
    else for (const f of findings) advice.push(yield* run(offersFor(given, check, [f], now, budget), share));
  }
  return advice;
}

/** The findings of a job with what was found for them: in words, and the best as what one click applies. */
export function advised(
  given: Pick<Case, 'job' | 'units'>,
  findings: readonly Finding[],
  advice: readonly Advice[],
): Finding[] {
  const by = new Map(advice.flatMap((a) => a.findings.map((f) => [demandKey(f), a] as const)));
  const words = new Words(given.job, given.units);
  return findings.map((f): Finding => {
    const found = wantsAdvice(f) ? by.get(demandKey(f)) : undefined;
    if (!found) return f;
    const { proposal: _own, ...kept } = f;
    const [first] = found.offers;
    const [setting, ...more] = first?.settings ?? [];
    const proposal: Proposal | null = setting
      ? { ...setting, label: first!.label, ...(more.length > 0 ? { more } : {}) }
      : null;
    const said = words.advice(f, found, findings);
    return { ...kept, advice: [f.advice, said].filter((s) => s !== '').join(' '), ...(proposal ? { proposal } : {}) };
  });
}

const isWorst = (f: Finding, all: readonly Finding[]): boolean =>
  all.every((other) => (spareOf(other) ?? 0) >= (spareOf(f) ?? 0));

/** Says what was tried. */
class Words {
  constructor(
    private readonly job: ResolvedJob,
    private readonly units: ShownUnits,
  ) {}

  private thing(id: string, subject: string): string {
    const demand: Demand | undefined = demandOf(id);
    const named = (list: readonly { readonly id: string; readonly name?: string | undefined }[], key: string) => {
      const i = list.findIndex((item) => item.id === key);
      return i < 0 ? null : (list[i]!.name ?? key);
    };
    const strut = this.job.struts.length > 1 ? named(this.job.struts, subject) : null;
    if (id.startsWith('clearance-')) {
      const to = id.replace(/^clearance-(joint-)?/, '');
      return `clearance of ${named(this.job.obstacles, to) ?? named(this.job.brackets, to) ?? `the ${to}`}${strut ? ` to ${strut}` : ''}`;
    }
    const bracket = id.startsWith('bracket') ? named(this.job.brackets, subject) : null;
    return `${demand?.words ?? id}${(bracket ?? strut) ? ` (${bracket ?? strut})` : ''}`;
  }

  private broken({ id, subject, how, worst, cases }: Broken): string {
    const name = worst.everyCase ? null : (this.job.loadCases.find((c) => c.id === worst.case)?.name ?? worst.case);
    const at =
      name === null || this.job.loadCases.length === 1
        ? ''
        : cases > 1
          ? `, in ${cases} load cases, worst in ${name}`
          : ` in ${name}`;
    const { value, limit, unit } = worst;
    const measure = limit ?? demandOf(id)?.measure ?? null;
    const figures =
      value === null
        ? ''
        : `: ${valueText(value, unit, this.units)}${measure === null ? '' : ` (limit ${valueText(measure, unit, this.units)})`}`;
    const verb = { fails: 'fails', worse: 'gets worse', unknown: 'is not known', watch: 'is to be watched' }[how];
    return `${this.thing(id, subject)} ${verb}${at}${how === 'unknown' ? '' : figures}`;
  }

  private offer(f: Finding, { kind, label, clears, values, breaks }: Offer): string {
    const value = values.get(demandKey(f));
    const gives =
      value === undefined
        ? 'then it is no question any more'
        : f.id === 'strut-fits' && clears
          ? 'then it fits'
          : `that gives ${valueText(value, f.unit, this.units)}`;
    const else_ =
      breaks.length === 0 ? 'nothing else breaks' : `but then ${breaks.map((b) => this.broken(b)).join('; ')}`;
    return `${kind === OWN ? '' : `${label}: `}${gives}${clears ? '' : ', better but not enough by itself'}; ${else_}.`;
  }

  advice(f: Finding, { findings, offers, tried, spent }: Advice, all: readonly Finding[]): string {
    // of findings alike in several load cases the worst says all
    const said = isWorst(f, findings) ? offers : offers.slice(0, 1);
    if (offers.length > 0) return said.map((o, i) => `${i === 0 ? 'Tried: ' : 'Or: '}${this.offer(f, o)}`).join(' ');
    const out = f.id !== 'strut-fits' && all.some((g) => g.id === 'strut-fits' && g.state === 'fails');
    const none =
      tried > 0
        ? `None of ${tried} changes tried on this job helps${spent ? ', and there is more to try than is tried here' : ''}`
        : spent
          ? 'There is too much in this job to try what helps here'
          : 'There is nothing here to try';
    return `${none}${out ? ': a strut is out of its stroke, mend that first' : ''}.`;
  }
}
