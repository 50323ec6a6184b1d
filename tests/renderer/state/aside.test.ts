// What is slow to find is asked for beside the page; the worker is a stand-in that answers when the test says so.
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { LidwrightError } from '../../../core/error';
import { assumedSpread } from '../../../core/choose';
import { movePoint, setValue } from '../../../core/job';
import {
  type SlowAnswers,
  type Workings,
  adviceInSteps,
  slowAnswers,
  workings,
  workingsOf,
} from '../../../core/workings';
import { startAdvice, startFindings, watchAssumed } from '../../../renderer/state/aside';
import { bench, edit, finishDrag, moveDrag, openJob, startDrag } from '../../../renderer/state/store';
import { jobAt } from '../../support/files';

interface Asked {
  readonly of: Workings;
  readonly signal: AbortSignal;
  readonly answer: (answers: SlowAnswers) => void;
  readonly refuse: (error: unknown) => void;
}

const SETTLE_MS = 200;
let job = jobAt('tests/fixtures/jobs/workboat-hatch.lidjob');
const state = () => bench.getState();
const open = (): void => openJob(job, { name: 'a', token: null, photosFrom: null, saved: job, draftId: 'a' });
const heavier = (kg: number): boolean => edit('Heavier', (j) => setValue(j, { path: ['masses', 0, 'kg'], value: kg }));
/** As a worker does it: from a copy of the job, knowing nothing of the page's workings. */
const workedOut = ({ of }: Asked): SlowAnswers => slowAnswers(workings(structuredClone(of.job), of.units));
const slowOnes = (): string[] =>
  state()
    .findings.map((f) => f.id)
    .filter((id) => /^(clearance|bracket-strength)/.test(id));

let tests = 0;
let asked: Asked[] = [];
let off = (): void => undefined;

beforeEach(() => {
  vi.useFakeTimers();
  asked = [];
  // another job each time: the store keeps what it knows of the one before
  job = setValue(job, { path: ['masses', 0, 'kg'], value: 30 + ++tests });
  open();
  off = startFindings(
    (_, of, signal) => new Promise((answer, refuse) => asked.push({ of, signal, answer: answer as never, refuse })),
  );
});
afterEach(() => {
  off();
  vi.useRealTimers();
});

const settle = (): Promise<unknown> => vi.advanceTimersByTimeAsync(SETTLE_MS);
async function answerLast(): Promise<void> {
  asked.at(-1)!.answer(workedOut(asked.at(-1)!));
  await settle();
}

describe('what is slow to find', () => {
  it('is said to be pending, and then found as if all were worked out at once', async () => {
    expect(state().pending).toEqual(['jointRange', 'bracketStrength', 'clearances', 'lidRoom']);
    expect(slowOnes()).toEqual([]);
    await settle();
    await answerLast();
    expect(state().pending).toEqual(['advice']);
    expect(slowOnes().length).toBeGreaterThan(3);
    expect(state().findings).toEqual(workingsOf(job).findings);
    expect(asked).toHaveLength(1);
  });

  it('is followed by the advice, as if it were worked out at once; an edit takes it away', async () => {
    const steps: { of: Workings; answer: (advice: never) => void; signal: AbortSignal }[] = [];
    const offAdvice = startAdvice(
      (_, of, signal) => new Promise((answer) => steps.push({ of, answer: answer as never, signal })),
    );
    await settle();
    expect(steps).toEqual([]);
    await answerLast();
    await settle();
    const { of, answer } = steps[0]!;
    const made = adviceInSteps(workings(structuredClone(of.job), of.units));
    let step = made.next();
    for (; !step.done; step = made.next()) expect(step.value).toBeLessThan(1);
    answer(structuredClone(step.value) as never);
    await settle();
    expect(state().pending).toEqual([]);
    expect(state().findings).toEqual(workingsOf(job).advised);
    expect(state().findings.some((f) => f.advice.includes('Tried: '))).toBe(true);
    heavier(50);
    expect(state().findings.some((f) => f.advice.includes('Tried: '))).toBe(false);
    await settle();
    await answerLast();
    await settle();
    heavier(51);
    expect(steps).toHaveLength(2);
    expect(steps[1]!.signal.aborted).toBe(true);
    offAdvice();
  });

  it('stays found after an edit that it does not read', async () => {
    await settle();
    await answerLast();
    edit('Title', (j) => setValue(j, { path: ['title'], value: 'Another name' }));
    expect(state().pending).toEqual(['advice']);
    await settle();
    expect(asked).toHaveLength(1);
  });

  it('never shows an answer about a job that is no longer there', async () => {
    await settle();
    const first = asked.at(-1)!;
    heavier(55);
    expect(first.signal.aborted).toBe(true);
    first.answer(workedOut(first));
    await settle();
    expect(state().pending).not.toEqual([]);
    await answerLast();
    expect(state().findings).toEqual(workingsOf(state().history.present).findings);
  });

  it('goes away in a drag, comes when the pointer rests, and once more at its end', async () => {
    await settle();
    await answerLast();
    startDrag({ kind: 'point', pointId: 's1-lid', plane: 'side', from: [-290, -516, 372] });
    for (let i = 1; i <= 20; i++) {
      moveDrag((start) => movePoint(start, { id: 's1-lid', at: [-290 + 2 * i, -516, 372] }));
      await vi.advanceTimersByTimeAsync(16);
    }
    expect(asked).toHaveLength(1);
    expect(slowOnes()).toEqual([]);
    await settle();
    expect(asked).toHaveLength(2);
    await answerLast();
    const rested = state().findings;
    expect(slowOnes().length).toBeGreaterThan(3);
    finishDrag('Move it');
    // the same job: what was found holds
    expect(state().pending).toEqual(['advice']);
    expect(state().findings).toEqual(rested);
    expect(rested).toEqual(workingsOf(state().history.present).findings);
  });

  it('says why it can’t be found, and asks again after the next edit', async () => {
    await settle();
    asked.at(-1)!.refuse(new LidwrightError({ what: 'the checks stopped', where: [], advice: 'Undo.' }));
    await settle();
    expect(state().trouble.map((t) => t.what)).toEqual(['the checks stopped']);
    heavier(60);
    expect(state().trouble).toEqual([]);
    await settle();
    await answerLast();
    expect(state().pending).toEqual(['advice']);
  });
});

describe('what assumed numbers may change', () => {
  it('is asked for at the Strut stage alone, where a number is assumed, and belongs to the job it was asked about', async () => {
    const wanted: string[] = [];
    const stop = watchAssumed((want, of) => (wanted.push(want), Promise.resolve(assumedSpread(of) as never)));
    await vi.advanceTimersByTimeAsync(SETTLE_MS);
    bench.setState({ stage: 'strut' });
    await vi.advanceTimersByTimeAsync(SETTLE_MS);
    expect(wanted).toEqual([]);
    edit('Assumed', (j) => setValue(j, { path: ['struts', 0, 'spec', 'assumed'], value: ['ratio'] }));
    await vi.advanceTimersByTimeAsync(SETTLE_MS);
    expect(wanted).toEqual(['assumed']);
    expect(state().assumed!.outcome).toBe(state().outcome);
    expect(state().assumed!.spread.map((s) => s.key)).toEqual(['ratio']);
    heavier(99);
    expect(state().assumed!.outcome).not.toBe(state().outcome);
    stop();
  });
});
