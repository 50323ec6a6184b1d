import { useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';
import type { Issue } from '../../core/error';
import type { Job } from '../../core/job';
import type { SurveyAnswer, SurveyReply, SurveyRequest } from '../workers/survey-messages';

import { type BenchState, bench } from './store';

export type { SurveyAnswer };

export interface SurveyState {
  /** The adjustment last made, and the job it is of; another present job makes it stale. */
  readonly answer: SurveyAnswer | null;
  readonly job: Job | null;
  readonly trouble: Issue | null;
  /** An adjustment has been under way for so long that a person should be told. */
  readonly slow: boolean;
  /** The reading that its row shows; drawn stronger. */
  readonly chosen: string | null;
}

const NONE: SurveyState = { answer: null, job: null, trouble: null, slow: false, chosen: null };
export const survey = createStore<SurveyState>(() => NONE);

/** A part of the survey's state, at once. */
export const useSurvey = <T>(select: (state: SurveyState) => T): T => useStore(survey, select);

/** Typing and dragging go before: a job is looked at when it has stood still so long, ms. */
const SETTLE_MS = 40;
const SLOW_MS = 300;

/** Sections that an adjustment looks at; other edits leave it as it is. */
const SECTIONS = ['points', 'observations', 'relations', 'hinge', 'givens', 'travel', 'struts', 'photos'] as const;
const sameSurvey = (a: Job | null, b: Job): boolean => a !== null && SECTIONS.every((key) => a[key] === b[key]);

let worker: Worker | null = null;
let run = 0;
let busy = false;
/** The job last asked about. */
let asked: Job | null = null;
let settle = 0;
let slow = 0;

/** A photo's picture is no part of an adjustment and can be heavy. */
const lean = (job: Job): Job =>
  job.photos
    ? {
        ...job,
        photos: job.photos.map((p) => ('inside' in p.source ? { ...p, source: { ...p.source, inside: '' } } : p)),
      }
    : job;

function rest(): void {
  busy = false;
  globalThis.clearTimeout(slow);
  // what came in meanwhile is asked now
  if (!sameSurvey(asked, bench.getState().history.present)) hear(bench.getState());
}

function made(): Worker {
  const fresh = new Worker(new URL('../workers/survey.worker.ts', import.meta.url), { type: 'module' });
  fresh.onmessage = ({ data }: MessageEvent<SurveyReply>) => {
    if (data.run === run) {
      const { type: _type, run: _run, ...answer } = data as Extract<SurveyReply, { type: 'done' }>;
      survey.setState(
        data.type === 'done'
          ? { answer, job: asked, trouble: null, slow: false }
          : { answer: null, job: asked, trouble: data.issue, slow: false },
      );
    }
    rest();
  };
  fresh.onerror = () => {
    fresh.terminate();
    worker = null;
    const trouble = {
      what: 'the adjustment stopped by itself',
      where: [],
      advice: 'Change a reading to start it again; if it stops again, switch the last one off.',
    };
    survey.setState({ answer: null, job: asked, trouble, slow: false });
    rest();
  };
  return fresh;
}

function ask(): void {
  settle = 0;
  const job = bench.getState().history.present;
  if (busy || bench.getState().drag || sameSurvey(asked, job)) return;
  asked = job;
  if (!job.observations?.length) {
    run++;
    survey.setState({ ...NONE, job });
    return;
  }
  worker ??= made();
  busy = true;
  slow = globalThis.setTimeout(() => survey.setState({ slow: true }), SLOW_MS) as unknown as number;
  worker.postMessage({ run: ++run, job: lean(job) } satisfies SurveyRequest);
}

function hear(state: BenchState): void {
  if (state.drag || settle !== 0 || sameSurvey(asked, state.history.present)) return;
  settle = globalThis.setTimeout(ask, SETTLE_MS) as unknown as number;
}

/** Keeps the adjustment beside the present job, off the main thread, from now on. */
export function startSurvey(): () => void {
  hear(bench.getState());
  return bench.subscribe(hear);
}

export const chooseReading = (id: string | null): void => {
  if (survey.getState().chosen !== id) survey.setState({ chosen: id });
};
