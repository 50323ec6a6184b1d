import { useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';
import type { ProveAnswer } from '../../core/prove';
import { ask, proving } from '../workers';
import { type Beside, NOTHING, keepBeside } from './beside';
import { type BenchState, bench } from './store';

export const proof = createStore<Beside<object, ProveAnswer>>(() => NOTHING);
export const useProof = <T>(select: (state: Beside<object, ProveAnswer>) => T): T => useStore(proof, select);

/** Changes that come one after the other, as in typing down the table, are asked for once, ms. */
const AFTER_MS = 60;

/** Keeps the proof of the present job up to date while the Prove stage is shown. */
export const watchProof = (): (() => void) =>
  keepBeside<NonNullable<BenchState['outcome']>, ProveAnswer>({
    of: (state) => state.outcome,
    afterMs: AFTER_MS,
    ask: (_, signal) => {
      const { history, resolved, units } = bench.getState();
      return ask(proving, { raw: history.present, job: resolved, units }, { latestWins: 'proof', signal });
    },
    tell: (told) => proof.setState(told),
  });
