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

export { type AskOptions, ask, isAborted } from './client';
export type { AsideAnswers, ListAnswer, SurveyAnswer };

export const asiding = desk<AsideQuestion, AsideAnswers[keyof AsideAnswers]>(
  () => new Worker(new URL('./aside.worker.ts', import.meta.url), { type: 'module' }),
  { what: 'The slower checks stopped by themselves', advice: 'Change anything, or undo, and they start again.' },
);

export const choosing = desk<ChooseQuestion, ChooseAnswer>(
  () => new Worker(new URL('./choose.worker.ts', import.meta.url), { type: 'module' }),
  { what: 'The search for a strut stopped by itself', advice: 'Start it again.' },
);

const findWorker = (): Worker => new Worker(new URL('./find.worker.ts', import.meta.url), { type: 'module' });

export const finding = desk<FindQuestion, Answer, Progress>(findWorker, {
  what: 'The search for places stopped by itself',
  advice: 'Start it again.',
});

/** Answers what a wish would come to, beside a search that goes on. */
export const wishing = desk<FindQuestion, Answer, Progress>(findWorker, {
  what: 'What the wish comes to was not found',
  advice: 'Move the slider again.',
});

export const mapping = desk<MapQuestion, WorksMap, MapSoFar>(
  () => new Worker(new URL('./map.worker.ts', import.meta.url), { type: 'module' }),
  { what: 'The works map stopped by itself', advice: 'Switch it off and on again.' },
);

export const proving = desk<ProveQuestion, ProveAnswer>(
  () => new Worker(new URL('./prove.worker.ts', import.meta.url), { type: 'module' }),
  { what: 'The proof stopped by itself', advice: 'Leave this stage and come back.' },
);

export const relating = desk<RelationQuestion, RelationAnswer>(
  () => new Worker(new URL('./relation.worker.ts', import.meta.url), { type: 'module' }),
  { what: 'The check of what must hold stopped by itself', advice: 'Nothing was changed; try again.' },
);

export const starting = desk<LidSizes, Job>(
  () => new Worker(new URL('./start.worker.ts', import.meta.url), { type: 'module' }),
  { what: 'The job was not made: its making stopped by itself', advice: 'Press the button again.' },
);

export const studying = desk<Job, HowExact, HowExact>(
  () => new Worker(new URL('./study.worker.ts', import.meta.url), { type: 'module' }),
  { what: 'The study stopped by itself', advice: 'Start it again.' },
);

export const surveying = desk<Job, SurveyAnswer>(
  () => new Worker(new URL('./survey.worker.ts', import.meta.url), { type: 'module' }),
  {
    what: 'the adjustment stopped by itself',
    advice: 'Change a reading to start it again; if it stops again, switch the last one off.',
  },
);

/** Tables are read here; what is asked says which answer comes. */
export const tabling = desk<ListQuestion | ReadingsQuestion, ListAnswer | ReadingsAnswer>(
  () => new Worker(new URL('./table.worker.ts', import.meta.url), { type: 'module' }),
  { what: 'The reading of the table stopped by itself', advice: 'Choose it again.' },
);

export const warping = desk<WarpQuestion<ImageBitmap>, WarpAnswer<ImageBitmap>>(
  () => new Worker(new URL('./warp.worker.ts', import.meta.url), { type: 'module' }),
  { what: 'The flat picture stopped by itself', advice: 'Zoom a little, and it is made again.' },
  true,
);
