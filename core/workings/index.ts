/**
 * What follows from a job, each thing once.
 *
 * `workingsOf(job, units, before)` is cheap: nothing is worked out until it is asked for (`w.frame`, `w.tables`,
 * `w.quickFindings` …). What the workings before were made from alike is the same object again, so a page compares results by
 * identity and works out nothing for a title or a photo's opacity. Nothing that was given out is ever written again.
 *
 * A page, after every edit and at every move of a drag:
 *   w = workingsOf(job, units, w)               // `w.trouble` says why there are no results, if there are none
 *   show(w.findingsSoFar); w.missing            // names of slow checks that are still to be made, "being worked out"
 *   ask a worker when the pointer rests:  answers = slowAnswers(workingsOf(job, units))   // plain data
 *   asked.take(answers); w.learn(asked)         // then `w.findingsSoFar` holds them, and later edits keep what still holds
 * The advice comes after them the same way (`adviceInSteps`, `w.takeAdvice`).
 * A command just asks for `w.advised`, which waits for all of it; whoever judges asks for `w.findings`.
 *
 * Rooms above declare parts of their own with `part` (see core/choose) and ask for them with `w.of(part, key)`.
 */
import type { Advice } from '../advice';
import type { BracketIssue } from '../bracket';
import { attempt, type Issue } from '../error';
import { type Finding, advisoryOnly } from '../findings';
import type { Job, ResolvedJob } from '../job';
import { METRIC, type ShownUnits } from '../quantity';
import type { Assessment } from '../strength';
import type { Frame, Kinematics, LetGo, Plan, TravelTable } from '../travel';
import { Parts } from './parts';
import * as standard from './standard';

export { type Part, freezeWorkings, part } from './parts';

/** What slow parts come to, as plain data for a message between threads. */
export interface SlowAnswers {
  readonly assessments: readonly Assessment[];
  readonly checks: Readonly<Record<string, readonly Finding[]>>;
}

/** See the top of this file. Getters throw a LidwrightError where the job can't be worked out. */
export class Workings extends Parts {
  get frame(): Frame {
    return this.of(standard.frame);
  }

  get plans(): readonly Plan[] {
    return this.of(standard.plans);
  }

  /** One table a plan, same order. */
  get tables(): readonly TravelTable[] {
    return this.of(standard.tables);
  }

  /** What the lid does when it is let go; one a plan, same order. */
  get letGos(): readonly LetGo[] {
    return this.of(standard.letGos);
  }

  /** What all load cases share over the travel. */
  get kinematics(): Kinematics {
    return this.of(standard.poses);
  }

  /** Every check's findings, in the order of the checks. */
  get findings(): readonly Finding[] {
    return this.of(standard.findings);
  }

  /** The findings with what may be done about those that fail: changes that were tried on the job. Takes long. */
  get advised(): readonly Finding[] {
    return this.of(standard.advised);
  }

  /** What can be found while a drag goes on; findings marked `more` lack advice. */
  get quickFindings(): readonly Finding[] {
    return this.of(standard.quickFindings);
  }

  /** Every check's findings without the advice that takes long, and without the strength of brackets: see `assessment`. */
  get unadvised(): readonly Finding[] {
    return this.of(standard.unadvised);
  }

  /** What can be judged, without advice: every strength of a bracket by itself. Of one check, or of all. */
  judged(check?: string): readonly Finding[] {
    return check === undefined
      ? this.of(standard.judged)
      : advisoryOnly(this.job.loadCases, this.of(standard.judgedBy(check)));
  }

  /** The quick findings, and of the slow ones and their advice what is known. */
  get findingsSoFar(): readonly Finding[] {
    // parts that were slow may be known by now
    return this.known(standard.advised) ?? this.again(standard.findingsSoFar);
  }

  /** Names of the checks whose findings are not known yet; when all are, whether ADVICE is. */
  get missing(): readonly string[] {
    const missing = standard.FOUND.filter(({ full }) => this.known(full) === undefined).map(({ name }) => name);
    return missing.length === 0 && this.known(standard.advised) === undefined ? [ADVICE] : missing;
  }

  /** Why the job can't be worked out; empty where it can. */
  get trouble(): readonly Issue[] {
    return attempt(() => this.computed()).error?.issues ?? [];
  }

  /** Itself, once it is sure that there are results. Throws the LidwrightError that says why there are none. */
  computed(): this {
    this.of(standard.quickFindings);
    return this;
  }

  /** What stands against making a bracket. */
  issues(bracketId: string): readonly BracketIssue[] {
    return this.of(standard.issues, standard.kindOf(this, bracketId));
  }

  /** Strength of a bracket: slow, see `known`. */
  assessment(bracketId: string): Assessment {
    return this.of(standard.assessment, bracketId);
  }

  /** The same where it is known already. */
  knownAssessment(bracketId: string): Assessment | undefined {
    return this.known(standard.assessment, bracketId);
  }

  /** Takes what a worker made of the same job. */
  take(answers: SlowAnswers): void {
    for (const found of answers.assessments)
      if (standard.kindOf(this, found.bracketId) === found.bracketId)
        this.give(standard.kindAssessment, found.bracketId, found);
    for (const { name, full } of standard.FOUND) {
      const found = answers.checks[name];
      if (found) this.give(full, '', found);
    }
  }

  /** Takes the advice that a worker found for the same job. */
  takeAdvice(advice: readonly Advice[]): void {
    this.give(standard.advice, '', advice);
  }
}

/** Stands among what is missing for the advice. */
export const ADVICE = 'advice';

/** What is to be done about the findings, in steps: yields the share done. Throws where the job can't be worked out. */
export const adviceInSteps = (w: Workings): Generator<number, readonly Advice[]> => standard.adviceInSteps(w);

/** Everything that is slow, of the whole job, but for advice. Throws a LidwrightError where the job can't be worked out. */
export function slowAnswers(w: Workings): SlowAnswers {
  const slow = standard.FOUND.filter((check) => check.slow(w.job));
  return {
    assessments: w.of(standard.assessments),
    checks: Object.fromEntries(slow.map(({ name, full }) => [name, w.of(full)])),
  };
}

/** Workings of a job as in its file. */
export const workingsOf = (job: Job, units: ShownUnits = METRIC, before?: Workings): Workings =>
  new Workings({ raw: job }, units, before);

/** Workings of a job whose numbers are worked out, or changed since. */
export const workings = (job: ResolvedJob, units: ShownUnits = METRIC, before?: Workings): Workings =>
  new Workings({ job }, units, before);
