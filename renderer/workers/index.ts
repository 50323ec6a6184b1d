// All workers of the page; each is made when it is first asked.
import type { ChooseAnswer, ChooseQuestion } from '../../core/choose';
import type { WarpAnswer, WarpQuestion } from '../../core/photo';
import type { ProveAnswer, ProveQuestion } from '../../core/prove';
import type { RelationAnswer, RelationQuestion } from '../../core/survey';
import type { Job } from '../../core/job';
import type { LidSizes } from '../../core/start';
import type { AsideAnswers, AsideQuestion } from './aside.worker';
import type { Answer, HowExact, Progress, WorksMap } from '../../core/find';
import type { FindQuestion } from './find.worker';
import type { MapQuestion, MapSoFar } from './map.worker';
import type { SurveyAnswer } from './survey.worker';
import type { ListAnswer, ListQuestion, ReadingsAnswer, ReadingsQuestion } from './table.worker';
import { desk } from './client';
import type { Part } from './worker';

export { type AskOptions, ask, isAborted } from './client';
export type { AsideAnswers, ListAnswer, SurveyAnswer };

/** Makes workers of one kind. */
const part = (part: Part) => (): Worker => {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
  worker.postMessage({ part });
  return worker;
};

export const asiding = desk<AsideQuestion, AsideAnswers[keyof AsideAnswers]>(part('aside'), {
  what: 'The slower checks stopped by themselves',
  advice: 'Change anything, or undo, and they start again.',
});

export const choosing = desk<ChooseQuestion, ChooseAnswer>(part('choose'), {
  what: 'The search for a strut stopped by itself',
  advice: 'Start it again.',
});

export const finding = desk<FindQuestion, Answer, Progress>(part('find'), {
  what: 'The search for places stopped by itself',
  advice: 'Start it again.',
});

/** Answers what a wish would come to, beside a search that goes on. */
export const wishing = desk<FindQuestion, Answer, Progress>(part('find'), {
  what: 'What the wish comes to was not found',
  advice: 'Move the slider again.',
});

export const mapping = desk<MapQuestion, WorksMap, MapSoFar>(part('map'), {
  what: 'The works map stopped by itself',
  advice: 'Switch it off and on again.',
});

export const proving = desk<ProveQuestion, ProveAnswer>(part('prove'), {
  what: 'The proof stopped by itself',
  advice: 'Leave this stage and come back.',
});

export const relating = desk<RelationQuestion, RelationAnswer>(part('relation'), {
  what: 'The check of what must hold stopped by itself',
  advice: 'Nothing was changed; try again.',
});

export const starting = desk<LidSizes, Job>(part('start'), {
  what: 'The job was not made: its making stopped by itself',
  advice: 'Press the button again.',
});

export const studying = desk<Job, HowExact, HowExact>(part('study'), {
  what: 'The study stopped by itself',
  advice: 'Start it again.',
});

export const surveying = desk<Job, SurveyAnswer>(part('survey'), {
  what: 'the adjustment stopped by itself',
  advice: 'Change a reading to start it again; if it stops again, switch the last one off.',
});

/** Tables are read here; what is asked says which answer comes. */
export const tabling = desk<ListQuestion | ReadingsQuestion, ListAnswer | ReadingsAnswer>(part('table'), {
  what: 'The reading of the table stopped by itself',
  advice: 'Choose it again.',
});

export const warping = desk<WarpQuestion<ImageBitmap>, WarpAnswer<ImageBitmap>>(
  part('warp'),
  { what: 'The flat picture stopped by itself', advice: 'Zoom a little, and it is made again.' },
  true,
);
