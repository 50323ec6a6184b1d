import { useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';
import type { Job } from '../../core/job';
import { type SurveyAnswer, ask, surveying } from '../workers';
import { type Beside, NOTHING, keepBeside } from './beside';

export type { SurveyAnswer };

/** The adjustment last made, and the job it is of. */
export interface SurveyState extends Beside<Job, SurveyAnswer> {
  /** The reading that its row shows; drawn stronger. */
  readonly chosen: string | null;
}

export const survey = createStore<SurveyState>(() => ({ ...NOTHING, chosen: null }));

/** A part of the survey's state, at once. */
export const useSurvey = <T>(select: (state: SurveyState) => T): T => useStore(survey, select);

/** Typing and dragging go before: a job is looked at when it has stood still so long, ms. */
const SETTLE_MS = 40;

/** Sections that an adjustment looks at; other edits leave it as it is. */
const SECTIONS = ['points', 'observations', 'relations', 'hinge', 'givens', 'travel', 'struts', 'photos'] as const;

/** The job last asked about, while nothing that an adjustment looks at is another. */
let last: Job | null = null;
function surveyed(job: Job): Job | null {
  if (!job.observations?.length) return (last = null);
  if (!last || SECTIONS.some((key) => job[key] !== last![key])) last = job;
  return last;
}

/** Keeps the adjustment beside the present job, off the main thread, from now on. */
export const startSurvey = (): (() => void) =>
  keepBeside({
    of: (state) => surveyed(state.history.present),
    afterMs: SETTLE_MS,
    ask: (job, signal) => ask(surveying, job, { latestWins: 'survey', signal }),
    tell: (told) => survey.setState(told),
  });

export const chooseReading = (id: string | null): void => {
  if (survey.getState().chosen !== id) survey.setState({ chosen: id });
};
