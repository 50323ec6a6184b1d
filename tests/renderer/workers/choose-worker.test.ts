// The choosing worker, run here behind a stand-in for the worker's own scope: answers, progress, cancel, errors.
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { condense, rank } from '../../../core/choose';
import { resolveJob } from '../../../core/job';
import type { FromWorker, ToWorker } from '../../../renderer/workers/client';
import { oddList } from '../../core/choose/brute';
import { jobAt } from '../../support/files';

const replies: FromWorker[] = [];
let send: (message: ToWorker) => void = () => undefined;
const of = (run: number): FromWorker[] => replies.filter((r) => r.run === run);
const until = async (run: number, key: 'progress' | 'answer' | 'issue' | 'cancelled'): Promise<FromWorker> => {
  while (!of(run).some((r) => key in r)) await new Promise((r) => setTimeout(r, 5));
  return of(run).find((r) => key in r)!;
};

beforeAll(async () => {
  let listener: ((event: { data: ToWorker }) => void) | null = null;
  vi.stubGlobal('self', {
    postMessage: (m: FromWorker) => replies.push(structuredClone(m)),
    addEventListener: (_: string, f: (event: { data: ToWorker }) => void) => (listener = f),
  });
  await import('../../../renderer/workers/choose.worker');
  send = (message) => listener!({ data: structuredClone(message) });
});
afterAll(() => vi.unstubAllGlobals());

describe('choose.worker', () => {
  const job = resolveJob(jobAt('tests/fixtures/jobs/workboat-hatch.lidjob'));
  const { spec } = job.struts[0]!;
  const list = oddList(60, 7, spec.extendedMm, spec.strokeMm, spec.forceN);
  const long = Array.from({ length: 60 }, () => list).flat();

  it('answers with the condensed ranking', async () => {
    send({ run: 1, question: { job, list, mostRanked: 3 } });
    expect(await until(1, 'answer')).toMatchObject({ answer: { ranking: condense(rank(job, list)!, 3) } });
  });
  it('tells its progress, and a cancel stops it', async () => {
    send({ run: 2, question: { job, list: long } });
    await until(2, 'progress');
    send({ cancel: 2 });
    await until(2, 'cancelled');
    expect(of(2).some((r) => 'answer' in r)).toBe(false);
    const shares = of(2).flatMap((r) => ('progress' in r ? [r.progress as number] : []));
    expect(shares.length).toBeGreaterThan(0);
    expect(shares.every((s, i) => s > (shares[i - 1] ?? 0) && s < 1)).toBe(true);
  });
  it('says what is wrong when the job can’t be computed', async () => {
    send({ run: 3, question: { job: { ...job, grip: 'nowhere' }, list } });
    const failed = await until(3, 'issue');
    expect('issue' in failed && failed.issue.what).toContain('nowhere');
  });
});
