// The one way to a worker, with a worker that answers when told to.
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { LidwrightError } from '../../../core/error';
import {
  type Desk,
  type FromWorker,
  GRACE_MS,
  type ToWorker,
  ask,
  desk,
  isAborted,
} from '../../../renderer/workers/client';

/** Stands for a worker: keeps what it is sent, copied as a real one's would be. */
class Fake {
  readonly got: ToWorker[] = [];
  ended = false;
  onmessage: ((event: { data: FromWorker }) => void) | null = null;
  onerror: (() => void) | null = null;
  postMessage(message: ToWorker): void {
    this.got.push(structuredClone(message));
  }
  terminate(): void {
    this.ended = true;
  }
  get run(): number {
    const asked = this.got.filter((m): m is Extract<ToWorker, { run: number }> => 'run' in m);
    return asked.at(-1)!.run;
  }
  say(what: { progress: number } | { answer: unknown } | { cancelled: true }, run = this.run): void {
    this.onmessage!({ data: { run, ...what } as FromWorker });
  }
}

let all: Fake[] = [];
let at: Desk<unknown, string>;
const make = (): Worker => {
  all.push(new Fake());
  return all.at(-1) as unknown as Worker;
};
const words = (p: Promise<string>): Promise<string> =>
  p.catch((e: unknown) => (isAborted(e) ? 'aborted' : e instanceof LidwrightError ? e.what : `${(e as Error).name}`));
const questions = (fake: Fake): unknown[] => fake.got.flatMap((m) => ('question' in m ? [m.question] : []));

beforeEach(() => {
  vi.useFakeTimers();
  all = [];
  at = desk<unknown, string>(make, { what: 'it stopped', advice: 'Again.' });
});
afterEach(() => void vi.useRealTimers());

describe('asking a worker', () => {
  it('makes it when first asked, gives it one question at a time, in order', async () => {
    expect(all).toHaveLength(0);
    const [a, b] = [words(ask(at, 'a')), words(ask(at, 'b'))];
    expect(questions(all[0]!)).toEqual(['a']);
    all[0]!.say({ answer: 'A' });
    expect(questions(all[0]!)).toEqual(['a', 'b']);
    all[0]!.say({ answer: 'B' });
    expect([await a, await b]).toEqual(['A', 'B']);
    expect(all).toHaveLength(1);
  });

  it('tells progress until it is cancelled', async () => {
    const seen: number[] = [];
    const stop = new AbortController();
    const a = words(ask(at, 'a', { progress: (s) => seen.push(s), signal: stop.signal }));
    all[0]!.say({ progress: 0.2 });
    all[0]!.say({ progress: 0.5 });
    stop.abort();
    all[0]!.say({ progress: 0.7 });
    expect(await a).toBe('aborted');
    expect(seen).toEqual([0.2, 0.5]);
  });

  it('of thirty with one key only the last is answered, and only two reach the worker', async () => {
    const asked = Array.from({ length: 30 }, (_, i) => words(ask(at, i, { latestWins: 'k' })));
    const other = words(ask(at, 'other', { latestWins: 'o' }));
    all[0]!.say({ cancelled: true });
    all[0]!.say({ answer: 'last' });
    all[0]!.say({ answer: 'other' });
    const got = await Promise.all(asked);
    expect(got.slice(0, 29).every((w) => w === 'aborted')).toBe(true);
    expect([got[29], await other]).toEqual(['last', 'other']);
    expect(questions(all[0]!)).toEqual([0, 29, 'other']);
  });

  it('a cancel rejects at once and is told the worker; one that does not hear it is ended, and the next gets a new one', async () => {
    const stop = new AbortController();
    const a = words(ask(at, 'a', { signal: stop.signal }));
    const b = words(ask(at, 'b'));
    const run = all[0]!.run;
    stop.abort();
    expect(await a).toBe('aborted');
    expect(all[0]!.got.at(-1)).toEqual({ cancel: run });
    vi.advanceTimersByTime(GRACE_MS);
    expect(all[0]!.ended).toBe(true);
    expect(questions(all[1]!)).toEqual(['b']);
    // what the old one still says is nobody's answer
    all[0]!.say({ answer: 'late' }, run);
    all[1]!.say({ answer: 'B' });
    expect(await b).toBe('B');
  });

  it('one that lets go in time is kept, and one that keeps what it was given is never ended', async () => {
    for (const keeps of [false, true]) {
      const mine = desk<unknown, string>(make, { what: 'it stopped', advice: '' }, keeps);
      const stop = new AbortController();
      const a = words(ask(mine, 'a', { signal: stop.signal }));
      stop.abort();
      if (keeps) vi.advanceTimersByTime(10 * GRACE_MS);
      all.at(-1)!.say({ cancelled: true });
      vi.advanceTimersByTime(10 * GRACE_MS);
      expect(await a).toBe('aborted');
      expect(all.at(-1)!.ended).toBe(false);
    }
  });

  it('a question that was cancelled before it was sent never is', async () => {
    const stop = new AbortController();
    const a = ask(at, 'a');
    const b = words(ask(at, 'b', { signal: stop.signal }));
    stop.abort();
    expect(await words(ask(at, 'c', { signal: stop.signal }))).toBe('aborted');
    all[0]!.say({ answer: 'A' });
    expect([await a, await b]).toEqual(['A', 'aborted']);
    expect(questions(all[0]!)).toEqual(['a']);
  });

  it('when it stops by itself all who wait are told in words, and the next question gets a new worker', async () => {
    const both = [words(ask(at, 'a')), words(ask(at, 'b'))];
    all[0]!.onerror!();
    expect(await Promise.all(both)).toEqual(['it stopped', 'it stopped']);
    const c = words(ask(at, 'c'));
    all[1]!.say({ answer: 'C' });
    expect(await c).toBe('C');
  });

  it('an issue comes back as the error it was; what can’t be copied is refused and holds nobody up', async () => {
    const a = words(ask(at, 'a'));
    all[0]!.onmessage!({ data: { run: all[0]!.run, issue: { what: 'no such point', where: [], advice: '' } } });
    expect(await a).toBe('no such point');
    const bad = words(ask(at, { f: () => 1 }));
    const good = words(ask(at, 'b'));
    all[0]!.say({ answer: 'B' });
    expect([await bad, await good]).toEqual(['DataCloneError', 'B']);
  });

  it('leaves a job’s pictures here, wherever in the question the job is', () => {
    const inside = 'x'.repeat(1000);
    const job = {
      title: 't',
      photos: [
        { id: 'p', source: { inside } },
        { id: 'q', source: { beside: 'q.jpg' } },
      ],
    };
    void ask(at, job);
    all[0]!.say({ answer: '' });
    void ask(at, { kind: 'add', job, raw: job });
    expect(JSON.stringify(questions(all[0]!))).not.toContain('xxx');
    expect(questions(all[0]!)[1]).toMatchObject({
      kind: 'add',
      job: { title: 't', photos: [{ id: 'p' }, { id: 'q', source: { beside: 'q.jpg' } }] },
    });
    expect(job.photos[0]!.source.inside).toBe(inside);
  });
});
