import { useEffect, useState } from 'react';
import type { Issue } from '../../../core/error';
import type { ProveReply, ProveRequest } from '../../../core/prove';
import { bench } from '../../state/store';
import { useBench, useCalmBench } from '../../state/use-bench';

export type ProofAnswer = Extract<ProveReply, { type: 'done' }>;
export interface ProofShown {
  /** The last answer, if any; it may be of the job before. */
  readonly answer: ProofAnswer | null;
  readonly issue: Issue | null;
  /** True while a newer one is being worked out. */
  readonly busy: boolean;
}

/** Changes that come one after the other, as in typing down the table, are asked for once, ms. */
const AFTER_MS = 60;

/** The proof of the present job, worked out in a worker of its own that lives as long as the stage is shown. */
export function useProof(): ProofShown {
  const outcome = useCalmBench((s) => s.outcome);
  const units = useBench((s) => s.units);
  const [shown, setShown] = useState<ProofShown>({ answer: null, issue: null, busy: true });
  const [worker, setWorker] = useState<Worker | null>(null);

  useEffect(() => {
    const made = new Worker(new URL('../../workers/prove.worker.ts', import.meta.url), { type: 'module' });
    setWorker(made);
    return () => made.terminate();
  }, []);

  useEffect(() => {
    if (!worker || !outcome) return;
    let gone = false;
    setShown((s) => ({ ...s, busy: true }));
    const run = Math.random();
    const timer = window.setTimeout(() => {
      const { history, resolved } = bench.getState();
      worker.onmessage = ({ data }: MessageEvent<ProveReply>) => {
        if (gone || data.run !== run) return;
        setShown((s) =>
          data.type === 'done'
            ? { answer: data, issue: null, busy: false }
            : { answer: s.answer, issue: data.issue, busy: false },
        );
      };
      worker.onerror = () =>
        setShown({
          answer: null,
          busy: false,
          issue: { what: 'The proof stopped by itself', where: [], advice: 'Leave this stage and come back.' },
        });
      worker.postMessage({ run, raw: history.present, job: resolved, units } satisfies ProveRequest);
    }, AFTER_MS);
    return () => {
      gone = true;
      window.clearTimeout(timer);
    };
  }, [worker, outcome, units]);

  return shown;
}
