// Workings that keep what the job before had alike come to what fresh ones come to, in every field, whatever is edited.
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { LidwrightError } from '../../../core/error';
import {
  type History,
  type Job,
  beginGesture,
  cancelGesture,
  commit,
  endGesture,
  moveGesture,
  redo,
  resolution,
  resolveJob,
  setPhoto,
  setValue,
  startHistory,
  undo,
} from '../../../core/job';
import { METRIC, type ShownUnits } from '../../../core/quantity';
import { type Workings, freezeWorkings, slowAnswers, workingsOf } from '../../../core/workings';
import { jobAt } from '../../support/files';
import { DEEP, runs } from '../../support/tier';
import { Draw, EDITS, MODULES, NO_EDITS, Nothing, everything } from './edits';

const boat = jobAt('tests/fixtures/jobs/workboat-hatch.lidjob');
const small = everything(boat.brackets![0]!);
const NAMES = Object.keys(EDITS);
const OTHER_UNITS: ShownUnits = { ...METRIC, length: 'in', force: 'lbf' };

beforeAll(() => freezeWorkings(true));
afterAll(() => freezeWorkings(false));

/** The edited job; null where the edit is refused, or there is nothing for it in the job. */
function edited(job: Job, name: string, draw: Draw): Job | null {
  try {
    return EDITS[name]!(job, draw);
  } catch (error) {
    if (error instanceof LidwrightError || error instanceof Nothing) return null;
    throw error;
  }
}

/** A value, or the issues that stand in its place. */
function outcome(get: () => unknown): unknown {
  try {
    return get();
  } catch (error) {
    if (error instanceof LidwrightError) return error.issues;
    throw error;
  }
}

/** Everything that workings say of a job, slow parts last. */
const fields = (w: Workings): Record<string, unknown> => ({
  trouble: w.trouble,
  job: outcome(() => w.job),
  frame: outcome(() => w.frame),
  plans: outcome(() => w.plans),
  kinematics: outcome(() => w.kinematics),
  tables: outcome(() => w.tables),
  quick: outcome(() => w.quickFindings),
  issues: outcome(() => w.job.brackets.map((b) => w.issues(b.id))),
  assessments: outcome(() => w.job.brackets.map((b) => w.assessment(b.id))),
  findings: outcome(() => w.findings),
  soFar: outcome(() => w.findingsSoFar),
  missing: outcome(() => w.missing),
});

/** Typed arrays can't be frozen: what they held when they were given out is held against what they hold at the end. */
class Sums {
  private readonly seen = new Map<Float64Array, number>();
  private static sum(values: Float64Array): number {
    let sum = 0;
    values.forEach((v, i) => (sum += Number.isFinite(v) ? v * (1 + (i % 7)) : i));
    return sum;
  }
  note(value: unknown): void {
    if (value instanceof Float64Array) {
      if (!this.seen.has(value)) this.seen.set(value, Sums.sum(value));
    } else if (typeof value === 'object' && value !== null) for (const inner of Object.values(value)) this.note(inner);
  }
  unchanged(): void {
    for (const [values, before] of this.seen) expect(Sums.sum(values)).toBe(before);
  }
}

interface Chain {
  readonly w: Workings;
  readonly job: Job;
}

/** One edit; some parts are asked for, as a page would; then all of them are held against fresh ones. */
function step({ w, job }: Chain, name: string, draw: Draw, sums: Sums, applied: Map<string, number>): Chain {
  const next = edited(job, name, draw);
  if (next === null) return { w, job };
  applied.set(name, (applied.get(name) ?? 0) + 1);
  const units = draw.below(8) === 0 ? OTHER_UNITS : METRIC;
  const now = workingsOf(next, units, w);
  if (draw.yes()) outcome(() => [now.findingsSoFar, now.missing]);
  // what a worker made of the same job is as good as made here
  if (draw.below(4) === 0 && now.trouble.length === 0)
    outcome(() => now.take(structuredClone(slowAnswers(workingsOf(next, units)))));
  // a page skips what it does not show
  if (draw.below(6) === 0) return { w: now, job: next };
  const kept = fields(now);
  const fresh = fields(workingsOf(next, units));
  for (const [field, value] of Object.entries(fresh)) expect(kept[field], `${field} after ${name}`).toEqual(value);
  sums.note([kept['tables'], kept['kinematics']]);
  // a job that can't be worked out stays so: the next edits start from the one before
  return now.trouble.length === 0 ? { w: now, job: next } : { w: now, job };
}

describe('kept = fresh', () => {
  it('the list of edits has every edit that core exports', () => {
    const exported = Object.values(MODULES).flatMap((module) =>
      Object.entries(module).flatMap(([name, value]) => (typeof value === 'function' ? [name] : [])),
    );
    expect(exported.filter((name) => !(name in EDITS) && !NO_EDITS.includes(name))).toEqual([]);
  });

  it('the small job can be worked out, and every kind of check finds something in it', () => {
    const w = workingsOf(small);
    expect(w.trouble).toEqual([]);
    expect(w.missing).toEqual(['jointRange', 'bracketStrength', 'clearances', 'lidRoom']);
    expect(w.findings.length).toBeGreaterThan(20);
  });

  it.each([
    ['a small job that has one of everything', small, runs(1000, 12)],
    ['the workboat', boat, runs(50, 2)],
  ] as const)('in every field after random edits of %s', (_, start, count) => {
    const LENGTH = Math.min(25, count);
    const applied = new Map<string, number>();
    let chains = 0;
    fc.assert(
      fc.property(fc.nat(), (seed) => {
        const draw = new Draw(seed);
        const sums = new Sums();
        let chain: Chain = { w: workingsOf(start), job: start };
        const first = LENGTH * chains++;
        for (let i = 0; i < LENGTH; i++) {
          // what fills a list goes before what empties it, or a whole chain would have nothing to do
          chain = step(chain, NAMES[(first + i) % NAMES.length]!, draw, sums, applied);
        }
        sums.unchanged();
      }),
      { numRuns: Math.ceil(count / LENGTH) },
    );
    if (!DEEP || start !== small) return;
    for (const name of NAMES) {
      // an edit that often had nothing to do in the chains is made on the job as it was
      for (let seed = 0; seed < 200 && (applied.get(name) ?? 0) < 10; seed++)
        step({ w: workingsOf(start), job: start }, name, new Draw(seed), new Sums(), applied);
      expect(applied.get(name) ?? 0, name).toBeGreaterThanOrEqual(10);
    }
  });

  it('through undo and redo: the very job, and its results', () => {
    const draw = new Draw(20_261);
    let history: History = startHistory(small);
    let w = workingsOf(small);
    // what history is held against: whole jobs in a plain list
    let list = [small];
    let at = 0;
    const put = (job: Job): void => {
      if (job === list[at]) return;
      list = [...list.slice(0, at + 1), job].slice(-501);
      at = list.length - 1;
    };
    for (let i = 0; i < runs(5000); i++) {
      const next = edited(history.present, draw.pick(NAMES), draw);
      const what = draw.below(10);
      if (what < 4 && next) {
        history = commit(history, next, 'edit');
        put(next);
      } else if (what < 6) {
        history = undo(history);
        at = Math.max(0, at - 1);
      } else if (what < 8) {
        history = redo(history);
        at = Math.min(list.length - 1, at + 1);
      } else if (next) {
        history = moveGesture(moveGesture(beginGesture(history), small), next);
        w = workingsOf(history.present, METRIC, w);
        outcome(() => w.quickFindings);
        if (what === 8) history = cancelGesture(history);
        else {
          history = endGesture(history, 'drag');
          put(next);
        }
      }
      expect(history.present).toBe(list[at]);
      w = workingsOf(history.present, METRIC, w);
      const kept = outcome(() => w.quickFindings);
      if (i % 20 === 0) expect(kept).toEqual(outcome(() => workingsOf(history.present).quickFindings));
    }
  });
});

describe('what an edit leaves alone', () => {
  const all = (w: Workings) => ({
    ...{ frame: w.frame, plans: w.plans, tables: w.tables, kinematics: w.kinematics, findings: w.findings },
    ...{ issues: w.issues('b1'), assessment: w.assessment('b1') },
  });
  const before = workingsOf(small);
  const old = all(before);
  const after = (next: Job, units = METRIC) => all(workingsOf(next, units, before));

  it.each([
    ['a title', { ...small, title: 'other' }],
    ['the opacity of a photo', setPhoto(small, { id: 'p1', patch: { opacity: 0.3 } })],
    ['a note on a reading', setValue(small, { path: ['observations', 0, 'name'], value: 'by the door' })],
  ])('%s: everything stays the same object', (_, next) => {
    for (const [name, value] of Object.entries(after(next))) expect(value, name).toBe(old[name as keyof typeof old]);
  });
  it('a force or a mass: the geometry stays', () => {
    for (const path of [
      ['struts', 0, 'spec', 'forceN'],
      ['masses', 0, 'kg'],
    ]) {
      const now = after(setValue(small, { path, value: 15 }));
      expect(now.tables).not.toBe(old.tables);
      expect(now.kinematics).toBe(old.kinematics);
      expect(now.issues).toBe(old.issues);
      const w = workingsOf(setValue(small, { path, value: 16 }), METRIC, before);
      expect(w.missing).not.toContain('clearances');
    }
  });
  it('a pivot: what stands against making the brackets stays', () => {
    const now = after(setValue(small, { path: ['points', 8, 'at', 0], value: -214 }));
    expect(now.kinematics).not.toBe(old.kinematics);
    expect(now.issues).toBe(old.issues);
  });
  it('the units: numbers stay, texts do not', () => {
    const now = after(small, OTHER_UNITS);
    expect(now.tables).toBe(old.tables);
    expect(now.assessment).toBe(old.assessment);
    expect(now.findings).not.toEqual(old.findings);
    expect(now.findings.map((f) => f.value)).toEqual(old.findings.map((f) => f.value));
  });
  it('a given that changes leaves alone what does not use it', () => {
    const first = resolution(small);
    const next = setValue(small, { path: ['givens', 0, 'expression'], value: '301 mm' });
    const second = resolution(next, first);
    expect(second.job).toEqual(resolveJob(next));
    expect(second.job.points.map((p, i) => p === first.job.points[i])).toEqual(small.points.map((p) => p.id !== 'B'));
    for (const part of ['struts', 'masses', 'brackets', 'photos', 'limits', 'loadCases', 'hinge'] as const)
      expect(second.job[part], part).toBe(first.job[part]);
  });
});
