// The choosing worker, run here behind a stand-in for the worker's own scope: answers, progress, cancel, errors.
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { type ChooseReply, type ChooseRequest, condense, rank } from '../../../core/choose';
import { resolveJob } from '../../../core/job';
import { jobAt } from '../../support/files';
import { oddList } from './brute';

const replies: ChooseReply[] = [];
let send: (request: ChooseRequest) => void = () => undefined;
const until = async (done: () => boolean): Promise<void> => {
  for (let i = 0; i < 2000 && !done(); i++) await new Promise((r) => setTimeout(r, 5));
  expect(done()).toBe(true);
};
const of = (run: number): ChooseReply[] => replies.filter((r) => r.run === run);

beforeAll(async () => {
  let listener: ((event: { data: ChooseRequest }) => void) | null = null;
  vi.stubGlobal('self', {
    postMessage: (m: ChooseReply) => replies.push(structuredClone(m)),
    addEventListener: (_: string, f: (event: { data: ChooseRequest }) => void) => (listener = f),
  });
  await import('../../../renderer/workers/choose.worker');
  send = (request) => listener!({ data: structuredClone(request) });
});
afterAll(() => vi.unstubAllGlobals());

describe('choose.worker', () => {
  const job = resolveJob(jobAt('assets/examples/workboat-hatch.lidjob'));
  const { spec } = job.struts[0]!;
  const list = oddList(60, 7, spec.extendedMm, spec.strokeMm, spec.forceN);
  const long = Array.from({ length: 60 }, () => list).flat();

  it('answers with the condensed ranking', async () => {
    send({ type: 'start', run: 1, job, list, mostRanked: 3 });
    await until(() => of(1).some((r) => r.type === 'done'));
    const done = of(1).find((r) => r.type === 'done')!;
    expect(done.type === 'done' && done.ranking).toEqual(condense(rank(job, list)!, 3));
  });
  it('tells its progress, and a cancel stops it', async () => {
    send({ type: 'start', run: 2, job, list: long });
    await until(() => of(2).some((r) => r.type === 'progress'));
    send({ type: 'cancel', run: 2 });
    await until(() => of(2).some((r) => r.type === 'cancelled' || r.type === 'done'));
    expect(of(2).at(-1)!.type).toBe('cancelled');
    const shares = of(2).flatMap((r) => (r.type === 'progress' ? [r.share] : []));
    expect(shares.every((s, i) => s > (shares[i - 1] ?? 0) && s < 1)).toBe(true);
  });
  it('a new start ends the one before', async () => {
    send({ type: 'start', run: 3, job, list: long });
    send({ type: 'start', run: 4, job, list });
    await until(() => of(4).some((r) => r.type === 'done') && of(3).some((r) => r.type === 'cancelled'));
    expect(of(3).some((r) => r.type === 'done')).toBe(false);
  });
  it('says what is wrong when the job can’t be computed', async () => {
    send({ type: 'start', run: 5, job: { ...job, grip: 'nowhere' }, list });
    await until(() => of(5).some((r) => r.type === 'failed'));
    const failed = of(5)[0]!;
    expect(failed.type === 'failed' && failed.issue.what).toContain('nowhere');
  });
});
