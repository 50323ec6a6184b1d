import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { type Job, setValue } from '../../../core/job';
import { adjustSurvey, datumOf, addObservation } from '../../../core/survey';
import {
  bench,
  cancelDrag,
  edit,
  finishDrag,
  moveDrag,
  openJob,
  presentJob,
  startDrag,
} from '../../../renderer/state/store';
import { startSurvey, survey } from '../../../renderer/state/survey';
import type { FromWorker, ToWorker } from '../../../renderer/workers/client';
import { example } from '../../core/examples/example';

/** Stands for the worker: keeps what it is asked, and answers when told to. */
class Asked {
  static all: Asked[] = [];
  static requests: { readonly run: number; readonly job: Job }[] = [];
  onmessage: ((e: { data: FromWorker }) => void) | null = null;
  onerror: (() => void) | null = null;
  constructor() {
    Asked.all.push(this);
  }
  postMessage(message: ToWorker): void {
    if ('question' in message) Asked.requests.push({ run: message.run, job: message.question as Job });
  }
  terminate(): void {}
  /** Answers what was asked last; the page hears of it when the promises have run. */
  static async answer(): Promise<void> {
    const { run, job } = Asked.requests.at(-1)!;
    const result = adjustSurvey(job);
    Asked.all.at(-1)!.onmessage!({ data: { run, answer: { result, suggestion: null, datum: datumOf(job) } } });
    await told();
  }
}

const take = (valueMm: number): boolean =>
  edit('Take', (job) => addObservation(job, { observation: { kind: 'tape', points: ['hingeA', 'grip'], valueMm } }));
const told = async (): Promise<void> => {
  for (let i = 0; i < 5; i++) await Promise.resolve();
};
const wait = (ms = 100): void => void vi.advanceTimersByTime(ms);
const point = (job: Job): Job => setValue(job, { path: ['points', 6, 'at', 0], value: -890 });

let stop: () => void;
beforeAll(() => {
  vi.useFakeTimers();
  vi.stubGlobal('Worker', Asked);
  stop = startSurvey();
});
afterAll(() => {
  stop();
  vi.unstubAllGlobals();
  vi.useRealTimers();
});
let n = 0;
beforeEach(() => {
  openJob(
    { ...example('workboat-hatch') },
    { name: 'hatch', token: null, photosFrom: null, saved: null, draftId: `d${n++}` },
  );
  wait();
  Asked.requests = [];
});

describe('the adjustment beside the job', () => {
  it('is asked once for edits that come close together, and answered for the job it was asked of', async () => {
    take(990);
    take(991);
    expect(Asked.requests).toHaveLength(0);
    wait();
    expect(Asked.requests).toHaveLength(1);
    expect(Asked.requests[0]!.job.observations).toHaveLength(2);
    await Asked.answer();
    expect(survey.getState().answer!.result.readings).toHaveLength(2);
    expect(survey.getState().of).toBe(presentJob());
  });

  it('carries no pictures', async () => {
    const inside = 'x'.repeat(1000);
    edit(
      'Photo',
      (job) => ({ ...job, photos: [{ ...job.photos![0]!, source: { inside, mime: 'image/jpeg' } }] }) as never,
    );
    take(990);
    wait();
    expect(JSON.stringify(Asked.requests.at(-1))).not.toContain('xxx');
    await Asked.answer();
  });

  it('waits while one is under way, then asks for the newest job', async () => {
    take(990);
    wait();
    take(991);
    wait();
    take(992);
    wait();
    expect(Asked.requests).toHaveLength(1);
    await Asked.answer();
    wait();
    expect(Asked.requests).toHaveLength(2);
    expect(Asked.requests[1]!.job.observations).toHaveLength(3);
    await Asked.answer();
  });

  it('says after a while that it is at work', async () => {
    take(990);
    wait(60);
    expect(survey.getState().slow).toBe(false);
    wait(400);
    expect(survey.getState().slow).toBe(true);
    await Asked.answer();
    expect(survey.getState().slow).toBe(false);
  });

  it('keeps out of a drag, and looks at where it ended', async () => {
    take(990);
    wait();
    await Asked.answer();
    Asked.requests = [];
    startDrag({ kind: 'point', pointId: 'grip', plane: 'side', from: [0, 0, 0] });
    moveDrag(point);
    wait(500);
    expect(Asked.requests).toHaveLength(0);
    finishDrag('Move');
    wait();
    expect(Asked.requests).toHaveLength(1);
    await Asked.answer();
    startDrag({ kind: 'point', pointId: 'grip', plane: 'side', from: [0, 0, 0] });
    cancelDrag();
    wait();
    expect(Asked.requests).toHaveLength(1);
  });

  it('is not asked for edits that it does not look at, nor without readings', async () => {
    edit('Title', (job) => ({ ...job, title: 'other' }));
    edit('Move', point);
    wait();
    expect(Asked.requests).toHaveLength(0);
    take(990);
    wait();
    await Asked.answer();
    edit('Title', (job) => ({ ...job, title: 'third' }));
    wait();
    expect(Asked.requests).toHaveLength(1);
    edit('None', (job) => ({ ...job, observations: [] }));
    wait();
    expect(survey.getState().answer).toBeNull();
  });

  it('says so when it stops by itself, and starts again with the next change', async () => {
    take(990);
    wait();
    Asked.all.at(-1)!.onerror!();
    await told();
    expect(survey.getState().trouble!.what).toContain('stopped by itself');
    take(991);
    wait();
    expect(Asked.requests).toHaveLength(2);
    await Asked.answer();
    expect(survey.getState()).toMatchObject({ trouble: null });
    expect(bench.getState().trouble).toEqual([]);
  });
});
